/** Use-cases: the sheet to count on, and what a stocktake came to, as PDF. */
import type { Stocktake, StocktakeKnife, StocktakeLine } from '../../api/stocktakes.ts';
import type { StocktakePaper } from '../../documents/types.ts';
import { groupBy } from '../../domain/groups.ts';
import { plural } from '../../domain/quantity.ts';
import { decimalText } from '../../domain/rational.ts';
import { isUnitCode, unitOf } from '../../domain/units.ts';
import { microToMinor } from '../../domain/money.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { dateIn, knownLanguage, moneyIn, numberIn, type PaperWords, wordsFor } from '../paper-words/index.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { describer } from '../stock/views.ts';
import { readStocktake } from './read.ts';

type Section = StocktakePaper['sections'][number];
type Row = Section['rows'][number];

/** Whose words and figures a paper is written in. */
interface Telling {
  readonly language: string;
  readonly words: PaperWords['stocktake'];
  readonly currency: string;
  readonly money: (micro: number) => string;
  readonly qty: (line: StocktakeLine, qty: number) => string;
}

function tellingOf(ctx: QueryContext): Telling {
  const { shop, currency, decimals } = houseOf(ctx.db);
  const language = knownLanguage(shop.language);
  const decimalsIn = (text: string): string =>
    text.replace(/\d+\.\d+/g, (number) => numberIn(language, number));
  return {
    ...{ language, currency, words: wordsFor(language).stocktake },
    money: (micro) =>
      `${micro < 0 ? '−' : ''}${moneyIn(language, Math.abs(microToMinor(micro, decimals)), currency)}`,
    qty: (line, qty) =>
      decimalsIn(describer({ form: line.form, unit: line.unit, piece_word: line.pieceWord })(qty)).replace(
        /^-/,
        '−',
      ),
  };
}

/** Tags of the lots, or how many there are, heat numbers, and what is in use. */
function detailOf(line: StocktakeLine, { words }: Telling): string {
  const few = line.lots.slice(0, 4).map((lot) => lot.tag);
  const heats = [...new Set(line.lots.map((lot) => lot.heatNumber).filter((heat) => heat !== ''))];
  return [
    line.lots.length > 4 ? `${few.join(', ')} … (${line.lots.length})` : few.join(', '),
    heats.length === 0 ? '' : `${words.heat} ${heats.join(', ')}`,
    line.opened.length === 0 ? '' : `${words.opened}: ${line.opened.length}`,
    line.dull === 0 ? '' : `${words.dull}: ${line.dull}`,
  ]
    .filter((part) => part !== '')
    .join('; ');
}

const placed = (
  sheet: readonly StocktakeLine[],
  { words }: Telling,
): readonly { readonly heading: string; readonly lines: readonly StocktakeLine[] }[] =>
  [...groupBy(sheet, (line) => line.place)].map(([place, lines]) => ({
    heading: place === '' ? words.noPlace : place,
    lines,
  }));

const lineName = (line: StocktakeLine): string => `${line.number}  ${line.itemName}`;

const headOf = (stocktake: Stocktake, { words, language, currency }: Telling): StocktakePaper['facts'] => [
  { label: words.facts.day, text: dateIn(language, stocktake.on) },
  { label: words.facts.lines, text: decimalText(stocktake.lines, 0) },
  ...(stocktake.endedAt === null
    ? []
    : [{ label: words.facts.ended, text: dateIn(language, stocktake.endedAt.slice(0, 10)) }]),
  { label: words.facts.amounts, text: currency },
  {
    label: words.facts.places,
    text:
      stocktake.places.length === 0
        ? words.facts.whole
        : stocktake.places.map((place) => (place === '' ? words.noPlace : place)).join(', '),
  },
];

/** Stands at the end of the empty field, so that nobody counts in another unit. */
function unitOfLine(line: StocktakeLine, { currency }: Telling): string {
  if (line.form === 'worth') return currency;
  if (line.form === 'piece' || line.form === 'pair') return plural(line.pieceWord || line.form);
  return isUnitCode(line.unit) ? unitOf(line.unit).symbol : line.unit;
}

