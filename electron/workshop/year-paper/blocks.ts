/** The other parts of the report on paper: months, hours, groups, stock, goods, cash, tax, what is missing. */
import type { YearGroup, YearReport } from '../../api/year.ts';
import type { ReportBlock, ReportTable, Tick } from '../../documents/report-types.ts';
import { axisMarks } from '../../domain/axis.ts';
import { sumOf } from '../../domain/integers.ts';
import { bridgeTable, columnName, sectionTable } from './figures.ts';
import { chart, row, sumRow, table, text, type Writer } from './writer.ts';

/** Marks of an axis of money, without decimals where all are whole. */
const moneyTicks = (values: readonly number[], write: Writer): readonly Tick[] => {
  const unit = 10 ** write.decimals;
  return axisMarks(values).map((at) => ({
    at,
    text: at % unit === 0 ? write.whole(at / unit) : write.money(Math.round(at)),
  }));
};

const shortMonth = (month: string): string => `${month.slice(5)}/${month.slice(2, 4)}`;

export function monthChart(report: YearReport, write: Writer): ReportBlock {
  const { parts, heads } = write.words;
  const income = report.months.map((month) => month.incomeMinor);
  const left = report.months.map((month) => month.leftMinor);
  const told = report.months
    .map((month) => `${month.month} ${write.money(month.incomeMinor)}, ${write.money(month.leftMinor)}`)
    .join('; ');
  return chart(parts.months, parts.monthsAlt(told), {
    shape: 'columns',
    labels: report.months.map((month) => shortMonth(month.month)),
    series: [
      { name: heads.income, values: income },
      { name: heads.left, values: left },
    ],
    ticks: moneyTicks([...income, ...left], write),
  });
}

export function monthTable({ months }: YearReport, write: Writer): ReportTable {
  const { parts, heads, total } = write.words;
  type Month = YearReport['months'][number];
  const sum = (of: (month: Month) => number): number => sumOf(months, of);
  return table(
    parts.monthTable,
    '',
    [
      heads.month,
      heads.sold,
      heads.income,
      heads.costs,
      heads.overhead,
      heads.left,
      heads.receipts,
      heads.bench,
      heads.other,
    ],
    [
      ...months.map((month) =>
        row([
          shortMonth(month.month),
          write.whole(month.count),
          ...[
            month.incomeMinor,
            month.costsMinor,
            month.overheadMinor,
            month.leftMinor,
            month.receiptsMinor,
          ].map(write.money),
          write.hours(month.benchMinutes),
          write.hours(month.otherMinutes),
        ]),
      ),
      sumRow([
        total,
        write.whole(sum((month) => month.count)),
        ...[
          sum((month) => month.incomeMinor),
          sum((month) => month.costsMinor),
          sum((month) => month.overheadMinor),
          sum((month) => month.leftMinor),
          sum((month) => month.receiptsMinor),
        ].map(write.money),
        write.hours(sum((month) => month.benchMinutes)),
        write.hours(sum((month) => month.otherMinutes)),
      ]),
    ],
  );
}

export function hourBlocks(report: YearReport, write: Writer): readonly ReportBlock[] {
  const { parts } = write.words;
  const went = report.hourWent
    .filter((figure) => (figure.value ?? 0) > 0)
    .map((figure) => ({
      label: write.label(figure.key, figure.label),
      value: figure.value ?? 0,
      text: write.hours(figure.value ?? 0),
    }));
  const told = went.map((bar) => `${bar.label} ${bar.text}`).join('; ');
  return [
    sectionTable(report, report.hours, { heading: parts.hours, intro: parts.hoursIntro }, write),
    ...(went.length === 0 ? [] : [chart(parts.went, parts.wentAlt(told), { shape: 'bars', bars: went })]),
    sectionTable(report, report.worked, { heading: parts.worked }, write),
  ];
}

function groupTable(
  heading: string,
  groups: readonly YearGroup[],
  report: YearReport,
  write: Writer,
): ReportTable {
  const { heads, total, noHours } = write.words;
  const perHour = (minor: number | null): string => (minor === null ? noHours : write.money(minor));
  const earlier = (minor: number | null | undefined): string => (minor == null ? '–' : write.money(minor));
  const hasBefore = report.before !== null;
  const sum = (of: (group: YearGroup) => number): number => sumOf(groups, of);
  return table(
    heading,
    '',
    [
      '',
      ...[heads.sold, heads.sales, heads.direct, heads.contribution, heads.hours, heads.perHour],
      ...(hasBefore ? [heads.perHourBefore] : []),
    ],
    [
      ...groups.map((group) =>
        row([
          write.label(group.key, group.label),
          write.whole(group.count),
          ...[group.salesMinor, group.directMinor, group.contributionMinor].map(write.money),
          write.hours(group.minutes),
          perHour(group.perHourMinor),
          ...(hasBefore ? [earlier(group.before?.perHourMinor)] : []),
        ]),
      ),
      sumRow([
        total,
        write.whole(sum((group) => group.count)),
        ...[
          sum((group) => group.salesMinor),
          sum((group) => group.directMinor),
          sum((group) => group.contributionMinor),
        ].map(write.money),
        write.hours(sum((group) => group.minutes)),
        '',
        ...(hasBefore ? [''] : []),
      ]),
    ],
  );
}

