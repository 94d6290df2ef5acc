/** Turns a sheet for the preparer into finished text for the paper. */
import type { PreparerSheet, SheetView } from '../../api/preparer.ts';
import type { PaperFrame } from '../../documents/types.ts';
import type { ReportBlock, ReportPaper, ReportRow, ReportTable } from '../../documents/report-types.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMinor } from '../../domain/money.ts';
import type { SheetLine } from '../../domain/preparer.ts';
import type { SheetPart } from '../../domain/preparer-forms.ts';
import { decimalText, trimZeros } from '../../domain/rational.ts';
import { dateIn, percentIn } from '../paper-words/index.ts';

const LANGUAGE = 'en';
const on = (iso: string): string => dateIn(LANGUAGE, iso);
/** A sentence with its days as a reader writes them. */
const daysIn = (text: string): string => text.replace(/\b\d{4}-\d{2}-\d{2}\b/g, on);

const row = (cells: readonly string[], detail = '', sum = false): ReportRow => ({
  cells,
  detail,
  sum,
  strong: false,
});

const table = (
  heading: string,
  intro: string,
  heads: readonly string[],
  rows: readonly ReportRow[],
  texts: readonly number[] = [],
): ReportTable => ({ kind: 'table', heading, intro, heads, texts, rows });

const partWords: Readonly<Record<SheetPart, string>> = {
  income: 'Income',
  goods: 'Cost of goods',
  expenses: 'Expenses',
};
const viewWords: Readonly<Record<SheetView, string>> = {
  cash: 'by the day paid',
  earned: 'by the day earned',
};

/** Adds up the last columns where there are several rows. */
const withSum = (rows: readonly ReportRow[], cells: readonly string[]): readonly ReportRow[] =>
  rows.length < 2 ? rows : [...rows, row(cells, '', true)];

interface Writer {
  readonly money: (minor: number) => string;
}

/** What stands on a line, in one sentence of its own. */
function made(line: SheetLine, view: SheetView, { money }: Writer): string {
  const parts = line.from
    .map((from) => ({ label: from.label, minor: view === 'cash' ? from.cashMinor : from.earnedMinor }))
    .filter((part) => part.minor !== 0);
  const share = line.sharePpm === 1_000_000 ? '' : `${percentIn(LANGUAGE, line.sharePpm)} of `;
  const [only] = parts;
  if (parts.length === 0) return '';
  if (parts.length === 1 && share === '') return only?.label ?? '';
  return `${share}${parts.map((part) => `${part.label} ${money(part.minor)}`).join('; ')}`;
}

const lineRows = (sheet: PreparerSheet, part: SheetPart, writer: Writer): readonly ReportRow[] =>
  sheet.lines
    .filter((line) => line.part === part && (line.reckoned || line.cashMinor !== 0 || line.earnedMinor !== 0))
    .map((line) =>
      row(
        [line.code, line.label, writer.money(line.cashMinor), writer.money(line.earnedMinor)],
        '',
        line.reckoned,
      ),
    );

/** Lines of one part, what stands on each said under it. */
function partTable(sheet: PreparerSheet, part: SheetPart, writer: Writer): ReportTable {
  const own = new Map(sheet.lines.map((line) => [line.code, line]));
  const rows = lineRows(sheet, part, writer).map((each): ReportRow => {
    const line = own.get(each.cells[0] ?? '');
    const detail = line === undefined || line.reckoned ? '' : made(line, sheet.answers.view, writer);
    // The words come first, so that what stands on the line can be said under them.
    const [code = '', label = '', ...figures] = each.cells;
    return { ...each, cells: [`${code}  ${label}`, ...figures], detail };
  });
  return table(partWords[part], '', ['Line', 'By day paid', 'By day earned'], rows);
}

function tieWords({ opening, answers }: PreparerSheet, { money }: Writer): string {
  const { state, lastMinor, differenceMinor } = opening;
  if (state === 'unknown') return 'Nobody said what closing stock last year’s form had.';
  if (state === 'tied') return `Opening stock is last year’s closing stock, ${money(lastMinor ?? 0)}.`;
  const differs = `Opening stock differs from last year’s closing stock of ${money(lastMinor ?? 0)} by ${money(differenceMinor ?? 0)}.`;
  return state === 'open' ? `${differs} Nobody said why.` : `${differs} ${answers.openingNote}`;
}

const valuedWords = {
  cost: 'Closing stock is valued at cost.',
  lower: 'Closing stock is valued at the lower of cost and market.',
  other: 'Closing stock is valued another way.',
  '': 'How closing stock is valued was not said.',
} as const;

function goodsText(sheet: PreparerSheet, writer: Writer): ReportBlock {
  const changed = sheet.answers.methodChanged
    ? 'The way of valuing changed in this year.'
    : 'The way of valuing did not change in this year.';
  return {
    kind: 'text',
    heading: 'About the stock',
    paragraphs: [`${valuedWords[sheet.answers.valuedAt]} ${changed}`, tieWords(sheet, writer)],
  };
}

