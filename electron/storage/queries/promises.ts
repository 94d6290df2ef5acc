/** What promises are reckoned from: the queue, the weeks at the bench, own paces, promises kept. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { ClosedDaysTable, PromiseNotesTable } from '../schema-answers.ts';

/** @param alsoId an order that counts as agreed already; empty for none */
const agreed = (alsoId: string) => sql<boolean>`(o.state = 'agreed' or o.id = ${alsoId})`;

/** Knives that are planned or in work, with the order they are made for. */
export const openKnives = (db: ReadDb, alsoId = '') =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .leftJoin('order_builds as z', (join) =>
        join.onRef('z.build_id', '=', 'b.id').on('z.until_on', 'is', null),
      )
      .leftJoin('orders as o', (join) => join.onRef('o.id', '=', 'z.order_id').on(agreed(alsoId)))
      .leftJoin('buyers as p', 'p.id', 'o.buyer_id')
      .where('b.state', 'in', ['planned', 'inWork'])
      .select(['b.id', 'b.serial', 'b.model_id', 'm.name as model_name', 'b.started_on'])
      .select(['o.id as order_id', 'o.number as order_number', 'o.promised_on', 'p.name as buyer_name'])
      .orderBy('b.number'),
  );

/** Agreed orders no open or finished knife is made for yet. */
export const ordersWithoutKnife = (db: ReadDb, alsoId = '') =>
  db.all(
    db.q
      .selectFrom('orders as o')
      .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
      .leftJoin('models as m', 'm.id', 'o.model_id')
      .where(agreed(alsoId))
      .where(
        sql<boolean>`not exists (select 1 from order_builds z join builds b on b.id = z.build_id
          where z.order_id = o.id and z.until_on is null and b.state in ('planned', 'inWork', 'finished'))`,
      )
      .select([
        'o.id',
        'o.number',
        'o.model_id',
        'o.promised_on',
        'p.name as buyer_name',
        'm.name as model_name',
      ])
      .orderBy('o.number'),
  );

/** Bench minutes by day since a day; work on no knife is left out. */
export const benchDays = (db: ReadDb, from: string, to: string) =>
  db.all(
    db.q
      .selectFrom('sessions')
      .where('current', '=', 1)
      .where('cancelled', '=', 0)
      .where('stage_code', 'is not', null)
      .where('on_date', '>=', from)
      .where('on_date', '<=', to)
      .groupBy('on_date')
      .select(['on_date', (e) => e.fn.sum<number>('minutes').as('minutes')]),
  );

/**
 * Usual minutes of the stages knife `b` went through. A finished knife need not have each of them ticked: one that
 * minutes were booked on is behind it all the same, and would else count as time beyond all that is usual.
 */
export const usualGone = sql<number>`(select coalesce(sum(p.usual_minutes), 0) from build_stages p
  where p.build_id = b.id and (p.done_on is not null or exists (
    select 1 from session_shares h join sessions s on s.id = h.session_id where h.build_id = b.id
      and s.stage_code = p.stage_code and s.current = 1 and s.cancelled = 0)))`;

/** The last finished knives with what was booked and what was usual on the stages they went through. */
export const finishedPaces = (db: ReadDb, limit: number) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .where('b.finished_on', 'is not', null)
      .where('b.minutes', '>', 0)
      .select(['b.id', 'b.minutes'])
      .select(usualGone.as('usual'))
      .orderBy('b.finished_on', 'desc')
      .orderBy('b.number', 'desc')
      .limit(limit),
  );

/** Knives finished and orders agreed from one day to another, both counted. */
export function doneAndAgreed(
  db: ReadDb,
  from: string,
  to: string,
): { readonly finished: number; readonly agreed: number } {
  const finished = db.one(
    db.q
      .selectFrom('builds')
      .where('finished_on', '>=', from)
      .where('finished_on', '<=', to)
      .select(({ fn }) => fn.countAll<number>().as('n')),
  );
  const agreed = db.one(
    db.q
      .selectFrom('orders')
      .where('agreed_on', '>=', from)
      .where('agreed_on', '<=', to)
      .select(({ fn }) => fn.countAll<number>().as('n')),
  );
  return { finished: finished?.n ?? 0, agreed: agreed?.n ?? 0 };
}

/** Orders in a state with what was promised, what was noted first as likely, and when they were delivered. */
const promisesOfOrders = (db: ReadDb, state: 'delivered' | 'agreed') =>
  db.all(
    db.q
      .selectFrom('orders as o')
      .where('o.state', '=', state)
      .select(['o.id', 'o.ended_on'])
      .select(
        // The day agreed first: a promise moved on does not turn a late knife into one in time.
        sql<
          string | null
        >`coalesce((select c.before from order_changes c where c.order_id = o.id and c.what = 'Promised for'
          and c.before <> '' and c.seq > (select coalesce(max(a.seq), 0) from order_changes a
            where a.order_id = o.id and a.what = 'Standing' and a.after = 'agreed')
          order by c.seq limit 1), o.promised_on)`.as('promised_on'),
      )
      .select(
        sql<
          string | null
        >`(select n.likely_on from promise_notes n where n.order_id = o.id order by n.on_date, n.rowid limit 1)`.as(
          'likely_on',
        ),
      ),
  );

/** Delivered orders. */
export const deliveredPromises = (db: ReadDb) =>
  promisesOfOrders(db, 'delivered').flatMap(({ ended_on, ...row }) =>
    ended_on === null ? [] : [{ ...row, ended_on }],
  );

/** Orders that still run. */
export const runningPromises = (db: ReadDb) => promisesOfOrders(db, 'agreed');

/** What the maker wrote to reckon with. */
export const weekSetting = (db: ReadDb): number | null =>
  db.one(db.q.selectFrom('promise_settings').select('week_minutes'))?.week_minutes ?? null;

/** Writes it over. */
export function writeWeekSetting(db: WriteDb, week_minutes: number | null): void {
  db.run(db.q.deleteFrom('promise_settings'));
  db.run(db.q.insertInto('promise_settings').values({ id: 1, week_minutes }));
}

/** Days away from the bench that are not over yet. */
export const closedRows = (db: ReadDb, today: string): ClosedDaysTable[] =>
  db.all(db.q.selectFrom('closed_days').selectAll().where('until_on', '>=', today).orderBy('from_on'));

/** Adds days away. */
export const insertClosed = (db: WriteDb, row: ClosedDaysTable): number =>
  db.run(db.q.insertInto('closed_days').values(row));

/** Takes days away back. @returns how many rows went */
export const deleteClosed = (db: WriteDb, id: string): number =>
  db.run(db.q.deleteFrom('closed_days').where('id', '=', id));

/** Keeps what was named. */
export const insertPromiseNote = (db: WriteDb, row: PromiseNotesTable): number =>
  db.run(db.q.insertInto('promise_notes').values(row));

/** The first and the last day work on any knife was booked for; null before the first. */
export const workDays = (db: ReadDb): { readonly first: string | null; readonly last: string | null } =>
  db.one(
    db.q
      .selectFrom('sessions')
      .where('current', '=', 1)
      .where('cancelled', '=', 0)
      .where('stage_code', 'is not', null)
      .select(({ fn }) => [fn.min('on_date').as('first'), fn.max('on_date').as('last')]),
  ) ?? { first: null, last: null };
