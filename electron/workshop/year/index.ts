/** Use-cases of the year. */
import type { FiscalYear, yearEndpoints, YearEntries, YearFigure, YearReport } from '../../api/year.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import { daysBetween } from '../../domain/calendar.ts';
import type { Steps } from '../../domain/steps.ts';
import { journalSeq } from '../../storage/queries/year-books.ts';
import { zipTexts } from '../../storage/zip-texts.ts';
import type { Days } from '../../storage/queries/year-knives.ts';
import type { QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { Handlers } from '../handlers.ts';
import { entriesOf, sumOfEntries } from './entries.ts';
import { gapsOf } from './gaps.ts';
import { gatherYear } from './gather.ts';
import { type Pair, pairOf, reportOf } from './report.ts';
import { inSteps } from './steps.ts';
import { plainCsv, tablesOf } from './tables.ts';
import { dropRule, saveRule, yearFor, yearsOf } from './years.ts';

/** Twelve months, or 53 weeks. */
const LONGEST = 371;

function demandYear({ from, to }: Days): void {
  if (from > to) throw invalid('The year ends before it begins. Change one of its days.', 'to');
  if (daysBetween(from, to) + 1 > LONGEST)
    throw invalid(
      'A fiscal year is no longer than twelve months or 53 weeks. Choose a day nearer to the first.',
      'to',
    );
}

const within = ({ from, to }: Days): Days => ({ from, to });

function* gatherPair(ctx: QueryContext, span: Days, before: FiscalYear | null): Steps<Pair> {
  const now = yield* gatherYear(ctx.db, within(span));
  return pairOf(now, before === null ? null : yield* gatherYear(ctx.db, within(before)));
}

/** The report of a year beside the one before it. Lets other calls in while it reckons. @throws FaultError */
export async function yearReport(ctx: QueryContext, span: Days): Promise<YearReport> {
  demandYear(span);
  const today = ctx.clock.today();
  const { shop, currency, decimals } = houseOf(ctx.db);
  const all = yearsOf(ctx.db, today);
  const year = yearFor(all, span, today);
  const before = all.years.find((one) => one.to < year.from) ?? null;
  const pair = await inSteps(ctx.db, () => gatherPair(ctx, span, before));
  // Nothing came between: the last step ran over the books as they stand.
  const seq = journalSeq(ctx.db);
  const { name: workshopName, maker } = shop;
  return reportOf(
    { workshopName, maker, currency, decimals, year, before, seq, gaps: gapsOf(ctx.db, span, today) },
    pair,
  );
}

const figuresOf = (report: YearReport): readonly YearFigure[] => [
  ...[report.income, report.costs, report.overhead, report.hours, report.worked, report.cash].flatMap(
    (section) => section.figures,
  ),
  ...[...report.channels, ...report.hourWent, report.contribution, ...Object.values(report.rates)],
];

const stockWords: Readonly<Record<string, string>> = {
  raw: 'Raw, on the rack and opened',
  work: 'In work',
  finished: 'Finished, not sold',
};
const goodsWords: Readonly<Record<string, string>> = {
  bought: 'Bought',
  supplies: 'Supplies that are an expense when bought',
  sold: 'Knives sold',
  scrap: 'Scrapped',
};

/** What stands behind a key that is no figure of a section: its name, and what it comes to in the report. */
function besideFigures(report: YearReport, key: string): { readonly label: string; readonly sum?: number } {
  const line = [...report.goods.bridge, ...report.cashBridge].find((one) => one.key === key);
  if (line !== undefined) return { label: line.label, sum: line.amountMinor };
  const [family = '', name = '', when = ''] = key.split('.');
  const { goods } = report;
  if (family === 'stock') {
    const at = when === 'opening' ? report.opening : report.closing;
    const sums = new Map([
      ['raw', at.rawMinor],
      ['work', at.workMinor],
      ['finished', at.finishedMinor],
    ]);
    return { label: `${stockWords[name] ?? 'Stock'}, ${at.on}`, sum: sums.get(name) ?? 0 };
  }
  const sums = new Map([
    ['bought', goods.boughtMinor],
    ['supplies', goods.suppliesMinor],
    ['sold', goods.soldMinor],
    ['scrap', goods.scrapMinor],
  ]);
  if (family === 'goods') return { label: goodsWords[name] ?? 'Goods', sum: sums.get(name) ?? 0 };
  const row = report.tax.find((one) => one.key === key.slice(family.length + 1));
  if (row === undefined) return { label: 'Entries' };
  return family === 'taxDue'
    ? { label: `Tax due, ${row.place}`, sum: row.dueMinor }
    : { label: `Tax collected, ${row.place}`, sum: row.collectedMinor };
}

/** What stands behind one figure of the year. @throws FaultError for a figure that has nothing behind it */
async function yearEntries(ctx: QueryContext, input: Parsed<'year.entries'>): Promise<YearEntries> {
  const { key, limit, offset } = input;
  const span = within(input);
  demandYear(span);
  const facts = await inSteps(ctx.db, () => gatherYear(ctx.db, span));
  const entries = entriesOf(ctx.db, facts, key).toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  const report = reportOf(
    { ...blank(ctx), year: yearFor({ rules: [], years: [] }, span, ctx.clock.today()) },
    pairOf(facts, null),
  );
  const figure = figuresOf(report).find((one) => one.key === key);
  const { label, sum } =
    figure === undefined ? besideFigures(report, key) : { label: figure.label, sum: undefined };
  return {
    ...{ key, label, unit: figure?.unit ?? 'money' },
    sum: sum ?? sumOfEntries(entries),
    rows: entries.slice(offset, offset + limit),
    total: entries.length,
  };
}

/** Every table of the report as CSV, in one zip file. */
async function workbook(ctx: QueryContext, span: Days) {
  const report = await yearReport(ctx, within(span));
  const files = tablesOf(report).map(({ name, rows }) => ({ name: `${name}.csv`, text: plainCsv(rows) }));
  const bytes = await zipTexts(files, ctx.clock.today());
  return { name: `year-${report.year.from}-to-${report.year.to}.zip`, base64: bytes.toString('base64') };
}

const blank = (ctx: QueryContext) => {
  const { currency, decimals } = houseOf(ctx.db);
  return { workshopName: '', maker: '', currency, decimals, before: null, seq: 0, gaps: [] };
};

/** Which use-case answers which call. */
export const yearHandlers: Pick<Handlers, keyof typeof yearEndpoints> = {
  'year.years': (ctx) => yearsOf(ctx.db, ctx.clock.today()),
  'year.report': (ctx, input) => yearReport(ctx, within(input)),
  'year.entries': yearEntries,
  'year.workbook': workbook,
  'year.saveRule': { run: saveRule },
  'year.dropRule': { run: dropRule },
};