export const groupBlocks = (report: YearReport, write: Writer): readonly ReportBlock[] => {
  const { parts } = write.words;
  return (
    [
      [parts.models, report.models],
      [parts.finishes, report.finishes],
      [parts.channels, report.byChannel],
      [parts.ways, report.ways],
    ] as const
  )
    .filter(([, groups]) => groups.length > 0)
    .map(([heading, groups]) => groupTable(heading, groups, report, write));
};

export function stockBlocks(report: YearReport, write: Writer): readonly ReportBlock[] {
  const { parts, heads } = write.words;
  const { stock } = report;
  const told = stock
    .map((at) => `${at.on} ${[at.rawMinor, at.workMinor, at.finishedMinor].map(write.money).join(', ')}`)
    .join('; ');
  return [
    chart(parts.stock, parts.stockAlt(told), {
      shape: 'areas',
      labels: stock.map((at) => shortMonth(at.on.slice(0, 7))),
      series: [
        { name: heads.raw, values: stock.map((at) => at.rawMinor) },
        { name: heads.work, values: stock.map((at) => at.workMinor) },
        { name: heads.finished, values: stock.map((at) => at.finishedMinor) },
      ],
      ticks: moneyTicks(
        stock.map((at) => at.totalMinor),
        write,
      ),
    }),
    table(
      parts.stock,
      parts.stockIntro,
      [heads.day, heads.raw, heads.work, heads.finished, heads.total],
      stock.map((at) =>
        row([
          write.day(at.on),
          ...[at.rawMinor, at.workMinor, at.finishedMinor, at.totalMinor].map(write.money),
        ]),
      ),
    ),
  ];
}

export function goodsBlocks(
  { goods, goodsBefore, before, year }: YearReport,
  write: Writer,
): readonly ReportBlock[] {
  const { parts, goods: words } = write.words;
  const cells = (pick: (of: typeof goods) => number): readonly string[] =>
    goodsBefore === null
      ? [write.money(pick(goods))]
      : [write.money(pick(goods)), write.money(pick(goodsBefore))];
  return [
    table(
      parts.goods,
      parts.goodsIntro,
      ['', columnName(year), ...(goodsBefore === null || before === null ? [] : [columnName(before)])],
      [
        row([words.opening, ...cells((of) => of.openingMinor)]),
        row([words.bought, ...cells((of) => of.boughtMinor)]),
        row([words.supplies, ...cells((of) => -of.suppliesMinor)]),
        row([words.closing, ...cells((of) => -of.closingMinor)]),
        sumRow([words.byCount, ...cells((of) => of.byCountMinor)]),
        row([words.sold, ...cells((of) => of.soldMinor)]),
        row([words.scrap, ...cells((of) => of.scrapMinor)]),
        sumRow([words.byUse, ...cells((of) => of.byUseMinor)]),
        row([words.difference, ...cells((of) => of.bridgeMinor)]),
      ],
    ),
    bridgeTable(
      goods.bridge,
      { heading: parts.bridge, intro: parts.bridgeIntro, from: words.byCount, to: words.byUse },
      { fromMinor: goods.byCountMinor, toMinor: goods.byUseMinor },
      write,
    ),
  ];
}

export const cashBlocks = (report: YearReport, write: Writer): readonly ReportBlock[] => {
  const { parts, figures } = write.words;
  const { income, cash } = report;
  return [
    sectionTable(report, cash, { heading: parts.cash }, write),
    bridgeTable(
      report.cashBridge,
      {
        heading: parts.cashBridge,
        intro: '',
        from: figures['income.total'] ?? income.total.label,
        to: figures['cash.total'] ?? cash.total.label,
      },
      { fromMinor: income.total.value ?? 0, toMinor: cash.total.value ?? 0 },
      write,
    ),
  ];
};

export function listBlocks({ held, heldMinor, tax }: YearReport, write: Writer): readonly ReportBlock[] {
  const { parts, heads, total } = write.words;
  const lists = [
    table(
      parts.held,
      '',
      [heads.order, heads.buyer, heads.held],
      [
        ...held.map((one) => row([one.tag, one.buyerName, write.money(one.minor)])),
        ...(held.length < 2 ? [] : [sumRow([total, '', write.money(heldMinor)])]),
      ],
      [1],
    ),
    table(
      parts.tax,
      parts.taxIntro,
      [heads.place, heads.rate, heads.base, heads.due, heads.collected],
      tax.map((one) =>
        row([
          one.place === '' ? one.label : one.place,
          write.percent(one.ratePpm),
          ...[one.baseMinor, one.dueMinor, one.collectedMinor].map(write.money),
        ]),
      ),
    ),
  ];
  return lists.filter((list) => list.rows.length > 0);
}

export function endBlocks(report: YearReport, write: Writer): readonly ReportBlock[] {
  const { parts, notes, gaps: known } = write.words;
  const gaps = report.gaps.map(
    (gap) => known[gap.key]?.replace('{n}', write.whole(gap.count)) ?? write.daysIn(gap.text),
  );
  return [...(gaps.length === 0 ? [] : [text(parts.gaps, gaps)]), text(parts.notes, notes ?? report.notes)];
}
