/** The running clocks, one for each person. Each is a row in the books, so it survives a restart and a crash. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { Clock, SessionRow, WorkKind } from '../../api/hours.ts';
import { doubtAbout } from '../../domain/clock.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  clearClock,
  type ClockRecord,
  endSetup,
  knivesById,
  latestSeen,
  runningClock,
  runningClocks,
  startClock,
} from '../../storage/queries/hours.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { clashOf, type SessionEntry, writeSession } from './book.ts';
import { millisecondsBetween, minutesLater, wholeMinutes } from './instants.ts';
import { demandHelper } from './people.ts';
import { startKnives, unstartKnives } from './start-knives.ts';
import { checkWork } from './work.ts';

/** Less than this was a wrong click: nothing is booked. */
const SHORTEST = 30_000;

type Moment = Pick<QueryContext, 'db' | 'clock'>;

interface Share {
  readonly id: string;
  readonly weight: number;
}
const sharesOf = (row: ClockRecord): readonly Share[] => JSON.parse(row.shares) as Share[];

/** What is wrong with a clock, and how long it has run. */
function stateOf(ctx: Moment, row: ClockRecord): { readonly elapsed: number; readonly doubt: string | null } {
  const now = ctx.clock.now();
  const elapsed = millisecondsBetween(row.started_at, now);
  const seen = latestSeen(ctx.db);
  const doubt = doubtAbout({
    elapsedMs: elapsed,
    aheadMs: seen === undefined ? 0 : millisecondsBetween(now, seen),
    sinceAnotherDay: ctx.clock.localDay(row.started_at) < ctx.clock.today(),
  });
  return { elapsed, doubt };
}

const setupOf = (row: ClockRecord, minutes: number): number =>
  row.setup_until === null
    ? 0
    : Math.min(minutes, wholeMinutes(millisecondsBetween(row.started_at, row.setup_until)));

function toClock(ctx: Moment, row: ClockRecord): Clock {
  const { elapsed, doubt } = stateOf(ctx, row);
  const minutes = wholeMinutes(elapsed);
  const shares = sharesOf(row);
  const weights = new Map(shares.map((share) => [share.id, share.weight]));
  const knives = knivesById(
    ctx.db,
    shares.map((share) => share.id),
  );
  return {
    personId: row.who === '' ? null : row.who,
    personName: row.person_name,
    makingId: row.making_id,
    makingTitle: row.making_title,
    setupMinutes: setupOf(row, minutes),
    startedAt: row.started_at,
    stageCode: row.stage_code,
    stageName: row.stage_name,
    workKind: row.work_kind as WorkKind | null,
    builds: knives.map(({ id, serial, title }) => ({ id, serial, title, weight: weights.get(id) ?? 1 })),
    note: row.note,
    minutes,
    doubt,
  };
}

/** The clock of one person, or null. @param personId null for the maker */
export function clockNow(ctx: Moment, personId: string | null): Clock | null {
  const row = runningClock(ctx.db, personId ?? '');
  return row ? toClock(ctx, row) : null;
}

/** Every running clock, the maker's first. */
export const clocksNow = (ctx: Moment): Clock[] => runningClocks(ctx.db).map((row) => toClock(ctx, row));

type StartInput = Parsed<'hours.start'>;

function sharesFor({ buildIds, weights }: StartInput): Share[] {
  if (weights !== undefined && weights.length !== buildIds.length)
    throw invalid('Give each knife a weight, or none of them.', 'weights');
  return buildIds.map((id, at) => ({ id, weight: weights?.[at] ?? 1 }));
}