function countSections(stocktake: Stocktake, telling: Telling, withBooked: boolean): Section[] {
  const { columns } = telling.words.sheet;
  const heads = [columns.what, ...(withBooked ? [columns.booked] : []), columns.counted, columns.remark];
  const toRow = (line: StocktakeLine): Row => ({
    cells: [
      lineName(line),
      ...(withBooked ? [telling.qty(line, line.bookedQty)] : []),
      unitOfLine(line, telling),
      '',
    ],
    detail: detailOf(line, telling),
    strong: false,
  });
  const finished = stocktake.knives.filter((knife) => knife.state === 'finished');
  return [
    ...placed(stocktake.sheet, telling).map(({ heading, lines }) => ({
      ...{ heading, heads, blanks: 2 },
      rows: lines.map(toRow),
    })),
    ...(finished.length === 0
      ? []
      : [
          {
            heading: telling.words.sheet.knives,
            heads: [columns.what, telling.words.sheet.seen],
            blanks: 1,
            rows: finished.map((knife) => ({
              cells: [`${knife.serial}  ${knife.name}`, ''],
              detail: '',
              strong: false,
            })),
          },
        ]),
  ];
}

/** The sheet to write on. */
export const sheetPdf: HandlerFor<'stocktake.sheetPdf'> = async (ctx, { id, withBooked }) => {
  const stocktake = readStocktake(ctx.db, id);
  const telling = tellingOf(ctx);
  const { sheet } = telling.words;
  const opened = stocktake.sheet.some((line) => line.opened.length > 0 && !line.fallsByOpening);
  const paper: StocktakePaper = {
    ...frameOf(houseOf(ctx.db), telling.language, ctx.clock.now()),
    ...{ title: sheet.title, mark: stocktake.tag, name: dateIn(telling.language, stocktake.on) },
    sentence: sheet.sentence,
    facts: headOf(stocktake, telling),
    sections: countSections(stocktake, telling, withBooked),
    remarks: opened ? [sheet.inUse] : [],
    signed: [sheet.signed.by, sheet.signed.second],
  };
  return pdfOut(`${sheet.title} ${stocktake.on}`, await ctx.renderer.stocktake(dressed(ctx, paper)));
};

const plain = (cells: readonly string[], detail = ''): Row => ({ cells, detail, strong: false });
const strong = (cells: readonly string[]): Row => ({ cells, detail: '', strong: true });

function totalSection(stocktake: Stocktake, { words, money }: Telling): Section {
  const { result } = words;
  const { totals } = stocktake;
  const difference = totals.totalMicro - stocktake.bookedMicro;
  return {
    ...{ heading: result.totals, heads: ['', ''], blanks: 0 },
    rows: [
      plain([result.materials, money(totals.materialsMicro)]),
      plain([result.supplies, money(totals.suppliesMicro)]),
      ...(totals.openedMicro === 0 ? [] : [plain([result.opened, money(totals.openedMicro)])]),
      plain([result.inWork, money(totals.inWorkMicro)]),
      plain([result.finished, money(totals.finishedMicro)]),
      strong([result.together, money(totals.totalMicro)]),
      plain([result.booked, money(stocktake.bookedMicro)]),
      plain([result.differences, money(difference)]),
    ],
  };
}

function differenceSection(stocktake: Stocktake, { words, qty, money }: Telling): Section | null {
  const { columns, differences } = words.result;
  const rows = stocktake.sheet
    .filter((line) => line.differenceQty !== 0)
    .map((line) => {
      const why = line.reason === null ? '' : words.reasons[line.reason];
      return plain(
        [
          lineName(line),
          qty(line, line.bookedQty),
          line.countedQty === null ? '' : qty(line, line.countedQty),
          `${line.differenceQty > 0 ? '+' : ''}${qty(line, line.differenceQty)}`,
          money(line.differenceMicro),
        ],
        [why, line.reasonNote].filter((part) => part !== '').join(', '),
      );
    });
  if (rows.length === 0) return null;
  const heads = [columns.what, columns.booked, columns.counted, columns.difference, columns.worth];
  return { ...{ heading: differences, heads, blanks: 0 }, rows };
}

