/** Reading openings of consumables, what they were shared over, and what knives took of them. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds } from './like.ts';

/** A movement that neither takes another one back nor was taken back. */
const stands = sql<boolean>`m.kind <> 'reversal' AND NOT EXISTS (SELECT 1 FROM movements r WHERE r.reverses_id = m.id)`;

export interface OpeningFilter {
  readonly id?: string;
  readonly itemId?: string | undefined;
  readonly buildId?: string | undefined;
  /** None: every state but those taken back. */
  readonly states?: readonly string[];
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

function openingsMatching(db: ReadDb, filter: OpeningFilter) {
  let query = db.q
    .selectFrom('openings as o')
    .innerJoin('items as i', 'i.id', 'o.item_id')
    .leftJoin('lots as l', 'l.id', 'o.lot_id')
    .leftJoin('suppliers as s', 's.id', 'o.supplier_id')
    .leftJoin('stages as g', 'g.code', 'o.stage_code');
  const { id, itemId, buildId, states = [], from, to } = filter;
  if (id !== undefined) return query.where('o.id', '=', id);
  query =
    states.length > 0 ? query.where('o.state', 'in', states) : query.where('o.state', '<>', 'takenBack');
  if (itemId !== undefined) query = query.where('o.item_id', '=', itemId);
  if (from !== undefined) query = query.where('o.on_date', '>=', from);
  if (to !== undefined) query = query.where('o.on_date', '<=', to);
  if (buildId !== undefined) {
    query = query.where(
      sql<boolean>`EXISTS (SELECT 1 FROM opening_builds b WHERE b.opening_id = o.id AND b.build_id = ${buildId})`,
    );
  }
  return query;
}

/** Openings, the newest first, with what each cost so far as its stock fell with it. */
export const openingRows = (db: ReadDb, filter: OpeningFilter, page = { limit: -1, offset: 0 }) =>
  db.all(
    openingsMatching(db, filter)
      .selectAll('o')
      .select(['i.name as item_name', 'i.kind', 'i.grit_scale', 'i.grit', 'i.backing', 'i.consumed_by'])
      .select(['l.number as lot_number', 's.name as supplier_name', 'g.name as stage_name'])
      .select(
        sql<number>`coalesce((SELECT -sum(m.value_micro) FROM movements m WHERE m.opening_id = o.id AND ${stands}), 0)`.as(
          'value_micro',
        ),
      )
      .orderBy('o.on_date', 'desc')
      .orderBy('o.opened_at', 'desc')
      .orderBy('o.id', 'desc')
      .limit(page.limit)
      .offset(page.offset),
  );

export type OpeningRow = ReturnType<typeof openingRows>[number];

/** How many openings match. */
export const openingCount = (db: ReadDb, filter: OpeningFilter): number =>
  db.one(openingsMatching(db, filter).select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;

/** The knives openings were shared over, with the value each carries. */
export const openingShareRows = (db: ReadDb, openingIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('opening_builds as h')
      .innerJoin('builds as b', 'b.id', 'h.build_id')
      .select(['h.opening_id', 'h.build_id', 'h.weight', 'b.serial', 'b.state'])
      .select(
        sql<number>`coalesce((SELECT -sum(m.value_micro) FROM movements m
          WHERE m.opening_id = h.opening_id AND m.build_id = h.build_id AND ${stands}), 0)`.as('value_micro'),
      )
      .where(amongIds(sql.ref('h.opening_id'), openingIds))
      .orderBy('b.number'),
  );

export type OpeningShareRow = ReturnType<typeof openingShareRows>[number];

/** Movements of an opening that stand, in the order written. */
export const openingMoves = (db: ReadDb, openingId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .selectAll('m')
      .where('m.opening_id', '=', openingId)
      .where(stands)
      .orderBy('m.seq'),
  );

/** Movements of an opening that were taken back on a later day than their own, by sharing it anew, with that day. */
export const openingMovesUndoneLater = (db: ReadDb, openingId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('movements as r', 'r.reverses_id', 'm.id')
      .selectAll('m')
      .select('r.on_date as undone_on')
      .where('m.opening_id', '=', openingId)
      .whereRef('r.on_date', '>', 'm.on_date')
      .orderBy('m.seq'),
  );

/** How many of each item hang on the dull peg. */
export const dullCounts = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('openings')
      .select(({ fn }) => ['item_id', fn.countAll<number>().as('n')])
      .where('state', '=', 'dull')
      .groupBy('item_id'),
  );

/** Every lot a count of an item may change, oldest first; a purchase that was taken back holds nothing to be found. */
export const lotsToCount = (db: ReadDb, itemId: string) =>
  db.all(
    db.q
      .selectFrom('lots as l')
      .select(['l.id', 'l.number', 'l.received_on', 'l.qty_received', 'l.value_received_micro'])
      .select(['l.qty_left', 'l.value_left_micro'])
      .where('l.item_id', '=', itemId)
      .where(
        sql<boolean>`NOT EXISTS (SELECT 1 FROM movements m JOIN movements r ON r.reverses_id = m.id
          WHERE m.lot_id = l.id AND m.kind IN ('receipt', 'made', 'split') AND m.qty > 0)`,
      )
      .orderBy('l.received_on')
      .orderBy('l.number'),
  );

/** True for what a count changed of a lot when its difference was charged to knives, or given back to them. */
export const countedOntoKnives = (db: ReadDb, movementId: string): boolean =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('item_counts as c', (join) =>
        join
          .onRef('c.item_id', '=', 'l.item_id')
          .onRef('c.on_date', '=', 'm.on_date')
          .onRef('c.reason', '=', 'm.reason'),
      )
      .select('m.id')
      .where('m.id', '=', movementId)
      .where('m.kind', '=', 'count')
      .where('c.settled', '=', 'builds')
      .limit(1),
  ) !== undefined;

