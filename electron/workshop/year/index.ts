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
  const line = report.goods.bridge.find((one) => one.key === key);
  return {
    key,
    label: figure?.label ?? line?.label ?? 'Entries',
    unit: figure?.unit ?? 'money',
    sum: line?.amountMinor ?? sumOfEntries(entries),
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