function materialTable({ materials, goods }: PreparerSheet, { money }: Writer): ReportTable {
  return table(
    'Three figures of material',
    'Advisers differ on which may be deducted, and when. Ask your preparer.',
    ['', 'Amount'],
    [
      row(['Bought in the year', money(materials.boughtMinor)], 'supplies and shared freight in it'),
      row(['Used in knives in the year', money(materials.usedMinor)], 'sold or not'),
      row(['In the knives sold', money(materials.soldMinor)]),
      row(
        ['Cost of goods by count', money(goods.byCountMinor)],
        'opening and bought less own use and closing',
      ),
    ],
  );
}

const share = (ppm: number): string => percentIn(LANGUAGE, ppm);

function taxTable({ tax: all }: PreparerSheet, { money }: Writer): ReportTable {
  return table(
    'Sales tax by place and quarter',
    'In none of the figures above.',
    ['Quarter', 'Place', 'Rate', 'On', 'Became due', 'Collected'],
    withSum(
      all.map((tax) =>
        row([
          `${on(tax.from)} to ${on(tax.to)}`,
          tax.place,
          share(tax.ratePpm),
          ...[tax.baseMinor, tax.dueMinor, tax.collectedMinor].map(money),
        ]),
      ),
      [
        'All',
        '',
        '',
        money(sumOf(all, (tax) => tax.baseMinor)),
        money(sumOf(all, (tax) => tax.dueMinor)),
        money(sumOf(all, (tax) => tax.collectedMinor)),
      ],
    ),
    [1],
  );
}

function heldTable(sheet: PreparerSheet, { money }: Writer): ReportTable {
  return table(
    `Customers’ money on ${on(sheet.to)}`,
    'Deposits of orders that are neither delivered nor ended.',
    ['Order', 'Buyer', 'Held'],
    withSum(
      sheet.held.map((held) => row([held.tag, held.buyerName, money(held.minor)])),
      ['All', '', money(sumOf(sheet.held, (held) => held.minor))],
    ),
    [1],
  );
}

function assetTable(sheet: PreparerSheet, { money }: Writer): ReportTable {
  return table(
    'Assets',
    '',
    ['Asset', 'In service', 'Cost', 'Share', 'Before', 'This year', 'Left'],
    sheet.assets.map((asset) =>
      row(
        [
          asset.name,
          on(asset.inServiceOn),
          money(asset.costMinor),
          share(asset.sharePpm),
          ...[asset.beforeMinor, asset.yearMinor, asset.leftMinor].map(money),
        ],
        asset.disposedOn === null
          ? asset.method
          : `${asset.method}; gone on ${on(asset.disposedOn)} for ${money(asset.proceedsMinor)}`,
      ),
    ),
  );
}

function tripTable(sheet: PreparerSheet, { money }: Writer): ReportTable {
  return table(
    'Mileage',
    '',
    ['', 'Distance', 'Amount'],
    sheet.trips.map((trips) =>
      row([
        trips.trips === 1 ? 'One trip' : `${String(trips.trips)} trips`,
        `${trimZeros(decimalText(trips.distanceMilli, 3))} ${trips.unit}`,
        money(trips.amountMinor),
      ]),
    ),
  );
}

function offTable(sheet: PreparerSheet, { money }: Writer): ReportTable {
  return table(
    'On no line',
    'These figures stand on no line of the form.',
    ['', 'By day paid', 'By day earned'],
    [...sheet.unplaced, ...sheet.leftOff].map((from) =>
      row([from.label, money(from.cashMinor), money(from.earnedMinor)]),
    ),
  );
}

const lists = (sheet: PreparerSheet, writer: Writer): readonly ReportTable[] =>
  [taxTable, heldTable, assetTable, tripTable, offTable]
    .map((listed) => listed(sheet, writer))
    .filter((each) => each.rows.length > 0);

/** The sheet as a paper. @param frame size, language and look of the paper */
export function preparerPaper(sheet: PreparerSheet, frame: PaperFrame): ReportPaper {
  const writer: Writer = { money: (minor) => formatMinor(minor, sheet.currency) };
  const missing: readonly ReportBlock[] =
    sheet.gaps.length === 0
      ? []
      : [{ kind: 'text', heading: 'What is missing', paragraphs: sheet.gaps.map((gap) => daysIn(gap.text)) }];
  const note: readonly ReportBlock[] =
    sheet.answers.note === '' ? [] : [{ kind: 'text', heading: 'Remarks', paragraphs: [sheet.answers.note] }];
  return {
    ...frame,
    title: 'Sheet for the preparer',
    mark:
      sheet.from.slice(0, 4) === sheet.to.slice(0, 4)
        ? sheet.to.slice(0, 4)
        : `${sheet.from.slice(0, 4)}/${sheet.to.slice(2, 4)}`,
    facts: [
      { label: 'First day', text: on(sheet.from) },
      { label: 'Last day', text: on(sheet.to) },
      { label: 'Kept', text: viewWords[sheet.answers.view] },
      { label: 'Currency', text: sheet.currency },
    ],
    name: sheet.form.name,
    sentence: `${sheet.form.note} This sheet prepares figures; it decides no treatment.`,
    figures: [],
    cover: null,
    blocks: [
      partTable(sheet, 'income', writer),
      partTable(sheet, 'expenses', writer),
      partTable(sheet, 'goods', writer),
      goodsText(sheet, writer),
      materialTable(sheet, writer),
      ...lists(sheet, writer),
      ...missing,
      ...note,
      { kind: 'text', heading: 'What these figures take for granted', paragraphs: sheet.notes },
    ],
  };
}
