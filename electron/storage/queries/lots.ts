/** Reading lots and the ledger of movements. */
import { type SelectQueryBuilder, sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { contains } from './like.ts';

/** Number of a lot as written on its tag; `TAG_DIGITS` digits at least. */
const TAG_DIGITS = 4;

/** The short name on the rack, e.g. `L-0042`. */
export const tagOf = (number: number): string => `L-${String(number).padStart(TAG_DIGITS, '0')}`;

/** The short name of a making, e.g. `M-0003`. */
export const makingTagOf = (number: number): string => `M-${String(number).padStart(TAG_DIGITS, '0')}`;

/** The lot number a typed tag means (`L-0042`, `l42`, `42`), or undefined. */
export function numberOfTag(text: string): number | undefined {
  const digits = /^(?:l\s*-?\s*)?0*(\d{1,9})$/i.exec(text.trim())?.[1];
  return digits === undefined ? undefined : Number(digits);
}

const lotSource = (db: ReadDb) =>
  db.q
    .selectFrom('lots')
    .innerJoin('items', 'items.id', 'lots.item_id')
    .leftJoin('suppliers', 'suppliers.id', 'lots.supplier_id')
    .leftJoin('makings', 'makings.id', 'lots.making_id')
    .leftJoin('lots as parent', 'parent.id', 'lots.parent_id');

const lotColumns = [
  'lots.id',
  'lots.number',
  'lots.item_id',
  'items.name as item_name',
  'items.kind',
  'items.form',
  'items.unit',
  'items.piece_word',
  'suppliers.name as supplier_name',
  'lots.received_on',
  'lots.heat_number',
  'lots.place',
  'lots.note',
  'lots.purchase_line_id',
  'lots.qty_received',
  'lots.value_received_micro',
  'lots.qty_left',
  'lots.value_left_micro',
  'lots.length_nm',
  'lots.width_nm',
  'lots.making_id',
  'makings.number as making_number',
  'lots.parent_id',
  'parent.number as parent_number',
  'lots.species',
  'lots.listing',
  'lots.origin',
  'lots.paper_number',
] as const;

export interface LotFilter {
  readonly text?: string;
  readonly itemId?: string | undefined;
  readonly kinds?: readonly string[];
  readonly onlyLeft?: boolean;
  readonly limit: number;
  readonly offset: number;
}

function lotsMatching(db: ReadDb, filter: LotFilter) {
  let query = lotSource(db);
  if (filter.itemId !== undefined) query = query.where('lots.item_id', '=', filter.itemId);
  if (filter.onlyLeft === true) query = query.where('lots.qty_left', '>', 0);
  if (filter.kinds && filter.kinds.length > 0) query = query.where('items.kind', 'in', filter.kinds);
  if (filter.text) {
    const { text } = filter;
    const tag = numberOfTag(text);
    query = query.where((eb) =>
      eb.or([
        contains(eb.ref('items.name'), text),
        contains(eb.ref('lots.heat_number'), text),
        contains(eb.ref('lots.place'), text),
        contains(eb.ref('suppliers.name'), text),
        ...(tag === undefined ? [] : [eb('lots.number', '=', tag)]),
      ]),
    );
  }
  return query;
}

/** The statement behind a page of lots: one item's oldest first, as they are drawn; all items' newest first. */
export function lotPageStatement(db: ReadDb, filter: LotFilter) {
  const page = lotsMatching(db, filter).select(lotColumns).limit(filter.limit).offset(filter.offset);
  return filter.itemId === undefined
    ? page.orderBy('lots.number', 'desc')
    : page.orderBy('lots.received_on').orderBy('lots.number');
}

/** One page of lots and how many there are in all. */
export function lotPage(db: ReadDb, filter: LotFilter) {
  const rows = db.all(lotPageStatement(db, filter));
  const whole = filter.offset === 0 && rows.length < filter.limit;
  return { rows, total: whole ? rows.length : lotCount(db, filter) };
}

/** How many lots match; items and suppliers are looked at only when the filter speaks of them. */
function lotCount(db: ReadDb, filter: LotFilter): number {
  if (filter.text || (filter.kinds && filter.kinds.length > 0)) {
    return db.one(lotsMatching(db, filter).select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;
  }
  let query = db.q.selectFrom('lots').select(({ fn }) => fn.countAll<number>().as('n'));
  if (filter.itemId !== undefined) query = query.where('item_id', '=', filter.itemId);
  if (filter.onlyLeft === true) query = query.where('qty_left', '>', 0);
  return db.one(query)?.n ?? 0;
}

/** One lot with its item. */
export const lotRow = (db: ReadDb, id: string) =>
  db.one(
    lotSource(db)
      .select([...lotColumns, 'items.useful_remnant', 'items.costing'])
      .where('lots.id', '=', id),
  );

export type LotListRow = ReturnType<typeof lotPage>['rows'][number];

/** Lots that came by the lines of one purchase, in the order they were numbered. */
export const lotsOfPurchase = (db: ReadDb, purchaseId: string) =>
  db.all(
    lotSource(db)
      .innerJoin('purchase_lines', 'purchase_lines.id', 'lots.purchase_line_id')
      .select(lotColumns)
      .where('purchase_lines.purchase_id', '=', purchaseId)
      .orderBy('lots.number'),
  );

/** Lots with something left that carry a listing, an origin or a document number, by item. */
export const lotsWithPapers = (db: ReadDb) =>
  db.all(
    lotSource(db)
      .select(lotColumns)
      .where('lots.qty_left', '>', 0)
      .where((eb) =>
        eb.or([eb('lots.listing', '!=', ''), eb('lots.origin', '!=', ''), eb('lots.paper_number', '!=', '')]),
      )
      .orderBy('items.name')
      .orderBy('lots.number'),
  );

/** Lots of an item with something left, in the order they are drawn, with the size of one bar, sheet or piece of each. */
export const lotsLeft = (db: ReadDb, itemId: string) =>
  db.all(
    db.q
      .selectFrom('lots')
      .leftJoin('purchase_lines', 'purchase_lines.id', 'lots.purchase_line_id')
      .select([
        'lots.id',
        'lots.number',
        'lots.item_id',
        'lots.received_on',
        'lots.qty_received',
        'lots.qty_left',
        'lots.value_left_micro',
        'purchase_lines.qty_each',
      ])
      .where('lots.item_id', '=', itemId)
      .where('lots.qty_left', '>', 0)
      .orderBy('lots.received_on')
      .orderBy('lots.number'),
  );

/** The item of a lot, if its stock is valued at the moving average. */
export const averagedItemOf = (db: ReadDb, lotId: string): string | undefined =>
  db.one(
    db.q
      .selectFrom('lots')
      .innerJoin('items', 'items.id', 'lots.item_id')
      .select('items.id')
      .where('lots.id', '=', lotId)
      .where('items.costing', '=', 'average'),
  )?.id;

/** Quantity and value of every lot of an item that holds something, oldest first. */
export const lotSums = (db: ReadDb, itemId: string) =>
  db.all(
    db.q
      .selectFrom('lots')
      .select(['id', 'qty_left', 'value_left_micro'])
      .where('item_id', '=', itemId)
      .where('qty_left', '>', 0)
      .orderBy('received_on')
      .orderBy('number'),
  );

export type LotLeft = ReturnType<typeof lotsLeft>[number];

/** Knives that draws from a lot still stand for. */
export const buildsOfLot = (db: ReadDb, lotId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('builds', 'builds.id', 'm.build_id')
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .select(['builds.id', 'builds.serial', 'builds.title'])
      .distinct()
      .where('m.lot_id', '=', lotId)
      .where('m.kind', '=', 'draw')
      .where('r.id', 'is', null)
      .orderBy('builds.number'),
  );

/** Ids of all knives that anything of an item was ever drawn for. */
export const buildsWithItem = (db: ReadDb, itemId: string): string[] =>
  db
    .all(
      db.q
        .selectFrom('movements as m')
        .innerJoin('lots', 'lots.id', 'm.lot_id')
        .select('m.build_id as id')
        .distinct()
        .where('lots.item_id', '=', itemId)
        .where('m.kind', '=', 'draw'),
    )
    .flatMap(({ id }) => (id === null ? [] : [id]));

const movementSource = (db: ReadDb) =>
  db.q
    .selectFrom('movements as m')
    .innerJoin('lots', 'lots.id', 'm.lot_id')
    .innerJoin('items', 'items.id', 'lots.item_id')
    .leftJoin('builds', 'builds.id', 'm.build_id')
    .leftJoin('makings', 'makings.id', 'm.making_id')
    .leftJoin('movements as r', 'r.reverses_id', 'm.id');

const movementColumns = [
  'm.id',
  'm.seq',
  'm.on_date',
  'm.kind',
  'm.lot_id',
  'lots.number as lot_number',
  'lots.item_id',
  'items.name as item_name',
  'items.form',
  'items.unit',
  'items.piece_word',
  'm.qty',
  'm.value_micro',
  'm.use_as',
  'm.stage_code',
  'm.build_id',
  'builds.serial as build_serial',
  'm.part_label',
  'm.net_qty',
  'm.reason',
  'm.reverses_id',
  'r.id as reversed_by_id',
  'm.making_id',
  'makings.number as making_number',
  'm.opening_id',
  'm.burn_id',
  'm.bath_event_id',
  'm.rung',
] as const;

export interface MovementFilter {
  readonly itemId?: string | undefined;
  readonly lotId?: string | undefined;
  readonly buildId?: string | undefined;
  readonly makingId?: string | undefined;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

function narrowed<O>(
  query: SelectQueryBuilder<MovementScope, MovementTables, O>,
  filter: MovementFilter,
): SelectQueryBuilder<MovementScope, MovementTables, O> {
  let so = query;
  if (filter.itemId !== undefined) so = so.where('lots.item_id', '=', filter.itemId);
  if (filter.lotId !== undefined) so = so.where('m.lot_id', '=', filter.lotId);
  if (filter.buildId !== undefined) so = so.where('m.build_id', '=', filter.buildId);
  if (filter.makingId !== undefined) so = so.where('m.making_id', '=', filter.makingId);
  if (filter.from !== undefined) so = so.where('m.on_date', '>=', filter.from);
  if (filter.to !== undefined) so = so.where('m.on_date', '<=', filter.to);
  return so;
}

type SourceQuery = ReturnType<typeof movementSource>;
type MovementScope = SourceQuery extends SelectQueryBuilder<infer DB, infer _TB, infer _O> ? DB : never;
type MovementTables = SourceQuery extends SelectQueryBuilder<infer _DB, infer TB, infer _O> ? TB : never;

/** Movements, newest first. */
export const movementRows = (db: ReadDb, filter: MovementFilter, page: { limit: number; offset: number }) =>
  db.all(
    narrowed(movementSource(db), filter)
      .select(movementColumns)
      .orderBy('m.seq', 'desc')
      .limit(page.limit)
      .offset(page.offset),
  );

/** How many movements match. */
export const movementCount = (db: ReadDb, filter: MovementFilter): number =>
  db.one(narrowed(movementSource(db), filter).select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;

/** One movement, with what took it back. */
export const movementRow = (db: ReadDb, id: string) =>
  db.one(movementSource(db).select(movementColumns).where('m.id', '=', id));

export type MovementRow = ReturnType<typeof movementRows>[number];

/**
 * True while anything stands of a lot but what brought it in: draws, counts and whatever else was not taken back.
 * @param firstId the movement that brought it in
 */
export const lotWasTouched = (db: ReadDb, lotId: string, firstId: string): boolean =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .select('m.id')
      .where('m.lot_id', '=', lotId)
      .where('m.id', '!=', firstId)
      .where('m.kind', 'not in', ['reversal', 'evenOut'])
      .where('r.id', 'is', null)
      .limit(1),
  ) !== undefined;

/** The least a lot held at the end of a day and of any day after it, by what the books say of each day. */
export function lowestSince(db: ReadDb, lotId: string, on: string): number {
  const days = db.q
    .selectFrom('movements')
    .select(['on_date', sql<number>`sum(sum(qty)) OVER (ORDER BY on_date)`.as('held')])
    .where('lot_id', '=', lotId)
    .groupBy('on_date');
  // What it held on the day itself stands with the last day before it on which something moved.
  const begin = db.q
    .selectFrom('movements')
    .select((e) => e.fn.max('on_date').as('day'))
    .where('lot_id', '=', lotId)
    .where('on_date', '<=', on);
  const since = db.q.selectFrom(days.as('d')).where('on_date', '>=', begin);
  return db.one(since.select((e) => e.fn.min<number | null>('held').as('least')))?.least ?? 0;
}

/**
 * The other half of what was cut apart: what left the piece for it, or what it came in as. The value is the same on both
 * sides; the quantity is not, where sawn pieces become pairs or a spare blank leaves its kerf behind.
 */
export const otherHalfOfSplit = (db: ReadDb, half: MovementRow): string | undefined =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as offcut', (join) =>
        half.qty > 0
          ? join.onRef('offcut.parent_id', '=', 'm.lot_id').on('offcut.id', '=', half.lot_id)
          : join.onRef('offcut.id', '=', 'm.lot_id').on('offcut.parent_id', '=', half.lot_id),
      )
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .select('m.id')
      .where('m.kind', '=', 'split')
      .where('m.qty', half.qty > 0 ? '<' : '>', 0)
      .where('m.value_micro', '=', 0 - half.value_micro)
      .where('m.on_date', '=', half.on_date)
      .where('r.id', 'is', null)
      // What leaves is written first and what it becomes right after: the nearest on that side is its half, and not
      // just as near a half of another piece that is worth the same.
      .where('m.seq', half.qty > 0 ? '<' : '>', half.seq)
      .orderBy('m.seq', half.qty > 0 ? 'desc' : 'asc')
      .limit(1),
  )?.id;

/** The latest day on which a movement of a lot that still stands took place. */
export const lastMovedOn = (db: ReadDb, lotId: string): string | null =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .select(({ fn }) => fn.max<string | null>('m.on_date').as('day'))
      .where('m.lot_id', '=', lotId)
      .where('m.kind', 'not in', ['reversal', 'evenOut'])
      .where('r.id', 'is', null),
  )?.day ?? null;

/** True when the receipt that brought a lot in was taken back. */
export const receiptTakenBack = (db: ReadDb, lotId: string): boolean =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .innerJoin('movements as r', 'r.reverses_id', 'm.id')
      .select('m.id')
      .where('m.lot_id', '=', lotId)
      .where('m.kind', '=', 'receipt'),
  ) !== undefined;

/** Of the lots of a purchase, those whose receipt was taken back. */
export const lotsTakenBack = (db: ReadDb, purchaseId: string): string[] =>
  db
    .all(
      db.q
        .selectFrom('lots')
        .innerJoin('purchase_lines', 'purchase_lines.id', 'lots.purchase_line_id')
        .innerJoin('movements as m', (join) =>
          join.onRef('m.lot_id', '=', 'lots.id').on('m.kind', '=', 'receipt'),
        )
        .innerJoin('movements as r', 'r.reverses_id', 'm.id')
        .select('lots.id')
        .where('purchase_lines.purchase_id', '=', purchaseId),
    )
    .map(({ id }) => id);
