/**
 * What the workshop held at the end of a day, from the ledgers alone: the rack, what was opened or poured and not yet
 * used up, makings under way, and knives started or finished. Figures of all of it together: `stockAt` of
 * `workshop/stock/at.ts`, which rounds knives as their cost sheets do.
 */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { stockOn } from './stock-value.ts';

/** Quantity and value of every item on the rack. */
export const rackAt = stockOn;

/** Knives that were in work or finished at the end of a day: begun, and neither sold, scrapped nor kept by then. */
export const knivesAt = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .select(['b.id', 'b.serial', 'b.title', 'm.name as model_name', 'b.started_on'])
      .select([
        sql<string | null>`CASE WHEN b.finished_on <= ${on} THEN b.finished_on END`.as('finished_on'),
        // Whoever it is kept for on that day: an order it is made for, else the one who holds it.
        sql<string | null>`coalesce(
          (SELECT p.name FROM order_builds o JOIN orders w ON w.id = o.order_id JOIN buyers p ON p.id = w.buyer_id
            WHERE o.build_id = b.id AND o.from_on <= ${on} AND (o.until_on IS NULL OR o.until_on > ${on})
            ORDER BY o.from_on DESC LIMIT 1),
          (SELECT p.name FROM claims c JOIN buyers p ON p.id = c.buyer_id
            WHERE c.build_id = b.id AND substr(c.from_at, 1, 10) <= ${on}
              AND substr(coalesce(c.ended_at, c.until_at), 1, 10) > ${on}
            ORDER BY c.from_at DESC LIMIT 1))`.as('held_for'),
      ])
      .where('b.started_on', '<=', on)
      .where(sql<boolean>`NOT (b.state IN ('scrapped', 'kept') AND b.ended_on <= ${on})`)
      .where(
        sql<boolean>`NOT EXISTS (SELECT 1 FROM sales s WHERE s.build_id = b.id AND s.on_date <= ${on}
          AND (s.taken_back_on IS NULL OR s.taken_back_on > ${on}))`,
      )
      .orderBy('b.number'),
  );

/** Makings under way at the end of a day, with the goods and charges in them; own labour is no part of it. */
export const makingsAt = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom('makings as k')
      .select(['k.id', 'k.number', 'k.title'])
      .select(
        sql<number>`(SELECT coalesce(-sum(m.value_micro), 0) FROM movements m
            WHERE m.making_id = k.id AND m.on_date <= ${on} AND (m.kind = 'intoMaking' OR (m.kind = 'reversal'
              AND (SELECT o.kind FROM movements o WHERE o.id = m.reverses_id) = 'intoMaking')))
          + (SELECT coalesce(sum(c.amount_micro), 0) FROM making_charges c
            WHERE c.making_id = k.id AND c.on_date <= ${on})`.as('value_micro'),
      )
      .where('k.started_on', '<=', on)
      .where(sql<boolean>`(k.ended_on IS NULL OR k.ended_on > ${on})`)
      .orderBy('k.number'),
  );

/**
 * What was opened by a day, is not worn out on it and had not been shared over knives: it left the rack and waits.
 * What is shared rests in the knives.
 */
export const openedAt = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom('openings as o')
      .innerJoin('items as i', 'i.id', 'o.item_id')
      .innerJoin('movements as m', 'm.opening_id', 'o.id')
      .select(({ fn }) => [
        'o.id',
        'o.on_date',
        'i.id as item_id',
        'i.name',
        sql<number>`-${fn.sum<number>('m.value_micro')}`.as('value_micro'),
      ])
      .where('m.build_id', 'is', null)
      .where('m.on_date', '<=', on)
      .where(sql<boolean>`coalesce(o.blunt_on, o.ended_on, '9999-12-31') > ${on}`)
      .groupBy('o.id')
      .having(({ fn }) => fn.sum<number>('m.value_micro'), '!=', 0)
      .orderBy('i.name')
      .orderBy('o.on_date'),
  );

/** Oil in the quench tanks at the end of a day. */
export const bathsAt = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom('bath_events as e')
      .innerJoin('baths as b', 'b.id', 'e.bath_id')
      .select(({ fn }) => [
        'b.id',
        'b.name',
        fn.sum<number>('e.qty_nl').as('qty_nl'),
        fn.sum<number>('e.value_micro').as('value_micro'),
      ])
      .where('e.on_date', '<=', on)
      .groupBy('b.id')
      .having(({ fn }) => fn.sum<number>('e.value_micro'), '!=', 0)
      .orderBy('b.name'),
  );
