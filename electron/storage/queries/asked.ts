/** What answers without another place are reckoned from. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { usualGone } from './promises.ts';

/** Minutes worked by month (`2025-07`) and kind: `bench`, `making`, or a kind of work on neither. */
export const minutesByMonth = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('sessions')
      .where('current', '=', 1)
      .where('cancelled', '=', 0)
      .select([
        sql<string>`substr(on_date, 1, 7)`.as('month'),
        sql<string>`case when making_id is not null then 'making' when stage_code is not null then 'bench' else work_kind end`.as(
          'kind',
        ),
        (e) => e.fn.sum<number>('minutes').as('minutes'),
      ])
      .groupBy(['month', 'kind'])
      .orderBy('month'),
  );

/** Minutes of some kinds of work on no knife, day by day. */
export const minutesOfKinds = (db: ReadDb, kinds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('sessions')
      .where('current', '=', 1)
      .where('cancelled', '=', 0)
      .where('work_kind', 'in', kinds)
      .select(['on_date', 'minutes']),
  );

/** The stage knife `b` was last worked on. */
const lastStage = sql<
  string | null
>`(select g.name from session_shares h join sessions s on s.id = h.session_id
  join stages g on g.code = s.stage_code where h.build_id = b.id and s.current = 1 and s.cancelled = 0
  order by s.on_date desc, g.position desc limit 1)`;

/** Knives scrapped in some days, with the stage they had come to and the order they were made for. */
export const lostKnives = (db: ReadDb, { from, to }: { readonly from: string; readonly to: string }) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .leftJoin('orders as o', (join) =>
        join.on(
          'o.id',
          '=',
          sql<string>`(select z.order_id from order_builds z where z.build_id = b.id order by z.rowid desc limit 1)`,
        ),
      )
      .where('b.state', '=', 'scrapped')
      .where('b.ended_on', '>=', from)
      .where('b.ended_on', '<=', to)
      .select(['b.id', 'b.serial', 'b.minutes', 'b.end_reason', 'm.name as model_name'])
      .select([sql<string>`b.ended_on`.as('ended_on'), lastStage.as('stage')])
      .select(['o.id as order_id', 'o.number as order_number'])
      .orderBy('b.ended_on', 'desc')
      .orderBy('b.number', 'desc'),
  );

/** How many knives were finished or scrapped in some days. */
export const endedBetween = (
  db: ReadDb,
  { from, to }: { readonly from: string; readonly to: string },
): number =>
  db.one(
    db.q
      .selectFrom('builds')
      .where(
        sql<boolean>`(case when state = 'scrapped' then ended_on else finished_on end) between ${from} and ${to}`,
      )
      .select((e) => e.fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** Knives made in batches and finished, with their booked and usual minutes and the size of their batch. */
export const batchKnives = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .where('b.batch', '<>', '')
      .where('b.finished_on', 'is not', null)
      .where('b.minutes', '>', 0)
      .select(['b.id', 'b.batch', 'b.minutes', 'b.model_id', 'm.family'])
      .select([
        sql<number>`(select count(*) from builds x where x.batch = b.batch and x.state <> 'planned')`.as(
          'size',
        ),
        usualGone.as('usual'),
      ])
      .orderBy('b.number'),
  );

/** Checks that tell of the heat treatment, where they failed. */
const heatFailed = sql<boolean>`exists (select 1 from checks c where c.build_id = b.id and c.verdict = 'fail'
  and c.voided_reason is null and c.measure in ('skate', 'warp', 'hardness', 'cracks', 'edgeFlex'))`;

/** Knives hardened since a day, with what the hardening stages took and whether they were lost to it. */
export const hardenedSince = (db: ReadDb, from: string, stages: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .where(
        sql<boolean>`exists (select 1 from heat_builds z join heats h on h.id = z.heat_id where z.build_id = b.id and h.on_date >= ${from})`,
      )
      .select(['b.id', 'b.cost_micro'])
      .select([
        sql<number>`(b.state = 'scrapped' and ${heatFailed})`.as('lost'),
        sql<number>`coalesce((select sum(h.minutes) from session_shares h join sessions s on s.id = h.session_id
          where h.build_id = b.id and s.current = 1 and s.cancelled = 0
          and s.stage_code in (${sql.join(stages)})), 0)`.as('minutes'),
      ]),
  );

/** Knives that are made for nobody: in work, or finished, unsold and kept for nobody. @param now UTC ISO instant */
export const freeKnives = (db: ReadDb, now: string) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .where('b.state', 'in', ['inWork', 'finished'])
      .where(
        sql<boolean>`not exists (select 1 from order_builds z join orders o on o.id = z.order_id
          where z.build_id = b.id and z.until_on is null and o.state = 'agreed')`,
      )
      .where(
        sql<boolean>`not exists (select 1 from claims c
          where c.build_id = b.id and c.ended_at is null and c.until_at > ${now})`,
      )
      .select(['b.id', 'b.serial', 'b.state', 'b.model_id'])
      .orderBy('b.state')
      .orderBy('b.number'),
  );

/** Standing sales with the model sold. */
export const boughtModels = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('sales as s')
      .innerJoin('builds as b', 'b.id', 's.build_id')
      .innerJoin('buyers as p', 'p.id', 's.buyer_id')
      .where('s.taken_back_on', 'is', null)
      .where('p.erased_on', 'is', null)
      .select(['s.buyer_id', 'p.name', 's.on_date', 's.id', 'b.model_id'])
      .orderBy('s.on_date'),
  );

/** Wishes and offers by the day they were asked. */
export const openWishes = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('orders as o')
      .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
      .leftJoin('models as m', 'm.id', 'o.model_id')
      .where('o.state', 'in', ['asked', 'offered'])
      .select(['o.id', 'o.number', 'o.wish', 'o.asked_on', 'o.model_id', 'o.buyer_id'])
      .select(['p.name as buyer_name', 'm.name as model_name'])
      .orderBy('o.place')
      .orderBy('o.number'),
  );
