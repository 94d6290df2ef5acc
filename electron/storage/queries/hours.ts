/** Sessions, their shares and the running clock. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { SessionSharesTable, SessionsTable } from '../schema.ts';
import { amongIds, literalPattern } from './like.ts';

/** One version of a session with the name of its stage. */
export interface SessionRecord extends SessionsTable {
  readonly stage_name: string | null;
}

/** What one knife got of a session. */
export interface ShareRecord {
  readonly session_id: string;
  readonly build_id: string;
  readonly serial: string;
  readonly title: string;
  readonly weight: number;
  readonly minutes: number;
}

export interface SessionFilter {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly buildId?: string | undefined;
  /** Typed text to find in notes, work and knives; empty for no search. */
  readonly text?: string | undefined;
}

const sessions = (db: ReadDb) =>
  db.q
    .selectFrom('sessions as s')
    .leftJoin('stages as g', 'g.code', 's.stage_code')
    .selectAll('s')
    .select('g.name as stage_name');

function found(db: ReadDb, filter: SessionFilter) {
  let wanted = db.q
    .selectFrom('sessions as s')
    .leftJoin('stages as g', 'g.code', 's.stage_code')
    .where('s.current', '=', 1)
    .where('s.cancelled', '=', 0);
  if (filter.from !== undefined) wanted = wanted.where('s.on_date', '>=', filter.from);
  if (filter.to !== undefined) wanted = wanted.where('s.on_date', '<=', filter.to);
  if (filter.buildId !== undefined) {
    const id = filter.buildId;
    wanted = wanted.where(
      sql<boolean>`exists (select 1 from session_shares h where h.session_id = s.id and h.build_id = ${id})`,
    );
  }
  if (filter.text !== undefined && filter.text !== '') {
    const like = `%${literalPattern(filter.text)}%`;
    wanted = wanted.where(
      sql<boolean>`(s.note like ${like} escape '\\' or g.name like ${like} escape '\\' or s.stage_code like ${like} escape '\\'
        or s.work_kind like ${like} escape '\\' or exists (select 1 from session_shares h join builds b on b.id = h.build_id
          where h.session_id = s.id and (b.serial like ${like} escape '\\' or b.title like ${like} escape '\\')))`,
    );
  }
  return wanted;
}

/** Sessions that count, newest day first. */
export const listSessions = (
  db: ReadDb,
  filter: SessionFilter,
  limit: number,
  offset: number,
): SessionRecord[] =>
  db.all(
    found(db, filter)
      .selectAll('s')
      .select('g.name as stage_name')
      .orderBy('s.on_date', 'desc')
      .orderBy(sql`coalesce(s.started_at, s.recorded_at)`, 'desc')
      .orderBy('s.id', 'desc')
      .limit(limit)
      .offset(offset),
  );

/** How many sessions that count match. */
export const countSessions = (db: ReadDb, filter: SessionFilter): number =>
  db.one(found(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** The version that counts, cancelled or not. */
export const currentSession = (db: ReadDb, rootId: string): SessionRecord | undefined =>
  db.one(sessions(db).where('s.root_id', '=', rootId).where('s.current', '=', 1));

/** Every version of a session, oldest first. */
export const sessionVersions = (db: ReadDb, rootId: string): SessionRecord[] =>
  db.all(sessions(db).where('s.root_id', '=', rootId).orderBy('s.version'));

/** Clocked sessions of some days that count, for the check that none overlap. */
export const clockedSessions = (db: ReadDb, from: string, to: string): SessionRecord[] =>
  db.all(
    sessions(db)
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .where('s.on_date', '>=', from)
      .where('s.on_date', '<=', to)
      .where('s.started_at', 'is not', null),
  );

/** Shares of several versions, by serial. */
export const sharesOf = (db: ReadDb, sessionIds: readonly string[]): ShareRecord[] =>
  db.all(
    db.q
      .selectFrom('session_shares as h')
      .innerJoin('builds as b', 'b.id', 'h.build_id')
      .select(['h.session_id', 'h.build_id', 'b.serial', 'b.title', 'h.weight', 'h.minutes'])
      .where(amongIds(sql.ref('h.session_id'), sessionIds))
      .orderBy('b.number'),
  );

export interface KnifeRecord {
  readonly id: string;
  readonly serial: string;
  readonly title: string;
  readonly state: string;
}

/** Knives by id, in the order they were planned. */
export const knivesById = (db: ReadDb, ids: readonly string[]): KnifeRecord[] =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .select(['b.id', 'b.serial', 'b.title', 'b.state'])
      .where(amongIds(sql.ref('b.id'), ids))
      .orderBy('b.number'),
  );

/** Every serial with its knife: to read what a person wrote. */
export const allKnives = (db: ReadDb): KnifeRecord[] =>
  db.all(db.q.selectFrom('builds').select(['id', 'serial', 'title', 'state']).orderBy('number'));

export interface StageRecord {
  readonly code: string;
  readonly name: string;
  readonly attended: number;
  readonly archived: number;
}

/** Every stage in the order of work. */
export const listStages = (db: ReadDb): StageRecord[] =>
  db.all(
    db.q
      .selectFrom('stages')
      .select(['code', 'name', 'attended', 'archived'])
      .orderBy('position')
      .orderBy('code'),
  );

/** The clock that runs, if one does. */
export const runningClock = (db: ReadDb) =>
  db.one(
    db.q
      .selectFrom('running_clocks as c')
      .leftJoin('stages as g', 'g.code', 'c.stage_code')
      .selectAll('c')
      .select('g.name as stage_name')
      .where('c.who', '=', ''),
  );

/** Writes the clock down as running. */
export const startClock = (
  db: WriteDb,
  row: {
    started_at: string;
    stage_code: string | null;
    work_kind: string | null;
    shares: string;
    note: string;
  },
): number => db.run(db.q.insertInto('running_clocks').values({ who: '', ...row }));

/** Takes the running clock away. */
export const clearClock = (db: WriteDb): number => db.run(db.q.deleteFrom('running_clocks').where('who', '=', ''));

/** Adds a version; the one before must have been set aside first. */
export function insertSession(
  db: WriteDb,
  row: SessionsTable,
  shares: readonly Omit<SessionSharesTable, 'session_id'>[],
): void {
  db.run(db.q.insertInto('sessions').values(row));
  for (const share of shares)
    db.run(db.q.insertInto('session_shares').values({ session_id: row.id, ...share }));
}

/** The version counts no more. */
export const setAside = (db: WriteDb, id: string): number =>
  db.run(db.q.updateTable('sessions').set({ current: 0 }).where('id', '=', id));

/** Keeps the running sum of a knife's minutes. */
export const addMinutes = (db: WriteDb, buildId: string, minutes: number): number =>
  db.run(
    db.q
      .updateTable('builds')
      .set((e) => ({ minutes: e('minutes', '+', minutes) }))
      .where('id', '=', buildId),
  );

export interface MinutesByWork {
  readonly on_date: string;
  readonly stage_code: string | null;
  readonly stage_name: string | null;
  readonly work_kind: string | null;
  readonly minutes: number;
}

/** Minutes of a span by day and kind of work. */
export const minutesByWork = (db: ReadDb, from: string, to: string): MinutesByWork[] =>
  db.all(
    found(db, { from, to })
      .select(['s.on_date', 's.stage_code', 'g.name as stage_name', 's.work_kind'])
      .select((e) => e.fn.sum<number>('s.minutes').as('minutes'))
      .groupBy(['s.on_date', 's.stage_code', 'g.name', 's.work_kind'])
      .orderBy('g.position'),
  );
