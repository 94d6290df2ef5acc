/** Use-cases: close a year under a seal, look at it again, open it with a reason. */
import type { sealEndpoints, YearSeal } from '../../api/seals.ts';
import { missing, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { atOnce, type Steps } from '../../domain/steps.ts';
import { canonicalJson } from '../../storage/canonical-json.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastEntry, markPages, putReopening, putSeal, sealCount } from '../../storage/queries/seals.ts';
import { askingBooks, closedThrough, moveGuard } from '../../storage/seal/open-books.ts';
import { contentSteps, sealHash, totalSteps } from '../../storage/seal/content.ts';
import { proofSteps, type SealRow, sealRows } from '../../storage/seal/prove.ts';
import type { CommandContext, CommandHandler } from '../context.ts';
import type { HandlerFor, Handlers } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { inSteps } from '../year/steps.ts';
import { outlookSteps } from './outlook.ts';
import { toFound, toSeal } from './views.ts';

type CloseInput = Parsed<'seals.close'>;

function needSeal(db: ReadDb, id: string): SealRow {
  const row = sealRows(askingBooks(db)).find((each) => each.id === id);
  if (row === undefined) throw missing('This closed year does not exist. Reload the page.');
  return row;
}

/** What is still open and was accepted. @throws FaultError `refused` that names the first thing in the way */
function* readySteps(ctx: CommandContext, input: CloseInput): Steps<readonly string[]> {
  const outlook = yield* outlookSteps(ctx, input);
  if (outlook.whyNot !== '') throw refused(outlook.whyNot, 'to');
  const open = outlook.checks.filter((check) => !check.passed);
  const hard = open.find((check) => check.weight === 'hard');
  if (hard !== undefined) throw refused(hard.text);
  const unseen = open.find((check) => !input.accepted.includes(check.key));
  if (unseen !== undefined) throw refused(`${unseen.text} Mend it, or tick that you know.`, 'accepted');
  return open.map((check) => check.text);
}

/** Everything a seal says but when it was made, and the rows it is over. */
interface SealMade {
  readonly head: { readonly seq: number; readonly hash: string };
  readonly accepted: string;
  readonly totals: string;
  readonly rowCount: number;
  readonly rowsHash: string;
  readonly pages: readonly string[];
}

function* makingSteps(ctx: CommandContext, input: CloseInput): Steps<SealMade> {
  needWorkshop(ctx.db);
  const accepted = canonicalJson(yield* readySteps(ctx, input));
  const head = lastEntry(ctx.db);
  if (head === undefined) throw refused('There is nothing in these books to close yet.');
  const ask = askingBooks(ctx.db);
  const totals = canonicalJson(yield* totalSteps(ask, input));
  const { rows, rowsHash } = yield* contentSteps(ask, input);
  return { head, accepted, totals, rowCount: rows.length, rowsHash, pages: markPages(rows) };
}

/** Writes the seal that was made. */
function writeSeal(ctx: CommandContext, input: CloseInput, made: SealMade): YearSeal {
  const facts = {
    from: input.from,
    to: input.to,
    sealedAt: ctx.clock.now(),
    seq: made.head.seq,
    journalHash: made.head.hash,
    totals: made.totals,
    rowCount: made.rowCount,
    rowsHash: made.rowsHash,
    accepted: made.accepted,
    note: input.note,
  };
  const id = ctx.newId();
  const row = {
    id,
    number: sealCount(ctx.db) + 1,
    from_on: facts.from,
    until_on: facts.to,
    sealed_at: facts.sealedAt,
    seq: facts.seq,
    journal_hash: facts.journalHash,
    totals: facts.totals,
    row_count: facts.rowCount,
    rows_hash: facts.rowsHash,
    accepted: facts.accepted,
    note: facts.note,
    seal: sealHash(facts),
  };
  putSeal(ctx.db, row, made.pages);
  moveGuard(ctx.db);
  return toSeal(needSeal(ctx.db, id));
}

/**
 * Closes a year: everything dated up to its last day stays as it is from now on. What takes long, reading and marking every
 * row, is done in steps before the books are held; if they moved on meanwhile it is done again, then in one go.
 */
const close: CommandHandler<CloseInput, YearSeal, SealMade> = {
  prepare: (ctx, input) => inSteps(ctx.db, () => makingSteps(ctx, input)),
  run(ctx, input, prepared) {
    const stands = lastEntry(ctx.db)?.hash === prepared.head.hash;
    return writeSeal(ctx, input, stands ? prepared : atOnce(makingSteps(ctx, input)));
  },
};

/** Opens the year that was closed last; the seal and the reason stay. */
const reopen: HandlerFor<'seals.reopen'> = {
  run(ctx, { id, reason }): YearSeal {
    const row = needSeal(ctx.db, id);
    if (row.reopened_at !== null) throw refused('This year was opened again already.');
    const through = closedThrough(ctx.db);
    if (through !== undefined && row.until_on < through)
      throw refused(
        `A later year is closed, through ${through}. Open that one first: it stands on this one.`,
      );
    putReopening(ctx.db, id, ctx.clock.now(), reason);
    moveGuard(ctx.db);
    return toSeal(needSeal(ctx.db, id));
  },
};

/** Which use-case answers which call. */
export const sealHandlers: Pick<Handlers, keyof typeof sealEndpoints> = {
  'seals.list': (ctx) => ({
    seals: sealRows(askingBooks(ctx.db)).map(toSeal),
    closedThrough: closedThrough(ctx.db) ?? null,
  }),
  'seals.outlook': (ctx, span) => inSteps(ctx.db, () => outlookSteps(ctx, span)),
  'seals.prove': async (ctx, { id }) => {
    const row = needSeal(ctx.db, id);
    return toFound(await inSteps(ctx.db, () => proofSteps(askingBooks(ctx.db), row)));
  },
  'seals.close': close,
  'seals.reopen': reopen,
};
