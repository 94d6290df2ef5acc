/** What is looked at before a year is closed. */
import type { SealCheck, SealOutlook } from '../../api/seals.ts';
import type { Steps } from '../../domain/steps.ts';
import { runningClocks } from '../../storage/queries/hours.ts';
import { type CountKey, countOf, lastEntry } from '../../storage/queries/seals.ts';
import { type Span, totalSteps } from '../../storage/seal/content.ts';
import { askingBooks, closedThrough } from '../../storage/seal/open-books.ts';
import { historySteps } from '../../storage/seal/prove.ts';
import type { QueryContext } from '../context.ts';
import { yearsOf } from '../year/years.ts';
import { toTotals } from './views.ts';

interface Look {
  readonly key: CountKey | 'openClock';
  readonly weight: SealCheck['weight'];
  /** What is in order. */
  readonly fine: string;
  /** What is the matter, with how many. */
  readonly matter: (n: number) => string;
  readonly href: string;
}

const some = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

const looks: readonly Look[] = [
  {
    key: 'openClock',
    weight: 'hard',
    fine: 'No clock of the year is running.',
    matter: (n) =>
      `${some(n, 'clock that was', 'clocks that were')} started in the year still ${n === 1 ? 'runs' : 'run'}. Stop or drop ${n === 1 ? 'it' : 'them'}.`,
    href: '#/hours',
  },
  {
    key: 'belowZero',
    weight: 'hard',
    fine: 'No lot stood below zero at the end of the year.',
    matter: (n) =>
      `${some(n, 'lot stands', 'lots stand')} below zero at the end of the year. Enter what came in, or count ${n === 1 ? 'it' : 'them'}.`,
    href: '#/stock',
  },
  {
    key: 'openStocktake',
    weight: 'hard',
    fine: 'No stocktake of the year is unfinished.',
    matter: (n) =>
      `${some(n, 'stocktake', 'stocktakes')} of the year ${n === 1 ? 'is' : 'are'} not finished. Finish or drop ${n === 1 ? 'it' : 'them'}.`,
    href: '#/stock/stocktake',
  },
  {
    key: 'stocktake',
    weight: 'soft',
    fine: 'A stocktake was finished for the last day of the year.',
    matter: () =>
      'There is no finished stocktake for the last day of the year; the stock is what the books say.',
    href: '#/stock/stocktake',
  },
  {
    key: 'noKnife',
    weight: 'soft',
    fine: 'All hours at a stage are on knives or makings.',
    matter: (n) =>
      `${some(n, 'entry of hours at a stage is', 'entries of hours at a stage are')} on no knife and no making.`,
    href: '#/hours',
  },
  {
    key: 'noInvoice',
    weight: 'soft',
    fine: 'Every knife sold has its invoice.',
    matter: (n) => `${some(n, 'knife was', 'knives were')} sold without an invoice.`,
    href: '#/invoices/sales',
  },
  {
    key: 'noCost',
    weight: 'soft',
    fine: 'Every knife sold carries a cost.',
    matter: (n) =>
      `${some(n, 'knife was', 'knives were')} sold that ${n === 1 ? 'carries' : 'carry'} no cost at all.`,
    href: '#/margins',
  },
  {
    key: 'noPostage',
    weight: 'soft',
    fine: 'Postage was entered for every parcel that was charged for.',
    matter: (n) => `${some(n, 'sale', 'sales')} charged shipping, and no postage was entered.`,
    href: '#/invoices/sales',
  },
  {
    key: 'unpaid',
    weight: 'soft',
    fine: 'Every invoice up to the end of the year is paid.',
    matter: (n) =>
      `${some(n, 'invoice', 'invoices')} up to the end of the year ${n === 1 ? 'is' : 'are'} not paid.`,
    href: '#/invoices',
  },
  {
    key: 'drafts',
    weight: 'soft',
    fine: 'No draft of an invoice is left over.',
    matter: (n) => `${some(n, 'draft of an invoice was', 'drafts of invoices were')} never issued.`,
    href: '#/invoices/drafts',
  },
  {
    key: 'noReceipt',
    weight: 'soft',
    fine: 'Every expense has its receipt.',
    matter: (n) => `${some(n, 'expense has', 'expenses have')} no receipt.`,
    href: '#/money/expenses',
  },
  {
    key: 'owed',
    weight: 'soft',
    fine: 'Every expense is paid.',
    matter: (n) => `${some(n, 'expense is', 'expenses are')} not marked as paid.`,
    href: '#/money/expenses',
  },
];

