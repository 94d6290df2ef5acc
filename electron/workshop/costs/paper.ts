/** Turns a cost sheet into finished text for the paper. */
import type { CostSheet, SheetLine, Working } from '../../api/costs.ts';
import type { CostSheetPaper } from '../../documents/types.ts';
import { minutesText } from '../../domain/durations.ts';
import { roundHalfAway } from '../../domain/integers.ts';
import { formatMicro, formatMinor } from '../../domain/money.ts';
import { percentText } from './fee-words.ts';

/** A tenth of a percent, in parts per million: finer says nothing about a margin. */
const TENTH = 1000;

/** What the paper needs beside the sheet. */
export interface PaperHouse {
  readonly name: string;
  readonly paper: string;
  /** UTC ISO instant. */
  readonly madeAt: string;
}

type Row = CostSheetPaper['sections'][number]['rows'][number];

interface Writer {
  money(minor: number): string;
  exact(micro: number): string;
}

const writerOf = (currency: string): Writer => ({
  money: (minor) => formatMinor(minor, currency),
  exact: (micro) => formatMicro(micro, currency, 6),
});

const row = (label: string, detail: string, amount: string, strong = false): Row => ({
  label,
  detail,
  amount,
  strong,
});

/** One step of working is told beside the line; several are printed after the sheet. */
const detailOf = (line: SheetLine): string => {
  const [only, ...others] = line.working;
  const how = only && others.length === 0 ? only.how : '';
  return [...new Set([how, line.note])].filter((part) => part !== '').join('; ');
};

const lineRow = (write: Writer, line: SheetLine): Row =>
  row(line.label, detailOf(line), write.money(line.amountMinor));

function costSections(sheet: CostSheet, write: Writer): CostSheetPaper['sections'] {
  const direct = row('Direct cost', '', write.money(sheet.directMinor), true);
  return [
    {
      heading: 'Materials',
      rows: [
        ...sheet.materials.map((line) => lineRow(write, line)),
        row('Materials together', '', write.money(sheet.materialsMinor), true),
      ],
    },
    {
      heading: 'Other direct cost',
      rows: [
        ...[sheet.consumables, sheet.energy, sheet.packaging].map((line) => lineRow(write, line)),
        direct,
      ],
    },
  ];
}

function saleSection(sheet: CostSheet, write: Writer): CostSheetPaper['sections'] {
  const { sale } = sheet;
  if (!sale) {
    return sheet.askedMinor === null
      ? []
      : [{ heading: 'Not sold yet', rows: [row('List price', '', write.money(sheet.askedMinor))] }];
  }
  const rows = [
    row('Price', '', write.money(sale.priceMinor)),
    row('Shipping charged', '', write.money(sale.shippingMinor)),
    row('Postage paid', sale.postage.working[0]?.how ?? '', write.money(-sale.postage.amountMinor)),
    row('Payment fee', sale.fee.working[0]?.how ?? '', write.money(-sale.fee.amountMinor)),
    row('Direct cost', '', write.money(-sheet.directMinor)),
    row('Contribution', '', write.money(sale.contributionMinor), true),
    ...(sale.contributionPerHourMinor === null
      ? []
      : [row('Contribution per hour at the bench', '', write.money(sale.contributionPerHourMinor), true)]),
    ...(sale.earnedPerHourMinor === null
      ? []
      : [
          row(
            'The hour really earned',
            'after overhead, before own taxes',
            write.money(sale.earnedPerHourMinor),
          ),
        ]),
    row('Left after own rate and overhead', '', write.money(sale.leftAtRateMinor)),
    ...(sale.marginAtRatePpm === null
      ? []
      : [row('Of price and shipping', '', percentText(roundHalfAway(sale.marginAtRatePpm, TENTH) * TENTH))]),
    ...(sale.taxMinor === 0
      ? []
      : [row('Tax collected, passed on', 'not counted above', write.money(sale.taxMinor))]),
  ];
  return [{ heading: 'Sale', rows }];
}

