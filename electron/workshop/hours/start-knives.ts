/** A planned knife is in work from the moment its clock starts; thrown away at once, it is planned again. */
import type { WriteDb } from '../../storage/db.ts';
import type { KnifeRecord } from '../../storage/queries/hours.ts';
import { startedByClock, takeStartBack } from '../../storage/queries/started.ts';
import { touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';

/** Where the clock of a knife began; the note is how a start is found again that was never meant. */
const startNote = (stageName: string): string => `Started with the clock: ${stageName}.`;

function addNote(db: WriteDb, id: string, buildId: string, at: string, text: string): void {
  db.run(db.q.insertInto('build_notes').values({ id, build_id: buildId, at, text }));
}

/** Starts the planned ones of these knives, with a note that says so. @param at instant the clock started */
export function startKnives(
  ctx: CommandContext,
  knives: readonly KnifeRecord[],
  at: string,
  stageName: string,
): void {
  for (const knife of knives) {
    if (knife.state !== 'planned') continue;
    touchBuild(ctx.db, knife.id, ctx.clock.localDay(at));
    addNote(ctx.db, ctx.newId(), knife.id, at, startNote(stageName));
  }
}

/** Makes those knives planned again that this clock had started and that nothing went into since. */
export function unstartKnives(
  ctx: CommandContext,
  shares: readonly { readonly id: string }[],
  at: string,
): void {
  for (const { id } of shares) {
    const noteId = startedByClock(ctx.db, id, at, startNote('').slice(0, -1));
    if (noteId !== undefined) takeStartBack(ctx.db, id, noteId);
  }
}
