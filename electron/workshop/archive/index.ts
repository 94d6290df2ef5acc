/** Use-cases: take everything out, look into an archive, bring one in. */
import type { archiveEndpoints, ArchiveHead, ArchiveWork, Archives } from '../../api/archive.ts';
import { refused } from '../../api/errors.ts';
import type { SealFound } from '../../api/seals.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { ArchiveKeeper } from '../../storage/archive/keeper.ts';
import type { ArchiveResult, ArchiveWork as Work } from '../../storage/archive/slot.ts';
import { entriesBeyondSetUp } from '../../storage/queries/workshop-empty.ts';
import type { QueryContext } from '../context.ts';
import { toFault } from '../core-faults.ts';
import type { Handlers } from '../handlers.ts';
import { readWorkshop } from '../workshop/need.ts';

const toHead = ({ head }: ArchiveResult): ArchiveHead => ({
  madeAt: head.madeAt,
  workshop: head.workshop,
  currency: head.currency,
  shape: head.shape,
  journalSeq: head.journal.seq,
  journalHash: head.journal.hash,
  tables: head.tables.length,
  rows: head.tables.reduce((sum, table) => sum + table.rows, 0),
  missing: head.missing,
});

const log = (line: string): void => {
  console.error(line);
};

const toWork = ({ error, result, ...work }: Work): ArchiveWork => ({
  ...work,
  problem: error === undefined ? '' : toFault(error, `archive.${work.what}`, log).message,
  outcome: result && {
    head: toHead(result),
    bytes: result.bytes,
    copy: result.copy,
    seals: Array.isArray(result.found) ? (result.found as readonly SealFound[]) : [],
  },
});

/** An archive may only be brought where nothing would be mixed with it. */
function whyNotBring(db: ReadDb): string | null {
  if (entriesBeyondSetUp(db) === 0) return null;
  return 'This workshop holds entries already. An archive can only be brought into an empty one: start Knifewright with another folder, and bring it in there.';
}

const stateOf = (db: ReadDb, keeper: ArchiveKeeper): Archives => {
  const work = keeper.work();
  return {
    archives: keeper.list(),
    work: work && toWork(work),
    whyNotBring: whyNotBring(db),
  };
};

const LONGEST_STEM = 60;

/** E.g. `Sedgewarren Edge Shop 2026-01-04.zip`, letters and digits of any script only. */
function nameOf(ctx: QueryContext): string {
  const shop = readWorkshop(ctx.db)?.name ?? '';
  const plain = shop
    .replaceAll(/[^\p{L}\p{N} -]+/gu, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  const stem = plain.slice(0, LONGEST_STEM).trim();
  return `${stem === '' ? 'Workshop' : stem} ${ctx.clock.today()}.zip`;
}

/** Which use-case answers which call. */
export const archiveHandlers: Pick<Handlers, keyof typeof archiveEndpoints> = {
  'archive.state': async (ctx) => stateOf(ctx.db, await ctx.house.archives()),
  'archive.take': async (ctx) => toWork((await ctx.house.archives()).take(nameOf(ctx))),
  'archive.check': async (ctx, { name }) => toWork((await ctx.house.archives()).check(name)),
  'archive.bring': async (ctx, { name }) => {
    const why = whyNotBring(ctx.db);
    if (why !== null) throw refused(why);
    return toWork((await ctx.house.archives()).bring(name));
  },
  'archive.cancel': async (ctx) => {
    const keeper = await ctx.house.archives();
    await keeper.cancel();
    return stateOf(ctx.db, keeper);
  },
  'archive.drop': async (ctx, { name }) => {
    const keeper = await ctx.house.archives();
    keeper.drop(name);
    return stateOf(ctx.db, keeper);
  },
};
