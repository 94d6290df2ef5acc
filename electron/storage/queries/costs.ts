/** Everything a cost sheet is made of, for one knife or for many at once. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds } from './like.ts';
import { creditedOf } from './selling.ts';

/** Draws that still stand: neither taken back nor taking back. Quantity and value are those taken, above zero. */
const standingDraws = (db: ReadDb, buildIds: readonly string[]) =>
  db.q
    .selectFrom('movements as m')
    .innerJoin('lots as l', 'l.id', 'm.lot_id')
    .innerJoin('items as i', 'i.id', 'l.item_id')
    .where('m.kind', '=', 'draw')
    .where(amongIds(sql.ref('m.build_id'), buildIds))
    .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`);

const standingCharges = (db: ReadDb, buildIds: readonly string[]) =>
  db.q
    .selectFrom('charges as c')
    .where('c.reverses_id', 'is', null)
    .where(amongIds(sql.ref('c.build_id'), buildIds))
    .where(sql<boolean>`not exists (select 1 from charges r where r.reverses_id = c.id)`);

/** Draws of one knife in order of date. */
export const drawsOf = (db: ReadDb, buildId: string) =>
  db.all(
    standingDraws(db, [buildId])
      .leftJoin('makings as k', 'k.id', 'l.making_id')
      .select(['m.id', 'm.on_date', 'm.use_as', 'm.part_label', 'm.lot_id', 'l.number as lot_number'])
      .select(['m.rung', 'm.opening_id', 'm.reason'])
      .select(['i.name as item_name', 'i.kind', 'i.form', 'i.unit', 'i.piece_word'])
      .select(['l.qty_received', 'l.value_received_micro', 'k.id as making_id', 'k.number as making_number'])
      .select([sql<number>`-m.qty`.as('qty'), sql<number>`-m.value_micro`.as('value_micro')])
      .orderBy('m.on_date')
      .orderBy('m.seq'),
  );
export type DrawRecord = ReturnType<typeof drawsOf>[number];

/** Charges of one knife in order of date. */
export const chargesOf = (db: ReadDb, buildId: string) =>
  db.all(
    standingCharges(db, [buildId])
      .select(['c.id', 'c.on_date', 'c.label', 'c.use_as', 'c.amount_micro', 'c.rung', 'c.how'])
      .orderBy('c.on_date')
      .orderBy('c.seq'),
  );
export type ChargeRecord = ReturnType<typeof chargesOf>[number];

/** Draws that stood at the end of a day: what was taken back later stood then. */
const drawsBy = (db: ReadDb, buildIds: readonly string[], upTo: string) =>
  db.q
    .selectFrom('movements as m')
    .innerJoin('lots as l', 'l.id', 'm.lot_id')
    .innerJoin('items as i', 'i.id', 'l.item_id')
    .where('m.kind', 'in', ['draw', 'reversal'])
    .where('m.on_date', '<=', upTo)
    .where(amongIds(sql.ref('m.build_id'), buildIds));

const chargesBy = (db: ReadDb, buildIds: readonly string[], upTo: string) =>
  db.q
    .selectFrom('charges as c')
    .where('c.on_date', '<=', upTo)
    .where(amongIds(sql.ref('c.build_id'), buildIds));

/**
 * What many knives took, added up by knife, use and the name of the sheet's line.
 * @param upTo as it stood at the end of that day; left out: as it stands
 */
export const drawSums = (db: ReadDb, buildIds: readonly string[], upTo?: string) =>
  db.all(
    (upTo === undefined ? standingDraws(db, buildIds) : drawsBy(db, buildIds, upTo))
      .select(['m.build_id', 'm.use_as', 'm.part_label', 'i.kind'])
      .select(sql<number>`-sum(m.value_micro)`.as('value_micro'))
      .groupBy(['m.build_id', 'm.use_as', 'm.part_label', 'i.kind']),
  );

/** What was charged to many knives, added up by knife, use and label; `upTo` as in `drawSums`. */
export const chargeSums = (db: ReadDb, buildIds: readonly string[], upTo?: string) =>
  db.all(
    (upTo === undefined ? standingCharges(db, buildIds) : chargesBy(db, buildIds, upTo))
      .select(['c.build_id', 'c.use_as', 'c.label'])
      .select((e) => e.fn.sum<number>('c.amount_micro').as('value_micro'))
      .groupBy(['c.build_id', 'c.use_as', 'c.label']),
  );

/** Sessions of one knife that count, with its own share of the minutes. */
export const workOf = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('session_shares as h')
      .innerJoin('sessions as s', 's.id', 'h.session_id')
      .innerJoin('stages as g', 'g.code', 's.stage_code')
      .leftJoin('people as p', 'p.id', 's.person_id')
      .where('h.build_id', '=', buildId)
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .select(['s.root_id', 's.on_date', 's.source', 's.note', 's.minutes as session_minutes', 'h.minutes'])
      .select(['g.code', 'g.name', 'g.position'])
      .select(['s.person_id', 'p.name as person_name', 's.setup_minutes'])
      .orderBy('g.position')
      .orderBy('s.on_date')
      .orderBy(sql`coalesce(s.started_at, s.recorded_at)`),
  );
export type WorkRecord = ReturnType<typeof workOf>[number];

/** Labour and overhead rates, newest first. */
export const listRates = (db: ReadDb) =>
  db.all(db.q.selectFrom('rates').selectAll().orderBy('from_date', 'desc'));

/** A knife with its model. */
export const knifeHead = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .where('b.id', '=', buildId)
      .selectAll('b')
      .select(['m.code as model_code', 'm.name as model_name']),
  );

/** The model's list price on a day. */
export const listPriceOn = (db: ReadDb, modelId: string, on: string): number | undefined =>
  db.one(
    db.q
      .selectFrom('model_prices')
      .select('price_minor')
      .where('model_id', '=', modelId)
      .where('from_date', '<=', on)
      .orderBy('from_date', 'desc')
      .limit(1),
  )?.price_minor;

/** The sale of a knife that counts, with the names a sheet shows. */
export const liveSaleOf = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('sales as s')
      .innerJoin('buyers as p', 'p.id', 's.buyer_id')
      .innerJoin('channels as c', 'c.id', 's.channel_id')
      .where('s.build_id', '=', buildId)
      .where('s.taken_back_on', 'is', null)
      .selectAll('s')
      .select([
        'p.name as buyer_name',
        'c.name as channel_name',
        'c.fee_ppm',
        'c.fee_fixed_minor',
        'c.abroad_extra_ppm',
      ])
      .select([creditedOf('net_minor').as('credited_net'), creditedOf('tax_minor').as('credited_tax')]),
  );
export type LiveSaleRecord = NonNullable<ReturnType<typeof liveSaleOf>>;
