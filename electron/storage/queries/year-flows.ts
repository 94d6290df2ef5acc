/** What moved in a year: goods in and out of stock, charges, hours, and the money of invoices. Sums only. */
import { type RawBuilder, sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds } from './like.ts';
import type { Days } from './year-knives.ts';

/** Day of the first movement there is: where a walk over the ledger begins. */
export const firstMovement = (db: ReadDb): string | undefined =>
  db.one(db.q.selectFrom('movements').select('on_date').orderBy('on_date').limit(1))?.on_date;

/** Lots of supplies that are an expense when bought, and no stock. */
const loose = sql`(SELECT l.id FROM lots l JOIN items i ON i.id = l.item_id WHERE i.incidental = 1)`;

/** The ledger in a stretch of days. */
const movedIn = (db: ReadDb, { from, to }: Days) =>
  db.q.selectFrom('movements as m').where('m.on_date', '>=', from).where('m.on_date', '<=', to);

/** Value moved, by what it was. */
interface StockFlow {
  readonly what: string;
  readonly loose: number;
  readonly value_micro: number;
}

/**
 * Value moved in a stretch of days, by what it was. `what`: the kind of movement; a reversal stands under the kind it
 * takes back, `knife` is everything on a knife, `opened`, `intoBath` and `making` what went there and came from there.
 * Nearly all of a ledger is on knives: that is summed without putting it in groups, which is most of the work.
 */
export const stockFlows = (db: ReadDb, days: Days, hasLoose: boolean): readonly StockFlow[] => {
  const isLoose = hasLoose ? sql<number>`m.lot_id IN ${loose}` : sql<number>`0`;
  const sums = db.one(
    movedIn(db, days).select([
      sql<number>`coalesce(sum(m.value_micro) FILTER (WHERE m.build_id IS NOT NULL AND NOT ${isLoose}), 0)`.as(
        'knife',
      ),
      sql<number>`coalesce(sum(m.value_micro) FILTER (WHERE m.build_id IS NOT NULL AND ${isLoose}), 0)`.as(
        'looseKnife',
      ),
      sql<number>`count(*) FILTER (WHERE m.build_id IS NULL)`.as('others'),
    ]),
  );
  if (sums === undefined) return [];
  const knives = [
    { what: 'knife', loose: 0, value_micro: sums.knife },
    { what: 'knife', loose: 1, value_micro: sums.looseKnife },
  ].filter((flow) => flow.value_micro !== 0);
  return sums.others === 0 ? knives : [...knives, ...otherFlows(db, days, isLoose)];
};

/** The kind of a movement; a reversal stands under the kind it takes back. */
export const kindOf = sql<string>`CASE WHEN m.kind = 'reversal' THEN (SELECT r.kind FROM movements r WHERE r.id = m.reverses_id) ELSE m.kind END`;

/** Value of the movements that are on no knife. */
const otherFlows = (db: ReadDb, days: Days, isLoose: RawBuilder<number>): readonly StockFlow[] =>
  db.all(
    movedIn(db, days)
      .where('m.build_id', 'is', null)
      .where('m.value_micro', '<>', 0)
      .select([
        sql<string>`CASE WHEN m.making_id IS NOT NULL THEN 'making' WHEN m.opening_id IS NOT NULL THEN 'opened'
          WHEN m.bath_event_id IS NOT NULL THEN 'intoBath'
          ELSE ${kindOf} END`.as('what'),
        isLoose.as('loose'),
      ])
      .select((e) => e.fn.sum<number>('m.value_micro').as('value_micro'))
      .groupBy(['what', 'loose']),
  );

/** Which kinds of things there are at all, so that nobody looks for the others at every turn. */
export const thereIs = (db: ReadDb, before: string) =>
  db.one(
    db.q.selectNoFrom([
      sql<number>`EXISTS (SELECT 1 FROM items WHERE incidental = 1)`.as('loose'),
      sql<number>`EXISTS (SELECT 1 FROM openings)`.as('openings'),
      sql<number>`EXISTS (SELECT 1 FROM bath_events)`.as('baths'),
      sql<number>`EXISTS (SELECT 1 FROM makings)`.as('makings'),
      sql<number>`EXISTS (SELECT 1 FROM sales WHERE on_date <= ${before})`.as('soldBefore'),
    ]),
  );
export type ThereIs = NonNullable<ReturnType<typeof thereIs>>;

/** Knives something was taken for in a stretch of days. */
export const knivesMoved = (db: ReadDb, days: Days) =>
  db.all(movedIn(db, days).where('m.build_id', 'is not', null).distinct().select('m.build_id'));

/** Knives something was charged to in a year. */
export const knivesCharged = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('charges')
      .distinct()
      .select('build_id')
      .where('on_date', '>=', from)
      .where('on_date', '<=', to),
  );

