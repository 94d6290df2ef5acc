/** The report as plain tables for a workbook: header row, ISO days, point decimals, minutes as they are. */
import type { YearFigure, YearGroup, YearReport, YearTable } from '../../api/year.ts';
import { guardedText } from '../../domain/csv-guard.ts';
import { decimalText } from '../../domain/rational.ts';

type Cell = string | number | null;

/** Writes a figure plainly. */
function plain(decimals: number, unit: YearFigure['unit'], value: number | null): Cell {
  if (value === null) return null;
  return unit === 'money' || unit === 'perHour' ? decimalText(value, decimals) : value;
}

const figureRows = (report: YearReport, part: string, figures: readonly YearFigure[]): Cell[][] =>
  figures.map(({ label, unit, value, before }) => [
    part,
    label,
    unit === 'perHour' ? 'money per hour' : unit,
    plain(report.decimals, unit, value),
    plain(report.decimals, unit, before),
  ]);

function groupTable(report: YearReport, heading: string, groups: readonly YearGroup[]): Cell[][] {
  const money = (minor: number | null): Cell => plain(report.decimals, 'money', minor);
  return [
    [
      ...[heading, 'knives', 'sales', 'shipping charged', 'postage', 'fees', 'direct cost', 'contribution'],
      ...['minutes', 'per hour', 'knives before', 'sales before', 'contribution before', 'minutes before'],
    ],
    ...groups.map((row) => [
      ...[row.label, row.count, money(row.salesMinor), money(row.shippingMinor), money(row.postageMinor)],
      ...[money(row.feeMinor), money(row.directMinor), money(row.contributionMinor), row.minutes],
      ...[money(row.perHourMinor), row.before?.count ?? null, money(row.before?.salesMinor ?? null)],
      ...[money(row.before?.contributionMinor ?? null), row.before?.minutes ?? null],
    ]),
  ];
}

const statement = (report: YearReport): Cell[][] => [
  ['part', 'figure', 'unit', report.year.name, report.before?.name ?? 'year before'],
  ...figureRows(report, 'income', [...report.income.figures, report.income.total]),
  ...figureRows(report, 'costs', [...report.costs.figures, report.costs.total]),
  ...figureRows(report, 'overhead', [...report.overhead.figures, report.overhead.total]),
  ...figureRows(report, 'left', [report.left, report.contribution]),
  ...figureRows(report, 'hours', [...report.hours.figures, report.hours.total]),
  ...figureRows(report, 'hours by day', [...report.worked.figures, report.worked.total]),
  ...figureRows(report, 'rates', Object.values(report.rates)),
  ...figureRows(report, 'received', [...report.cash.figures, report.cash.total]),
  ...figureRows(report, 'sales tax', [report.taxDue]),
];

function moneyTables(report: YearReport): readonly (readonly [string, Cell[][]])[] {
  const money = (minor: number): Cell => plain(report.decimals, 'money', minor);
  const { goods } = report;
  return [
    [
      'stock',
      [
        ['day', 'raw', 'in work', 'finished', 'total'],
        ...report.stock.map((at) => [
          at.on,
          ...[at.rawMinor, at.workMinor, at.finishedMinor, at.totalMinor].map(money),
        ]),
      ],
    ],
    [
      'cost-of-goods',
      [
        ['line', 'amount', 'why'],
        ['opening stock', money(goods.openingMinor), null],
        ['bought', money(goods.boughtMinor), null],
        ['supplies expensed when bought', money(goods.suppliesMinor), null],
        ['closing stock', money(goods.closingMinor), null],
        ['cost of goods by count', money(goods.byCountMinor), null],
        ['knives sold', money(goods.soldMinor), null],
        ['scrapped', money(goods.scrapMinor), null],
        ['cost of goods by use', money(goods.byUseMinor), null],
        ...goods.bridge.map((line) => [`bridge: ${line.label}`, money(line.amountMinor), line.why]),
        ['difference', money(goods.bridgeMinor), null],
      ],
    ],
    [
      'earned-to-received',
      [
        ['line', 'amount', 'why'],
        ...report.cashBridge.map((line) => [line.label, money(line.amountMinor), line.why]),
      ],
    ],
    [
      'customers-money',
      [
        ['order', 'customer', 'held'],
        ...report.held.map((row) => [row.tag, row.buyerName, money(row.minor)]),
      ],
    ],
    [
      'sales-tax',
      [
        ['place', 'tax', 'rate in percent', 'base', 'due', 'collected'],
        ...report.tax.map((row) => [
          ...[row.place, row.label, decimalText(row.ratePpm, 4)],
          ...[row.baseMinor, row.dueMinor, row.collectedMinor].map(money),
        ]),
      ],
    ],
  ];
}

function monthTable(report: YearReport): Cell[][] {
  const money = (minor: number): Cell => plain(report.decimals, 'money', minor);
  return [
    ['month', 'knives', 'income', 'costs', 'overhead', 'left', 'received', 'bench minutes', 'other minutes'],
    ...report.months.map((row) => [
      ...[row.month, row.count, money(row.incomeMinor), money(row.costsMinor), money(row.overheadMinor)],
      ...[money(row.leftMinor), money(row.receiptsMinor), row.benchMinutes, row.otherMinutes],
    ]),
  ];
}

/** Every table of the report. */
export const tablesOf = (report: YearReport): readonly YearTable[] => {
  const name = report.year.name.replaceAll(/[^\w-]+/g, '-');
  const tables: readonly (readonly [string, Cell[][]])[] = [
    ['figures', statement(report)],
    ['by-model', groupTable(report, 'model', report.models)],
    ['by-finish', groupTable(report, 'finish', report.finishes)],
    ['by-channel', groupTable(report, 'channel', report.byChannel)],
    ['by-way-of-sale', groupTable(report, 'way of sale', report.ways)],
    ['by-month', monthTable(report)],
    [
      'where-the-hour-went',
      [
        ['work', 'minutes', 'minutes before'],
        ...report.hourWent.map((row) => [row.label, row.value, row.before]),
      ],
    ],
    ...moneyTables(report),
  ];
  return tables.map(([table, rows]) => ({ name: `${name}-${table}`, rows }));
};

const quoted = (cell: Cell): string => {
  const text = cell === null ? '' : guardedText(String(cell));
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

/** RFC 4180, with a byte order mark so that a workbook reads the letters right. */
export const plainCsv = (rows: YearTable['rows']): string =>
  `\uFEFF${rows.map((row) => `${row.map(quoted).join(',')}\r\n`).join('')}`;
