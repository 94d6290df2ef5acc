/** Long reckoning in short steps, between which other calls are let in. */
import { setImmediate } from 'node:timers/promises';
import type { Steps } from '../../domain/steps.ts';
import type { ReadDb } from '../../storage/db.ts';
import { journalSeq } from '../../storage/queries/year-books.ts';

/** How often it begins again when the books changed under it, before it runs through without a pause. */
const TRIES = 3;

async function attempt<T>(db: ReadDb, make: () => Steps<T>, pauses: boolean): Promise<T | undefined> {
  const seq = journalSeq(db);
  const steps = make();
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) return step.value;
    if (!pauses) continue;
    await setImmediate();
    // What was summed before belongs to other books than what comes after.
    if (journalSeq(db) !== seq) return undefined;
  }
}

/** Runs work over something nobody writes to, so that no other call waits long. */
export async function inTurns<T>(steps: Steps<T>): Promise<T> {
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) return step.value;
    await setImmediate();
  }
}

/** Runs the work so that no other call waits long, and always over the books as they stood at one moment. */
export async function inSteps<T>(db: ReadDb, make: () => Steps<T>): Promise<T> {
  for (let tried = 0; tried < TRIES; tried += 1) {
    const done = await attempt(db, make, true);
    if (done !== undefined) return done;
  }
  const done = await attempt(db, make, false);
  if (done === undefined) throw new Error('A reckoning without pauses cannot be overtaken');
  return done;
}