/** What each knife carries of an item as it stands: draws, and charges that stand for it. */
export const carriedOfItem = (db: ReadDb, itemId: string, buildIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .select(['b.id', 'b.serial'])
      .select(
        sql<number>`(SELECT coalesce(-sum(m.value_micro), 0) FROM movements m JOIN lots l ON l.id = m.lot_id
            WHERE m.build_id = b.id AND l.item_id = ${itemId})
          + (SELECT coalesce(sum(c.amount_micro), 0) FROM charges c
            WHERE c.build_id = b.id AND c.item_id = ${itemId} AND c.reverses_id IS NULL
              AND NOT EXISTS (SELECT 1 FROM charges r WHERE r.reverses_id = c.id))`.as('value_micro'),
      )
      .where(amongIds(sql.ref('b.id'), buildIds))
      .orderBy('b.number'),
  );

/** The latest day on which anything of an item moved and still stands. */
export const itemLastMovedOn = (db: ReadDb, itemId: string): string | null =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .select(({ fn }) => fn.max<string | null>('m.on_date').as('day'))
      .where('l.item_id', '=', itemId)
      .where('m.kind', '<>', 'evenOut')
      .where(stands),
  )?.day ?? null;

/** What knives took of an item between two days, both counted. */
export const usedInPeriod = (db: ReadDb, itemId: string, from: string, to: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('builds as b', 'b.id', 'm.build_id')
      .select(['b.id', 'b.serial', 'b.state', sql<number>`-sum(m.qty)`.as('qty')])
      .where('l.item_id', '=', itemId)
      .where('m.kind', '=', 'draw')
      .where('m.on_date', '>=', from)
      .where('m.on_date', '<=', to)
      .where(stands)
      .groupBy('b.id')
      .orderBy('b.number'),
  );

/** Minutes at the bench knives got between two days, both counted. */
export const minutesInPeriod = (db: ReadDb, from: string, to: string) =>
  db.all(
    db.q
      .selectFrom('session_shares as h')
      .innerJoin('sessions as s', 's.id', 'h.session_id')
      .innerJoin('builds as b', 'b.id', 'h.build_id')
      .select(['b.id', 'b.serial', 'b.state'])
      .select(({ fn }) => fn.sum<number>('h.minutes').as('minutes'))
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .where('s.on_date', '>=', from)
      .where('s.on_date', '<=', to)
      .groupBy('b.id')
      .orderBy('b.number'),
  );

/** A knife's part of the openings of one item, in base units, unrounded; null where it has none. */
const partOfKnife = (itemId: string) => sql<number | null>`(
  SELECT sum(1.0 * o.qty * h.weight / (SELECT sum(w.weight) FROM opening_builds w WHERE w.opening_id = o.id))
  FROM opening_builds h JOIN openings o ON o.id = h.opening_id
  WHERE h.build_id = b.id AND o.item_id = ${itemId} AND o.state <> 'takenBack'
)`;

/**
 * What the last finished knives of a model took of an item by openings, the newest first. Looks at knives that had a
 * share of one, and at those begun since openings of the item are written down, which needed no new one.
 */
export function openedByKnives(db: ReadDb, modelId: string, itemId: string, limit: number) {
  const part = partOfKnife(itemId);
  const since = sql<
    string | null
  >`(SELECT min(on_date) FROM openings WHERE item_id = ${itemId} AND state <> 'takenBack')`;
  return db.all(
    db.q
      .selectFrom('builds as b')
      .select(['b.id', 'b.serial', sql<number>`coalesce(${part}, 0)`.as('qty')])
      .where('b.model_id', '=', modelId)
      .where('b.state', 'in', ['finished', 'sold', 'kept'])
      .where(sql<boolean>`(${part} IS NOT NULL OR b.started_on >= ${since})`)
      .orderBy('b.finished_on', 'desc')
      .orderBy('b.number', 'desc')
      .limit(limit),
  );
}

/** Supplier of the lot an opening most likely came out of: the oldest with something left, else the newest. */
export const likelyLot = (db: ReadDb, itemId: string) =>
  db.one(
    db.q
      .selectFrom('lots')
      .select(['id', 'supplier_id'])
      .where('item_id', '=', itemId)
      .orderBy(sql`qty_left > 0`, 'desc')
      .orderBy(sql`CASE WHEN qty_left > 0 THEN received_on END`)
      .orderBy('received_on', 'desc')
      .orderBy('number')
      .limit(1),
  );
