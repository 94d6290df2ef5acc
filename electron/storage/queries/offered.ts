/** Finished knives as they were offered and sold, and what is asked for. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';

/** The standing sale of knife `b`. */
const standingSale = sql<
  string | null
>`(select s.id from sales s where s.build_id = b.id and s.taken_back_on is null
  order by s.on_date desc limit 1)`;

/** The last release knife `b` was shown in. */
const shownIn = sql<
  string | null
>`(select k.release_id from release_knives k join releases r on r.id = k.release_id
  where k.build_id = b.id and k.withdrawn_on is null and r.state not in ('draft', 'dropped')
  order by r.number desc limit 1)`;

/** Knives that were finished, with their sale, their release and whether an order took them; oldest first. */
export const offeredKnives = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .leftJoin('sales as s', (join) => join.on('s.id', '=', standingSale))
      .leftJoin('releases as r', (join) => join.on('r.id', '=', shownIn))
      .leftJoin('release_knives as k', (join) =>
        join.onRef('k.release_id', '=', 'r.id').onRef('k.build_id', '=', 'b.id'),
      )
      .where('b.finished_on', 'is not', null)
      .where('b.state', 'in', ['finished', 'sold'])
      .select(['b.id', 'b.serial', 'b.title', 'b.model_id', 'b.method', 'b.minutes', 'b.flaw', 'b.state'])
      .select([sql<string>`b.finished_on`.as('finished_on'), 'm.code', 'm.name as model_name'])
      .select(['s.id as sale_id', 's.on_date as sold_on', 's.price_minor', 's.order_id'])
      .select([
        'r.id as release_id',
        'r.number as release_number',
        'r.early_from',
        'k.price_minor as asked_minor',
      ])
      .select(
        // The moment the buyer's word came, and by which rule, where the knife was sold in its release.
        sql<string | null>`(select c.by_rule || ' ' || c.from_at from claims c where c.build_id = b.id
          and c.release_id = r.id and c.buyer_id = s.buyer_id and c.outcome = 'sold' order by c.from_at desc limit 1)`.as(
          'claimed',
        ),
      )
      .select(
        sql<number>`exists (select 1 from order_builds z join orders o on o.id = z.order_id
          where z.build_id = b.id and z.until_on is null and o.state = 'agreed')`.as('for_order'),
      )
      .select(
        // From the sale to the day it came back, for every sale that does not stand.
        sql<string>`(select coalesce(json_group_array(json_array(x.on_date, x.taken_back_on)), '[]') from sales x
          where x.build_id = b.id and x.taken_back_on is not null)`.as('away'),
      )
      .orderBy('b.finished_on')
      .orderBy('b.number'),
  );
export type OfferedRecord = ReturnType<typeof offeredKnives>[number];

/**
 * Wishes, offers and agreed orders of each model that no knife is made for, people with a quote that holds and no wish, and
 * open knives for nobody. @param today the local day
 */
export const demandByModel = (db: ReadDb, today: string) =>
  db.all(
    db.q
      .selectFrom('models as m')
      .where('m.archived', '=', 0)
      .select(['m.id', 'm.code', 'm.name', 'm.family', 'm.method'])
      .select([
        waiting(sql`o.state = 'agreed'`).as('promised'),
        waiting(sql`o.state in ('asked', 'offered')`).as('asked'),
        // Who wished for one, or was quoted twice, is one person; a quote for a wish that came to nothing is none.
        sql<number>`(select count(distinct q.buyer_id) from quotes q left join orders w on w.id = q.order_id
          where q.model_id = m.id and q.taken_on is null and q.closed_on is null and q.valid_until >= ${today}
          and (w.id is null or w.state in ('asked', 'offered'))
          and not exists (select 1 from orders o where o.model_id = m.id and o.buyer_id = q.buyer_id
            and o.state in ('asked', 'offered')))`.as('quoted'),
        sql<number>`(select count(*) from builds b where b.model_id = m.id and b.state in ('planned', 'inWork')
          and not exists (select 1 from order_builds z join orders o on o.id = z.order_id
            where z.build_id = b.id and z.until_on is null and o.state = 'agreed'))`.as('coming'),
      ])
      .orderBy('m.code'),
  );

const waiting = (state: ReturnType<typeof sql>) =>
  sql<number>`(select count(*) from orders o where o.model_id = m.id and ${state}
    and not exists (select 1 from order_builds z join builds b on b.id = z.build_id
      where z.order_id = o.id and z.until_on is null and b.state in ('planned', 'inWork', 'finished')))`;

/** Usual parts of every model that stock falls with, as one knife not yet begun takes them. */
export const partsOfModels = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('model_parts as p')
      .innerJoin('items as i', 'i.id', 'p.item_id')
      .where('p.rung', '<>', 3)
      .select(['p.model_id', 'p.label', 'p.item_id', 'p.qty', 'p.per_bar', 'p.use_as'])
      .select(['i.name as item_name', 'i.form', 'i.unit', 'i.piece_word', 'i.kerf_nm'])
      .orderBy('p.model_id')
      .orderBy('p.position'),
  );
export type ModelPart = ReturnType<typeof partsOfModels>[number];

/** What is left of each lot. */
export const lotsLeft = (db: ReadDb) =>
  db.all(db.q.selectFrom('lots').where('qty_left', '>', 0).select(['item_id', 'qty_left']).orderBy('number'));

/** Minutes of knives on stages that do not shape the knife. */
export const minutesOnStages = (db: ReadDb, codes: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('session_shares as h')
      .innerJoin('sessions as s', 's.id', 'h.session_id')
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .where('s.stage_code', 'in', codes)
      .groupBy('h.build_id')
      .select(['h.build_id', (e) => e.fn.sum<number>('h.minutes').as('minutes')]),
  );

/** Every list price there was, oldest first. */
export const allPrices = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('model_prices as p')
      .innerJoin('models as m', 'm.id', 'p.model_id')
      .select(['p.model_id', 'p.from_date', 'p.price_minor', 'm.code', 'm.name'])
      .orderBy('p.model_id')
      .orderBy('p.from_date'),
  );
