/** Writing sessions: new ones, corrected versions, cancelled ones. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { SessionRow, SessionSource, WorkKind } from '../../api/hours.ts';
import { addDays } from '../../domain/calendar.ts';
import { shareMinutes } from '../../domain/clock.ts';
import { minutesText } from '../../domain/durations.ts';
import type { ReadDb, WriteDb } from '../../storage/db.ts';
import {
  addMinutes,
  clockedSessions,
  currentSession,
  insertSession,
  minutesOfDay,
  type NewSession,
  runningClock,
  type SessionRecord,
  setAside,
  sharesOf,
} from '../../storage/queries/hours.ts';
import { touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { millisecondsBetween, minutesLater } from './instants.ts';
import { needPerson } from './people.ts';
import { sessionRows } from './rows.ts';
import { checkWork, demandOpenMaking, workWords } from './work.ts';

/** Everything a session says, before it has a version. */
export interface SessionEntry {
  readonly on: string;
  readonly minutes: number;
  readonly stageCode: string | null;
  readonly workKind: WorkKind | null;
  readonly note: string;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  readonly shares: readonly { readonly buildId: string; readonly weight: number }[];
  /** Who worked; null for the maker. */
  readonly personId: string | null;
  readonly makingId: string | null;
  /** Of the minutes, those of setting up once for the batch. */
  readonly setupMinutes: number;
}

type Typed = Omit<Parsed<'hours.book'>, 'source'>;

/** Adds the end to what was typed. */
export const asEntry = (typed: Typed): SessionEntry => ({
  ...typed,
  endedAt: typed.startedAt === null ? null : minutesLater(typed.startedAt, typed.minutes),
});

const describe = (record: SessionRecord): string => {
  const what = record.stage_name ?? workWords[(record.work_kind ?? 'other') as WorkKind];
  return `${what}, ${record.minutes} min on ${record.on_date}`;
};

/** The session of the same person that runs at the same time, if one does. */
export function clashOf(db: ReadDb, entry: SessionEntry, ownRoot?: string): SessionRecord | undefined {
  const { startedAt: start, endedAt: end } = entry;
  if (start === null || end === null) return undefined;
  const others = clockedSessions(db, entry.personId, addDays(entry.on, -1), addDays(entry.on, 1));
  return others.find(
    (other) =>
      other.root_id !== ownRoot &&
      other.started_at !== null &&
      millisecondsBetween(other.started_at, end) > 0 &&
      millisecondsBetween(start, other.ended_at ?? minutesLater(other.started_at, other.minutes)) > 0,
  );
}

/** Two sessions of one person cannot run at once; two people may work side by side. */
function checkOverlap(db: ReadDb, entry: SessionEntry, ownRoot: string | undefined): void {
  const clash = clashOf(db, entry, ownRoot);
  if (clash) {
    throw refused(
      `This time runs into another session (${describe(clash)}). Change the start or the length, or correct the other one.`,
      'startedAt',
    );
  }
  const clock = runningClock(db, entry.personId ?? '');
  if (entry.endedAt !== null && clock && millisecondsBetween(clock.started_at, entry.endedAt) > 0) {
    throw refused(
      'The clock has been running since before this session ended. Stop the clock first, or change the time.',
      'startedAt',
    );
  }
}

const DAY_MINUTES = 24 * 60;
/** A minute begun counts as a minute, so a session may seem to end a little after now. */
const SLACK_MS = 60_000;

/** How long, and when: nothing in the future, nothing beyond what a day holds. */
function checkTime(
  ctx: Pick<CommandContext, 'db' | 'clock'>,
  entry: SessionEntry,
  ownRoot: string | undefined,
): void {
  if (entry.setupMinutes > entry.minutes) {
    throw invalid(
      'The set-up cannot take longer than the whole session. Change one of them.',
      'setupMinutes',
    );
  }
  if (entry.startedAt !== null && ctx.clock.localDay(entry.startedAt) !== entry.on) {
    throw invalid('The start lies on another day than the session. Change one of them.', 'startedAt');
  }
  if (entry.endedAt !== null && millisecondsBetween(ctx.clock.now(), entry.endedAt) > SLACK_MS) {
    throw invalid('This session would end in the future. Change the start or the length.', 'minutes');
  }
  const day = entry.minutes + minutesOfDay(ctx.db, entry.personId, entry.on, ownRoot);
  if (day > DAY_MINUTES) {
    throw refused(
      `That would make ${minutesText(day)} on one day for one person. Check the day and the length.`,
      'minutes',
    );
  }
}

/**
 * Checks a typed session as a whole.
 * @throws FaultError with the field that is wrong
 */