/** Starts a clock. @throws FaultError when the person's runs already or the work makes no sense */
export function start(ctx: CommandContext, input: StartInput): Clock {
  const who = input.personId ?? '';
  if (runningClock(ctx.db, who)) {
    throw refused('The clock is running already. Switch it to the next work, or stop it first.');
  }
  if (input.personId !== null) demandHelper(ctx.db, input.personId);
  const knives = checkWork(ctx.db, input, input.buildIds, 'buildIds');
  const at = ctx.clock.now();
  startClock(ctx.db, {
    who,
    started_at: at,
    stage_code: input.stageCode,
    work_kind: input.workKind,
    shares: JSON.stringify(sharesFor(input)),
    making_id: input.makingId,
    setup_until: null,
    note: input.note,
  });
  const clock = clockNow(ctx, input.personId);
  if (!clock) throw refused('The clock did not start. Try again.');
  startKnives(ctx, knives, at, clock.stageName ?? '');
  return clock;
}

function running(db: ReadDb, personId: string | null): ClockRecord {
  const row = runningClock(db, personId ?? '');
  if (!row) throw refused('No clock is running.');
  return row;
}

/**
 * What a stopped clock books. Where the person says how long it was and the clock does not bear it out, the minutes
 * count and the time of day is left open: a start nobody can vouch for would only stand in the way of other sessions.
 */
function entryOf(
  ctx: CommandContext,
  row: ClockRecord,
  minutes: number,
  { note, vouched }: { readonly note: string | undefined; readonly vouched: boolean },
): SessionEntry {
  const startedOn = ctx.clock.localDay(row.started_at);
  const today = ctx.clock.today();
  const entry = {
    on: startedOn > today ? today : startedOn,
    minutes,
    stageCode: row.stage_code,
    workKind: row.work_kind as WorkKind | null,
    note: note ?? row.note,
    startedAt: row.started_at,
    endedAt: minutesLater(row.started_at, minutes),
    shares: sharesOf(row).map(({ id, weight }) => ({ buildId: id, weight })),
    personId: row.who === '' ? null : row.who,
    makingId: row.making_id,
    setupMinutes: setupOf(row, minutes),
  };
  return vouched && !clashOf(ctx.db, entry) ? entry : { ...entry, startedAt: null, endedAt: null };
}

type StopInput = Parsed<'hours.stop'>;

/**
 * Stops a clock and books what has run.
 * @returns null when less than half a minute has run: nothing is booked
 * @throws FaultError when the clock is in doubt and nobody says how long it was
 */
export function stop(ctx: CommandContext, { personId, minutes: given, note }: StopInput): SessionRow | null {
  const row = running(ctx.db, personId);
  const { elapsed, doubt } = stateOf(ctx, row);
  if (given === undefined && doubt !== null) throw refused(doubt, 'minutes');
  clearClock(ctx.db, row.who);
  if (given === undefined && elapsed < SHORTEST) {
    unstartKnives(ctx, sharesOf(row), row.started_at);
    return null;
  }
  const ran = wholeMinutes(elapsed);
  const entry = entryOf(ctx, row, given ?? ran, { note, vouched: (given ?? ran) <= ran });
  return writeSession(ctx, entry, { version: 1, source: 'clock', reason: '' });
}

/** Books what has run and starts the next work of the same person in one step. */
export const switchTo = (ctx: CommandContext, input: StartInput) => ({
  booked: stop(ctx, { personId: input.personId }),
  clock: start(ctx, input),
});

/** Throws a running clock away without booking anything. */
export function drop(ctx: CommandContext, personId: string | null): null {
  const row = running(ctx.db, personId);
  clearClock(ctx.db, row.who);
  unstartKnives(ctx, sharesOf(row), row.started_at);
  return null;
}

/** Tells the set-up apart: what has run so far is carried equally by the whole batch. */
export function setUpDone(ctx: CommandContext, personId: string | null): Clock {
  const row = running(ctx.db, personId);
  const { doubt, elapsed } = stateOf(ctx, row);
  if (doubt !== null) throw refused(doubt);
  if (elapsed < SHORTEST) throw refused('No minute has run yet, so there is no set-up to tell apart.');
  if (row.setup_until !== null) throw refused('The set-up of this session is told apart already.');
  endSetup(ctx.db, row.who, ctx.clock.now());
  const clock = clockNow(ctx, personId);
  if (!clock) throw refused('No clock is running.');
  return clock;
}
