/** Sessions, their shares and the running clock. */
import { type Insertable, type Selectable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { RunningClocksTable } from '../schema-forge.ts';
import type { SessionSharesTable, SessionsTable } from '../schema.ts';
import { amongIds, literalPattern } from './like.ts';

/** One version of a session with the names of its stage, person and making. */
export interface SessionRecord extends Selectable<SessionsTable> {
  readonly stage_name: string | null;
  readonly person_name: string | null;
  readonly making_title: string | null;
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
    .leftJoin('people as p', 'p.id', 's.person_id')
    .leftJoin('makings as k', 'k.id', 's.making_id')
    .selectAll('s')
    .select(['g.name as stage_name', 'p.name as person_name', 'k.title as making_title']);

function found(db: ReadDb, filter: SessionFilter) {
  let wanted = db.q
    .selectFrom('sessions as s')
    .leftJoin('stages as g', 'g.code', 's.stage_code')
    .leftJoin('people as p', 'p.id', 's.person_id')
    .leftJoin('makings as k', 'k.id', 's.making_id')
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
        or s.work_kind like ${like} escape '\\' or p.name like ${like} escape '\\' or k.title like ${like} escape '\\' or exists (select 1 from session_shares h join builds b on b.id = h.build_id
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
      .select(['g.name as stage_name', 'p.name as person_name', 'k.title as making_title'])
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

/** Clocked sessions of one person on some days that count, for the check that none overlap. @param personId null for the maker */
export const clockedSessions = (
  db: ReadDb,
  personId: string | null,
  from: string,
  to: string,
): SessionRecord[] =>
  db.all(
    sessions(db)
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .where('s.on_date', '>=', from)
      .where('s.on_date', '<=', to)
      .where('s.started_at', 'is not', null)
      .where('s.person_id', 'is', personId),
  );

/** Minutes one person has booked on a day, one session left out. */
export const minutesOfDay = (
  db: ReadDb,
  personId: string | null,
  on: string,
  exceptRoot: string | undefined,
): number =>
  db.one(
    db.q
      .selectFrom('sessions')
      .select(({ fn }) => fn.coalesce(fn.sum<number>('minutes'), sql<number>`0`).as('n'))
      .where('current', '=', 1)
      .where('cancelled', '=', 0)
      .where('on_date', '=', on)
      .where('person_id', 'is', personId)
      .where('root_id', '!=', exceptRoot ?? ''),
  )?.n ?? 0;

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

const clockRows = (db: ReadDb) =>
  db.q
    .selectFrom('running_clocks as c')
    .leftJoin('stages as g', 'g.code', 'c.stage_code')
    .leftJoin('people as p', 'p.id', 'c.who')
    .leftJoin('makings as k', 'k.id', 'c.making_id')
    .selectAll('c')
    .select(['g.name as stage_name', 'p.name as person_name', 'k.title as making_title']);

/** Every clock that runs, the maker's first. */
export const runningClocks = (db: ReadDb) =>
  db.all(
    clockRows(db)
      .orderBy(sql`c.who <> ''`)
      .orderBy('p.name'),
  );
export type ClockRecord = ReturnType<typeof runningClocks>[number];

/** The clock of one person, if it runs. @param who the person's id; empty for the maker */
export const runningClock = (db: ReadDb, who: string): ClockRecord | undefined =>
  db.one(clockRows(db).where('c.who', '=', who));

/** Writes a clock down as running. */
export const startClock = (db: WriteDb, row: RunningClocksTable): number =>
  db.run(db.q.insertInto('running_clocks').values(row));

/** Notes when the set-up ended. */
export const endSetup = (db: WriteDb, who: string, at: string): number =>
  db.run(db.q.updateTable('running_clocks').set({ setup_until: at }).where('who', '=', who));

/** Takes a running clock away. */
export const clearClock = (db: WriteDb, who: string): number =>
  db.run(db.q.deleteFrom('running_clocks').where('who', '=', who));

/** The latest instant the journal has seen since a clock was last started; undefined in empty books. */
export const latestSeen = (db: ReadDb): string | undefined =>
  db.one(
    db.q
      .selectFrom('journal')
      .select(({ fn }) => fn.max<string | null>('at').as('at'))
      .where(
        'seq',
        '>=',
        sql<number>`coalesce((select seq from journal where command in ('hours.start', 'hours.switch') order by seq desc limit 1), 9e15)`,
      ),
  )?.at ?? undefined;

/** A version of a session as it is written. */
export type NewSession = Insertable<SessionsTable>;

/** Adds a version; the one before must have been set aside first. */
export function insertSession(
  db: WriteDb,
  row: NewSession,
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
  readonly person_id: string | null;
  readonly person_name: string | null;
  readonly minutes: number;
}

/** Minutes of a span by day, person and kind of work. */
export const minutesByWork = (db: ReadDb, from: string, to: string): MinutesByWork[] =>
  db.all(
    found(db, { from, to })
      .select(['s.on_date', 's.stage_code', 'g.name as stage_name', 's.work_kind'])
      .select(['s.person_id', 'p.name as person_name'])
      .select((e) => e.fn.sum<number>('s.minutes').as('minutes'))
      .groupBy(['s.on_date', 's.stage_code', 'g.name', 's.work_kind', 's.person_id', 'p.name'])
      .orderBy('g.position'),
  );

/** First and last day on which a knife has a session that counts. */
export const sessionDays = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('session_shares as h')
      .innerJoin('sessions as s', 's.id', 'h.session_id')
      .where('h.build_id', '=', buildId)
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .select((e) => [
        e.fn.min<string | null>('s.on_date').as('first'),
        e.fn.max<string | null>('s.on_date').as('last'),
      ]),
  );

/** A making as a session may name it. */
export const makingState = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('makings').select(['id', 'title', 'state']).where('id', '=', id));