export function checkEntry(
  ctx: Pick<CommandContext, 'db' | 'clock'>,
  entry: SessionEntry,
  ownRoot?: string,
): void {
  if (entry.on > ctx.clock.today())
    throw invalid('This day is still to come. Write the day the work was done.', 'on');
  if (entry.personId !== null) needPerson(ctx.db, entry.personId);
  checkWork(
    ctx.db,
    entry,
    entry.shares.map((share) => share.buildId),
    'shares',
  );
  checkTime(ctx, entry, ownRoot);
  checkOverlap(ctx.db, entry, ownRoot);
}

interface Version {
  readonly rootId?: string;
  readonly version: number;
  readonly source: SessionSource;
  readonly reason: string;
}

/**
 * Writes one version that counts, with its shares to whole minutes, and keeps the knives' sums.
 * @returns the session's id, shared by all its versions
 */
export function addSession(ctx: CommandContext, entry: SessionEntry, about: Version): string {
  const id = ctx.newId();
  const minutes = shareMinutes(
    entry.minutes,
    entry.setupMinutes,
    entry.shares.map((share) => share.weight),
  );
  const shares = entry.shares.map((share, at) => ({
    build_id: share.buildId,
    weight: share.weight,
    minutes: minutes[at] ?? 0,
  }));
  insertSession(ctx.db, toRecord(ctx, id, entry, about), shares);
  for (const share of shares) {
    addMinutes(ctx.db, share.build_id, share.minutes);
    touchBuild(ctx.db, share.build_id, entry.on);
  }
  return about.rootId ?? id;
}

/** Writes a version and answers it as lists show it. */
export const writeSession = (ctx: CommandContext, entry: SessionEntry, about: Version): SessionRow =>
  rowOf(ctx.db, addSession(ctx, entry, about));

const toRecord = (ctx: CommandContext, id: string, entry: SessionEntry, about: Version): NewSession => ({
  id,
  root_id: about.rootId ?? id,
  version: about.version,
  current: 1,
  cancelled: 0,
  on_date: entry.on,
  started_at: entry.startedAt,
  ended_at: entry.endedAt,
  minutes: entry.minutes,
  stage_code: entry.stageCode,
  work_kind: entry.workKind,
  source: about.source,
  note: entry.note,
  reason: about.reason,
  recorded_at: ctx.clock.now(),
  person_id: entry.personId,
  making_id: entry.makingId,
  setup_minutes: entry.setupMinutes,
});

/** @throws FaultError when the session is not there */
function rowOf(db: ReadDb, rootId: string): SessionRow {
  const record = currentSession(db, rootId);
  const row = record && sessionRows(db, [record])[0];
  if (!row) throw refused('This session is not in the books.');
  return row;
}

function openVersion(db: ReadDb, rootId: string): SessionRecord {
  const record = currentSession(db, rootId);
  if (!record) throw refused('This session is not in the books. Load the list again.');
  if (record.cancelled === 1)
    throw refused('This session was cancelled already. Enter it anew if it did take place.');
  if (record.making_id !== null) demandOpenMaking(db, record.making_id);
  return record;
}

/** Takes a version out of the knives' sums and sets it aside. */
function withdraw(db: WriteDb, record: SessionRecord): void {
  for (const share of sharesOf(db, [record.id])) addMinutes(db, share.build_id, -share.minutes);
  setAside(db, record.id);
}

/** Puts a corrected version in the place of the one that counted. */
export function correctSession(ctx: CommandContext, input: Parsed<'hours.correct'>): SessionRow {
  const before = openVersion(ctx.db, input.sessionId);
  const entry = asEntry(input);
  checkEntry(ctx, entry, before.root_id);
  withdraw(ctx.db, before);
  return writeSession(ctx, entry, {
    rootId: before.root_id,
    version: before.version + 1,
    source: before.source as SessionSource,
    reason: input.reason,
  });
}

/** Ends a session with a version that says it did not take place; its shares stay readable in the history. */
export function cancelSession(ctx: CommandContext, rootId: string, reason: string): null {
  const version = openVersion(ctx.db, rootId);
  const { stage_name: _stage, person_name: _person, making_title: _making, ...before } = version;
  const shares = sharesOf(ctx.db, [before.id]).map(({ build_id, weight, minutes }) => ({
    build_id,
    weight,
    minutes,
  }));
  withdraw(ctx.db, version);
  insertSession(
    ctx.db,
    {
      ...before,
      id: ctx.newId(),
      version: before.version + 1,
      current: 1,
      cancelled: 1,
      reason,
      recorded_at: ctx.clock.now(),
    },
    shares,
  );
  return null;
}