function whereOf(knife: StocktakeKnife, words: PaperWords['stocktake']): string {
  const at =
    knife.whereabouts === 'consignment'
      ? `${words.onConsignment} ${knife.withWhom}`
      : knife.whereabouts === 'away'
        ? [words.away, knife.withWhom].filter((part) => part !== '').join(', ')
        : '';
  const kept = knife.heldFor === '' ? '' : `${words.keptFor} ${knife.heldFor}`;
  return [at, kept].filter((part) => part !== '').join('; ');
}

function knifeSections(stocktake: Stocktake, { words, money }: Telling): Section[] {
  const { result } = words;
  const section = (heading: string, knives: readonly StocktakeKnife[]): Section[] =>
    knives.length === 0
      ? []
      : [
          {
            ...{ heading, heads: [result.columns.what, result.columns.worth], blanks: 0 },
            rows: knives.map((knife) =>
              plain([`${knife.serial}  ${knife.name}`, money(knife.valueMicro)], whereOf(knife, words)),
            ),
          },
        ];
  const finished = stocktake.knives.filter((knife) => knife.state === 'finished');
  const apart = finished.filter((knife) => whereOf(knife, words) !== '');
  return [
    ...section(
      result.knivesHere,
      finished.filter((knife) => !apart.includes(knife)),
    ),
    ...section(result.knivesAway, apart),
    ...section(
      result.knivesInWork,
      stocktake.knives.filter((knife) => knife.state === 'inWork'),
    ),
    ...(stocktake.others.length === 0
      ? []
      : [
          {
            ...{ heading: result.others, heads: [result.columns.what, result.columns.worth], blanks: 0 },
            rows: stocktake.others.map((other) => plain([other.label, money(other.valueMicro)])),
          },
        ]),
  ];
}

function placeSections(stocktake: Stocktake, telling: Telling): Section[] {
  const { words, qty, money } = telling;
  const { columns, notCounted } = words.result;
  const heads = [columns.what, columns.booked, columns.counted, columns.worth];
  return placed(stocktake.sheet, telling).map(({ heading, lines }) => ({
    ...{ heading, heads, blanks: 0 },
    rows: lines.map((line) =>
      plain(
        [
          lineName(line),
          qty(line, line.bookedQty),
          line.countedQty === null ? '–' : qty(line, line.countedQty),
          money(line.bookedMicro + line.differenceMicro),
        ],
        [
          detailOf(line, telling),
          line.countedQty === null && stocktake.state === 'finished' ? notCounted : '',
        ]
          .filter((part) => part !== '')
          .join('; '),
      ),
    ),
  }));
}

/** What a stocktake came to. */
export const resultPdf: HandlerFor<'stocktake.resultPdf'> = async (ctx, { id }) => {
  const stocktake = readStocktake(ctx.db, id);
  const telling = tellingOf(ctx);
  const { result } = telling.words;
  const differences = differenceSection(stocktake, telling);
  const paper: StocktakePaper = {
    ...frameOf(houseOf(ctx.db), telling.language, ctx.clock.now()),
    ...{ title: result.title, mark: stocktake.tag, name: dateIn(telling.language, stocktake.on) },
    sentence: stocktake.state === 'finished' ? '' : result.open,
    facts: headOf(stocktake, telling),
    sections: [
      totalSection(stocktake, telling),
      ...(differences === null ? [] : [differences]),
      ...knifeSections(stocktake, telling),
      ...placeSections(stocktake, telling),
    ],
    remarks: [...(differences === null ? [result.noDifferences] : []), result.atCost, result.advice],
    signed: [],
  };
  return pdfOut(`${result.title} ${stocktake.on}`, await ctx.renderer.stocktake(dressed(ctx, paper)));
};
