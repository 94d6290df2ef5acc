/** The one running clock. It is a row in the books, so it survives a restart and a crash. */
import { refused } from '../../api/errors.ts';
import type { Clock, SessionRow, WorkKind } from '../../api/hours.ts';
import type { ReadDb } from '../../storage/db.ts';
import { clearClock, knivesById, runningClock, startClock } from '../../storage/queries/hours.ts';
import type { CommandContext } from '../context.ts';
import { type SessionEntry, writeSession } from './book.ts';
import { millisecondsBetween, minutesLater, wholeMinutes } from './instants.ts';
import { checkWork, type Work } from './work.ts';

/** Longer than this and it was more likely forgotten than worked. */
const LONGEST_HOURS = 16;
const HOUR = 3_600_000;
/** Less than this was a wrong click: nothing is booked. */
const SHORTEST = 30_000;

const doubtOf = (elapsed: number): string | null => {
  if (elapsed < 0) {
    return 'The computer’s clock was set back while this was running. Write how long you really worked when you stop it.';
  }
  if (elapsed > LONGEST_HOURS * HOUR) {
    return `The clock has been running for more than ${LONGEST_HOURS} hours; it was probably forgotten. Write how long you really worked when you stop it.`;
  }
  return null;
};

interface Running {
  readonly startedAt: string;
  readonly stageCode: string | null;
  readonly stageName: string | null;
  readonly workKind: WorkKind | null;
  readonly buildIds: readonly string[];
  readonly note: string;
}

function readClock(db: ReadDb): Running | undefined {
  const row = runningClock(db);
  return (
    row && {
      startedAt: row.started_at,
      stageCode: row.stage_code,
      stageName: row.stage_name,
      workKind: row.work_kind as WorkKind | null,
      buildIds: (JSON.parse(row.shares) as { id: string }[]).map((share) => share.id),
      note: row.note,
    }
  );
}

/** The running clock, or null. @param now UTC ISO instant */
export function clockNow(db: ReadDb, now: string): Clock | null {
  const running = readClock(db);
  if (!running) return null;
  const elapsed = millisecondsBetween(running.startedAt, now);
  const { buildIds, ...rest } = running;
  return {
    ...rest,
    builds: knivesById(db, buildIds).map(({ id, serial, title }) => ({ id, serial, title })),
    minutes: wholeMinutes(elapsed),
    doubt: doubtOf(elapsed),
  };
}

export interface StartInput extends Work {
  readonly note: string;
  readonly buildIds: readonly string[];
}

/** Starts the clock. @throws FaultError when one runs already or the work makes no sense */
export function start(ctx: CommandContext, input: StartInput): Clock {
  if (readClock(ctx.db)) {
    throw refused('The clock is running already. Switch it to the next work, or stop it first.');
  }
  checkWork(ctx.db, input, input.buildIds, 'buildIds');
  startClock(ctx.db, {
    started_at: ctx.clock.now(),
    stage_code: input.stageCode,
    work_kind: input.workKind,
    shares: JSON.stringify(input.buildIds.map((id) => ({ id, weight: 1 }))),
    note: input.note,
  });
  const clock = clockNow(ctx.db, ctx.clock.now());
  if (!clock) throw refused('The clock did not start. Try again.');
  return clock;
}

function running(db: ReadDb): Running {
  const clock = readClock(db);
  if (!clock) throw refused('No clock is running.');
  return clock;
}

function entryOf(
  ctx: CommandContext,
  clock: Running,
  minutes: number,
  note: string | undefined,
): SessionEntry {
  return {
    on: ctx.clock.localDay(clock.startedAt),
    minutes,
    stageCode: clock.stageCode,
    workKind: clock.workKind,
    note: note ?? clock.note,
    startedAt: clock.startedAt,
    endedAt: minutesLater(clock.startedAt, minutes),
    shares: clock.buildIds.map((buildId) => ({ buildId, weight: 1 })),
  };
}

/**
 * Stops the clock and books what has run.
 * @param given minutes told by the person, in place of what the clock says
 * @returns null when less than half a minute has run: nothing is booked
 * @throws FaultError when the clock is in doubt and nobody says how long it was
 */
export function stop(
  ctx: CommandContext,
  given: number | undefined,
  note: string | undefined,
): SessionRow | null {
  const clock = running(ctx.db);
  const elapsed = millisecondsBetween(clock.startedAt, ctx.clock.now());
  const doubt = doubtOf(elapsed);
  if (given === undefined && doubt !== null) throw refused(doubt, 'minutes');
  clearClock(ctx.db);
  if (given === undefined && elapsed < SHORTEST) return null;
  const entry = entryOf(ctx, clock, given ?? wholeMinutes(elapsed), note);
  return writeSession(ctx, entry, { version: 1, source: 'clock', reason: '' });
}

/** Throws the running clock away without booking anything. */
export function drop(ctx: CommandContext): null {
  running(ctx.db);
  clearClock(ctx.db);
  return null;
}
