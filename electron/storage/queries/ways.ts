/** What the ways on with a doubtful knife are reckoned from: own stage times, own failures, own seconds. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { DecisionsTable } from '../schema-answers.ts';
import { partTaken } from './part-taken.ts';
import { creditedOf } from './selling.ts';

/** More of the own past than this says less about the hand of today. */
const RECENT = 10;

/** Minutes the last knives of a model took on each stage they have behind them, newest first. */
export const stageHistory = (db: ReadDb, modelId: string, butBuildId: string) =>
  db.all(
    db.q
      .selectFrom((e) =>
        e
          .selectFrom('build_stages as p')
          .innerJoin('builds as b', 'b.id', 'p.build_id')
          .where('b.model_id', '=', modelId)
          .where('b.id', '<>', butBuildId)
          .where('p.done_on', 'is not', null)
          .select(['p.stage_code'])
          .select(
            sql<number>`coalesce((select sum(h.minutes) from session_shares h join sessions s on s.id = h.session_id
              where h.build_id = b.id and s.stage_code = p.stage_code and s.current = 1 and s.cancelled = 0), 0)`.as(
              'minutes',
            ),
          )
          .select(
            sql<number>`row_number() over (partition by p.stage_code order by p.done_on desc, b.number desc)`.as(
              'nth',
            ),
          )
          .as('t'),
      )
      .selectAll('t')
      .where('t.nth', '<=', RECENT)
      .where('t.minutes', '>', 0),
  );

/** How many knives were ended, well or not; and of those that did not pass a check at first, how many were finished. */
export const ownEndings = (db: ReadDb) => {
  const doubtful = sql`exists (select 1 from checks c where c.build_id = builds.id and c.verdict <> 'pass' and c.voided_reason is null)`;
  return (
    db.one(
      db.q
        .selectFrom('builds')
        .where('state', 'in', ['finished', 'sold', 'kept', 'scrapped'])
        .select([
          sql<number>`count(*)`.as('ended'),
          sql<number>`coalesce(sum(state <> 'scrapped'), 0)`.as('finished'),
          sql<number>`coalesce(sum(${doubtful}), 0)`.as('doubtful'),
          sql<number>`coalesce(sum(${doubtful} and state <> 'scrapped'), 0)`.as('saved'),
        ]),
    ) ?? { ended: 0, finished: 0, doubtful: 0, saved: 0 }
  );
};

/** What own seconds were sold for, with the list price of their model on that day. */
export const ownSeconds = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('sales as s')
      .innerJoin('builds as b', 'b.id', 's.build_id')
      .where('s.flaw', '<>', '')
      .where('s.taken_back_on', 'is', null)
      .selectAll('s')
      .select([creditedOf('net_minor').as('credited_net'), creditedOf('tax_minor').as('credited_tax')])
      .select(
        sql<
          number | null
        >`(select p.price_minor from model_prices p where p.model_id = b.model_id and p.from_date <= s.on_date
          order by p.from_date desc limit 1)`.as('list_minor'),
      ),
  );

/** The last sales that stand, newest first: what their parcels were charged and cost. */
export const lastPosted = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('sales')
      .where('taken_back_on', 'is', null)
      .selectAll()
      .orderBy('on_date', 'desc')
      .orderBy('id')
      .limit(RECENT),
  );

/** The channel most was sold through; while nothing is sold the one that keeps most, so that no price is reckoned too low. */
export const usualChannel = (db: ReadDb) =>
  db.one(
    db.q
      .selectFrom('channels as c')
      .selectAll('c')
      .select(
        sql<number>`(select count(*) from sales s where s.channel_id = c.id and s.taken_back_on is null)`.as(
          'sold',
        ),
      )
      .where('c.archived', '=', 0)
      .orderBy('sold', 'desc')
      .orderBy('c.fee_ppm', 'desc')
      .orderBy('c.name')
      .limit(1),
  );

/** Usual parts of a model with what one knife took of each. */
export const partsStillToTake = (db: ReadDb, modelId: string, buildId: string) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('model_parts as p', (join) => join.on('p.model_id', '=', modelId))
      .innerJoin('items as i', 'i.id', 'p.item_id')
      .where('b.id', '=', buildId)
      .select([
        'p.label',
        'p.item_id',
        'p.use_as',
        'p.qty',
        'p.per_bar',
        'p.stage_code',
        'i.name as item_name',
      ])
      .select(['i.form', 'i.kerf_nm', partTaken().as('taken')])
      .orderBy('p.position'),
  );
export type PartToTake = ReturnType<typeof partsStillToTake>[number];

/** Usual flat costs of a model that a knife was not charged with. */
export const flatsStillToCharge = (db: ReadDb, modelId: string, buildId: string) =>
  db.all(
    db.q
      .selectFrom('model_flats as f')
      .where('f.model_id', '=', modelId)
      .where(
        sql<boolean>`not exists (select 1 from charges c where c.build_id = ${buildId} and c.label = f.label and c.reverses_id is null
          and not exists (select 1 from charges r where r.reverses_id = c.id))`,
      )
      .selectAll('f')
      .orderBy('f.position'),
  );

/** Decisions of a knife, newest first. */
export const decisionRows = (db: ReadDb, buildId: string) =>
  db.all(db.q.selectFrom('decisions').selectAll().where('build_id', '=', buildId).orderBy('seq', 'desc'));

/** Keeps a decision. */
export const insertDecision = (db: WriteDb, row: Insertable<DecisionsTable>): number =>
  db.run(db.q.insertInto('decisions').values(row));