/** Clocks that were started by the end of the year, by the day of this place. */
const clocksOf = ({ db, clock }: QueryContext, { to }: Span): number =>
  runningClocks(db).filter((row) => clock.localDay(row.started_at) <= to).length;

function checkOf(ctx: QueryContext, look: Look, span: Span): SealCheck {
  const count = look.key === 'openClock' ? clocksOf(ctx, span) : countOf(ctx.db, look.key, span);
  const passed = count === 0;
  const { key, weight } = look;
  return {
    key,
    weight,
    passed,
    count,
    text: passed ? look.fine : look.matter(count),
    href: passed ? '' : look.href,
  };
}

/** The history must fit and lie in the past: a clock that was set back would seal a time that has not come. */
function* historyChecks(ctx: QueryContext): Steps<readonly SealCheck[]> {
  const last = lastEntry(ctx.db);
  const problem = last && (yield* historySteps(askingBooks(ctx.db), last.seq, last.hash));
  const back = last !== undefined && ctx.clock.localDay(last.at) > ctx.clock.today();
  return [
    {
      key: 'history',
      weight: 'hard',
      passed: problem === undefined,
      count: problem === undefined ? 0 : 1,
      text: problem ?? 'Every entry of the history fits the one before it.',
      href: problem === undefined ? '' : '#/workshop/copies',
    },
    {
      key: 'clock',
      weight: 'hard',
      passed: !back,
      count: back ? 1 : 0,
      text: back
        ? `This machine’s clock stands before the last entry, of ${last.at.slice(0, 10)}. Set it right first.`
        : 'This machine’s clock is not behind the last entry.',
      href: '',
    },
  ];
}

/** A year that is closed along with a later one gets no seal: nobody could show later that it is unchanged. */
function earlierChecks(ctx: QueryContext, { from }: Span): readonly SealCheck[] {
  const through = closedThrough(ctx.db);
  const open = yearsOf(ctx.db, ctx.clock.today()).years.filter(
    (year) => year.to < from && (through === undefined || year.to > through),
  );
  const names = open.map((year) => year.name).toReversed();
  return [
    {
      key: 'earlierYears',
      weight: 'soft',
      passed: open.length === 0,
      count: open.length,
      text:
        open.length === 0
          ? 'Every year before it is closed.'
          : `${names.join('; ')} ${open.length === 1 ? 'is' : 'are'} not closed, and would be shut along with this one without a seal. Close ${open.length === 1 ? 'it' : 'them'} first.`,
      href: open.length === 0 ? '' : '#/year/close',
    },
  ];
}

/** Why a year cannot be closed whatever is mended; empty when it can. */
function whyNotOf(ctx: QueryContext, { from, to }: Span): string {
  const today = ctx.clock.today();
  const year = yearsOf(ctx.db, today).years.find((each) => each.from === from && each.to === to);
  if (year === undefined) return 'These days are no fiscal year of this workshop. Choose one of the list.';
  const through = closedThrough(ctx.db);
  if (through !== undefined && to <= through) return `The books are closed through ${through} already.`;
  return to < today ? '' : `The year runs until ${to}. It can be closed from the day after.`;
}

/** Looks at everything, whatever it finds; in steps. */
export function* outlookSteps(ctx: QueryContext, span: Span): Steps<SealOutlook> {
  const checks: SealCheck[] = [];
  for (const look of looks) {
    checks.push(checkOf(ctx, look, span));
    yield;
  }
  checks.push(...earlierChecks(ctx, span), ...(yield* historyChecks(ctx)));
  const whyNot = whyNotOf(ctx, span);
  return {
    from: span.from,
    to: span.to,
    checks: checks.sort(
      (a, b) =>
        Number(a.passed) - Number(b.passed) || Number(a.weight === 'soft') - Number(b.weight === 'soft'),
    ),
    totals: toTotals(yield* totalSteps(askingBooks(ctx.db), span)),
    ready: whyNot === '' && checks.every((check) => check.passed || check.weight === 'soft'),
    whyNot,
  };
}