/** What was charged to knives in a year without coming off the rack with it, by what stands behind it and by use. */
export const chargeFlows = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('charges')
      .where('on_date', '>=', from)
      .where('on_date', '<=', to)
      .select([
        'use_as',
        sql<
          'burn' | 'bath' | 'count' | 'flat'
        >`CASE WHEN burn_id IS NOT NULL THEN 'burn' WHEN bath_event_id IS NOT NULL THEN 'bath'
          WHEN item_count_id IS NOT NULL THEN 'count' ELSE 'flat' END`.as('source'),
      ])
      .select((e) => e.fn.sum<number>('amount_micro').as('value_micro'))
      .groupBy(['use_as', 'source']),
  );

/** Usual costs without goods behind them that lie in knives at the end of a day, by use. */
export const chargesIn = (db: ReadDb, ids: readonly string[], upTo: string) =>
  db.all(
    db.q
      .selectFrom('charges')
      .where(amongIds(sql.ref('build_id'), ids))
      .where('on_date', '<=', upTo)
      .where('burn_id', 'is', null)
      .where('bath_event_id', 'is', null)
      .where('item_count_id', 'is', null)
      .select('use_as')
      .select((e) => e.fn.sum<number>('amount_micro').as('value_micro'))
      .groupBy('use_as'),
  );

/** Makings that came to nothing in a year, with all they cost. */
export const scrappedMakings = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('makings as k')
      .select(['k.id', 'k.number', 'k.title', 'k.ended_on', 'k.end_reason'])
      .select(
        sql<number>`(SELECT coalesce(-sum(m.value_micro), 0) FROM movements m
            WHERE m.making_id = k.id AND m.on_date <= ${to})
          + (SELECT coalesce(sum(c.amount_micro), 0) FROM making_charges c WHERE c.making_id = k.id AND c.on_date <= ${to})`.as(
          'value_micro',
        ),
      )
      .where('k.state', '=', 'scrapped')
      .where('k.ended_on', '>=', from)
      .where('k.ended_on', '<=', to)
      .orderBy('k.number'),
  );

/** Freight of purchases that was kept out of stock and is an overhead, by the day of the purchase. Micro. */
export const freightKept = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('purchases as p')
      .innerJoin('suppliers as s', 's.id', 'p.supplier_id')
      .where('p.freight_rule', '=', 'overhead')
      .where('p.freight_micro', '<>', 0)
      .where('p.on_date', '>=', from)
      .where('p.on_date', '<=', to)
      .select(['p.id', 'p.on_date', 'p.reference', 's.name as supplier', 'p.freight_micro'])
      .orderBy('p.on_date')
      .orderBy('p.id'),
  );

/** Hours booked in a month, or a part of one, and what they were spent on. */
export const hourFlows = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('sessions as s')
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .where('s.on_date', '>=', from)
      .where('s.on_date', '<=', to)
      .select([
        's.stage_code',
        's.work_kind',
        sql<number>`s.making_id IS NOT NULL`.as('making'),
        sql<number>`s.source = 'guess'`.as('guess'),
      ])
      .select((e) => e.fn.sum<number>('s.minutes').as('minutes'))
      .groupBy(['s.stage_code', 's.work_kind', 'making', 'guess']),
  );

/** Minutes on knives begun in a year, whenever they were worked. */
export const minutesBegun = (db: ReadDb, { from, to }: Days): number =>
  db.one(
    db.q
      .selectFrom('builds')
      .where('started_on', '>=', from)
      .where('started_on', '<=', to)
      .select(sql<number>`coalesce(sum(minutes), 0)`.as('minutes')),
  )?.minutes ?? 0;

/** Names of the stages. */
export const stageNames = (db: ReadDb) =>
  db.all(db.q.selectFrom('stages').select(['code', 'name']).orderBy('position'));

/**
 * Fees of charges on deposits and services in a year, by the day paid. A payment taken out of the books takes its fee
 * along on the day it is taken out, so that a year gone by does not change.
 */
export const chargeFees = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('payments as y')
      // Before the invoices: of most payments no fee is left, and none is looked up then.
      .leftJoin('payments as r', 'r.id', 'y.reverses_id')
      .innerJoin('invoices as i', 'i.id', 'y.invoice_id')
      .where('y.on_date', '>=', from)
      .where('y.on_date', '<=', to)
      .where(sql<boolean>`y.fee_minor - coalesce(r.fee_minor, 0) <> 0`)
      .select(['y.id', 'y.on_date', 'i.id as invoice_id', 'i.number', 'i.buyer_name'])
      .select(sql<number>`y.fee_minor - coalesce(r.fee_minor, 0)`.as('fee_minor'))
      .orderBy('y.on_date')
      .orderBy('y.seq'),
  );