function hoursOf(sheet: CostSheet, write: Writer): CostSheetPaper['hours'] {
  const { madeLabour } = sheet;
  if (sheet.minutes === 0 && madeLabour.minutes === 0) return { heading: 'Hours', rows: [] };
  return {
    heading: 'Hours',
    rows: [
      ...sheet.stages.map((stage) => ({
        label: stage.name,
        time: minutesText(stage.minutes),
        amount: write.money(stage.labourMinor),
        strong: false,
      })),
      {
        label: sheet.labour.label,
        time: minutesText(sheet.minutes),
        amount: write.money(sheet.labour.amountMinor),
        strong: true,
      },
      {
        label: sheet.overhead.label,
        time: '',
        amount: write.money(sheet.overhead.amountMinor),
        strong: false,
      },
      ...(madeLabour.minutes === 0
        ? []
        : [
            {
              label: madeLabour.label,
              time: minutesText(madeLabour.minutes),
              amount: write.money(madeLabour.amountMinor),
              strong: false,
            },
          ]),
    ],
  };
}

const viewsOf = ({ views }: CostSheet, write: Writer): CostSheetPaper['views'] => [
  { label: 'Money out', meaning: 'Direct cost, postage and fee.', amount: write.money(views.moneyOutMinor) },
  {
    label: 'At the maker’s rate',
    meaning: 'Money out, own labour and overhead.',
    amount: write.money(views.atOwnRateMinor),
  },
  {
    label: 'Inventory value',
    meaning: 'Direct cost, own labour at zero.',
    amount: write.money(views.inventoryValueMinor),
  },
];

const workingPart = (
  heading: string,
  working: readonly Working[],
  write: Writer,
): CostSheetPaper['working'][number] => ({
  heading,
  rows: working.map(({ on, label, how, exactMicro }) => ({ on, label, how, exact: write.exact(exactMicro) })),
});

const workingOf = (sheet: CostSheet, write: Writer): CostSheetPaper['working'] => [
  ...sheet.materials.map((line) => workingPart(line.label, line.working, write)),
  ...[sheet.consumables, sheet.energy, sheet.packaging].map((line) =>
    workingPart(line.label, line.working, write),
  ),
  workingPart(
    'Hours',
    sheet.stages.flatMap((stage) => stage.working),
    write,
  ),
  workingPart(sheet.labour.label, sheet.labour.working, write),
  workingPart(sheet.overhead.label, sheet.overhead.working, write),
  workingPart(sheet.madeLabour.label, sheet.madeLabour.working, write),
];

/** What stands over the sheet as the knife's name. */
const knifeName = (sheet: CostSheet): string => (sheet.title === '' ? sheet.modelName : sheet.title);

/** The model's code, and its name unless the knife goes by that name itself. */
const modelWords = (sheet: CostSheet): string =>
  knifeName(sheet) === sheet.modelName ? sheet.modelCode : `${sheet.modelCode}, ${sheet.modelName}`;

const factsOf = (sheet: CostSheet): CostSheetPaper['facts'] => [
  { label: 'As of', text: sheet.asOf },
  { label: 'Model', text: modelWords(sheet) },
  { label: 'Amounts in', text: sheet.currency },
  ...(sheet.sale ? [{ label: 'Sold', text: `${sheet.sale.on}, ${sheet.sale.channelName}` }] : []),
];

/** The paper of a cost sheet. */
export function costSheetPaper(sheet: CostSheet, house: PaperHouse): CostSheetPaper {
  const write = writerOf(sheet.currency);
  return {
    size: house.paper === 'A4' ? 'A4' : 'Letter',
    language: 'en',
    madeAt: house.madeAt,
    workshopName: house.name,
    title: 'Cost sheet',
    serial: sheet.serial,
    knife: knifeName(sheet),
    facts: factsOf(sheet),
    sections: [...costSections(sheet, write), ...saleSection(sheet, write)],
    hours: hoursOf(sheet, write),
    views: viewsOf(sheet, write),
    remarks: sheet.remarks,
    working: workingOf(sheet, write).filter((part) => part.rows.length > 0),
  };
}
