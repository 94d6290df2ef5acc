/** Reading and writing stocktakes: their lines, counts, knives and what they came to. */
import { sql, type Updateable } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type {
  StocktakeKnivesTable,
  StocktakeLinesTable,
  StocktakeOthersTable,
  StocktakesTable,
} from '../schema-count.ts';
import { amongIds } from './like.ts';

/** The short name of a stocktake, e.g. `ST3`. */
export const stocktakeTagOf = (number: number): string => `ST${String(number)}`;

const heads = (db: ReadDb) =>
  db.q
    .selectFrom('stocktakes as s')
    .selectAll('s')
    .select([
      sql<number>`(SELECT count(*) FROM stocktake_lines l WHERE l.stocktake_id = s.id)`.as('lines'),
      sql<number>`(SELECT count(*) FROM stocktake_lines l WHERE l.stocktake_id = s.id
        AND EXISTS (SELECT 1 FROM stocktake_counts c WHERE c.line_id = l.id))`.as('counted'),
      sql<number | null>`(SELECT sum(l.difference_micro) FROM stocktake_lines l
        WHERE l.stocktake_id = s.id)`.as('difference_micro'),
    ]);

export type StocktakeRow = ReturnType<typeof stocktakeRows>[number];

/** All stocktakes, the latest day first. */
export const stocktakeRows = (db: ReadDb) =>
  db.all(heads(db).orderBy('s.on_date', 'desc').orderBy('s.number', 'desc'));

/** One stocktake. */
export const stocktakeRow = (db: ReadDb, id: string): StocktakeRow | undefined =>
  db.one(heads(db).where('s.id', '=', id));

/** The number the next one gets. */
export const nextStocktake = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('stocktakes').select(({ fn }) => fn.max<number | null>('number').as('top')))?.top ??
    0) + 1;

export const insertStocktake = (db: WriteDb, row: Omit<StocktakesTable, keyof KeptOfStocktake>): number =>
  db.run(db.q.insertInto('stocktakes').values(row));

interface KeptOfStocktake {
  ended_at: unknown;
  booked_micro: unknown;
  materials_micro: unknown;
  supplies_micro: unknown;
  opened_micro: unknown;
  in_work_micro: unknown;
  finished_micro: unknown;
}

export const updateStocktake = (db: WriteDb, id: string, columns: Updateable<StocktakesTable>): number =>
  db.run(db.q.updateTable('stocktakes').set(columns).where('id', '=', id));

/** Lines of a stocktake with their items, in the order of the sheet. */
export const lineRows = (db: ReadDb, stocktakeId: string) =>
  db.all(linesWithItems(db).where('l.stocktake_id', '=', stocktakeId).orderBy('l.number'));

const linesWithItems = (db: ReadDb) =>
  db.q
    .selectFrom('stocktake_lines as l')
    .innerJoin('items as i', 'i.id', 'l.item_id')
    .selectAll('l')
    .select(['i.name as item_name', 'i.kind', 'i.form', 'i.unit', 'i.piece_word'])
    .select(['i.costing', 'i.consumed_by']);

export type LineRow = ReturnType<typeof lineRows>[number];

/** One line. */
export const lineRow = (db: ReadDb, id: string): LineRow | undefined =>
  db.one(linesWithItems(db).where('l.id', '=', id));

/** Adds a line with its lots. */
export function insertLine(
  db: WriteDb,
  line: Pick<StocktakeLinesTable, 'id' | 'stocktake_id' | 'number' | 'place' | 'item_id'>,
  lotIds: readonly string[],
): void {
  db.run(db.q.insertInto('stocktake_lines').values(line));
  for (const lotId of lotIds)
    db.run(db.q.insertInto('stocktake_line_lots').values({ line_id: line.id, lot_id: lotId }));
}

export const updateLine = (db: WriteDb, id: string, columns: Updateable<StocktakeLinesTable>): number =>
  db.run(db.q.updateTable('stocktake_lines').set(columns).where('id', '=', id));

const heldThen = (on: string, column: 'qty' | 'value_micro') =>
  sql<number>`(SELECT coalesce(sum(m.${sql.ref(column)}), 0) FROM movements m
    WHERE m.lot_id = t.id AND m.on_date <= ${on})`;

/** The lots of a stocktake's lines, oldest first, with what each held at the end of the day and holds now. */
export const lotsOfLines = (db: ReadDb, stocktakeId: string, on: string) =>
  db.all(
    db.q
      .selectFrom('stocktake_line_lots as x')
      .innerJoin('stocktake_lines as l', 'l.id', 'x.line_id')
      .innerJoin('lots as t', 't.id', 'x.lot_id')
      .select(['x.line_id', 't.id', 't.number', 't.item_id', 't.heat_number', 't.received_on'])
      .select(['t.qty_received', 't.value_received_micro', 't.qty_left', 't.value_left_micro'])
      .select([heldThen(on, 'qty').as('qty_then'), heldThen(on, 'value_micro').as('value_then')])
      .where('l.stocktake_id', '=', stocktakeId)
      .orderBy('t.received_on')
      .orderBy('t.number'),
  );

export type LineLot = ReturnType<typeof lotsOfLines>[number];

/** Lots that held something at the end of a day, with how their items are counted. */
export const lotsThen = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom('lots as t')
      .innerJoin('items as i', 'i.id', 't.item_id')
      .select(['t.id', 't.number', 't.item_id', 't.place', 't.received_on'])
      .select(['i.name as item_name', 'i.kind', 'i.form', 'i.costing'])
      .where('t.received_on', '<=', on)
      .where(heldThen(on, 'qty'), '>', 0)
      .orderBy('t.received_on')
      .orderBy('t.number'),
  );

export type LotThen = ReturnType<typeof lotsThen>[number];

/** What is left of lots of an item that came in to a place after a day. */
export const cameInAfter = (db: ReadDb, itemId: string, place: string, on: string): number =>
  db.one(
    db.q
      .selectFrom('lots')
      .select(({ fn }) => fn.sum<number | null>('qty_left').as('qty'))
      .where('item_id', '=', itemId)
      .where('place', '=', place)
      .where('received_on', '>', on),
  )?.qty ?? 0;

/** What was counted of the lines of a stocktake, in the order it was counted. */
export const countRows = (db: ReadDb, stocktakeId: string) =>
  db.all(
    db.q
      .selectFrom('stocktake_counts as c')
      .innerJoin('stocktake_lines as l', 'l.id', 'c.line_id')
      .leftJoin('people as p', 'p.id', 'c.who')
      .selectAll('c')
      .select('p.name')
      .where('l.stocktake_id', '=', stocktakeId)
      .orderBy('c.counted_at')
      .orderBy('c.who'),
  );

export type CountRow = ReturnType<typeof countRows>[number];

/** Writes what one person counted of a line; once more replaces it. */
export function saveCount(
  db: WriteDb,
  row: {
    readonly line_id: string;
    readonly who: string;
    readonly qty: number;
    readonly booked_qty: number;
    readonly counted_at: string;
  },
): void {
  const { line_id: lineId, who, ...columns } = row;
  db.run(
    db.q
      .insertInto('stocktake_counts')
      .values({ line_id: lineId, who, ...columns })
      .onConflict((conflict) => conflict.columns(['line_id', 'who']).doUpdateSet(columns)),
  );
}

export const deleteCount = (db: WriteDb, lineId: string, who: string): number =>
  db.run(db.q.deleteFrom('stocktake_counts').where('line_id', '=', lineId).where('who', '=', who));

/** Openings in use or dull at the end of a day, of the items on a stocktake's sheet. */
export const openingsThen = (db: ReadDb, stocktakeId: string, on: string) =>
  db.all(
    db.q
      .selectFrom('openings as o')
      .leftJoin('stocktake_openings as j', (join) =>
        join.onRef('j.opening_id', '=', 'o.id').on('j.stocktake_id', '=', stocktakeId),
      )
      .select(['o.id', 'o.item_id', 'o.on_date', 'o.qty', 'j.left_ppm'])
      .select(sql<number>`o.blunt_on IS NOT NULL AND o.blunt_on <= ${on}`.as('dull'))
      .where('o.state', '<>', 'takenBack')
      .where('o.on_date', '<=', on)
      .where(sql<boolean>`(o.ended_on IS NULL OR o.ended_on > ${on})`)
      .where(
        sql<boolean>`o.item_id IN (SELECT item_id FROM stocktake_lines WHERE stocktake_id = ${stocktakeId})`,
      )
      .orderBy('o.on_date')
      .orderBy('o.id'),
  );

export type OpeningThen = ReturnType<typeof openingsThen>[number];

/** Keeps what is left of one in use. */
export const saveLeft = (db: WriteDb, stocktakeId: string, openingId: string, leftPpm: number): number =>
  db.run(
    db.q
      .insertInto('stocktake_openings')
      .values({ stocktake_id: stocktakeId, opening_id: openingId, left_ppm: leftPpm })
      .onConflict((conflict) =>
        conflict.columns(['stocktake_id', 'opening_id']).doUpdateSet({ left_ppm: leftPpm }),
      ),
  );

/** What was written of the knives of a stocktake, with their names. */
export const knifeRows = (db: ReadDb, stocktakeId: string) =>
  db.all(
    db.q
      .selectFrom('stocktake_knives as k')
      .innerJoin('builds as b', 'b.id', 'k.build_id')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .selectAll('k')
      .select(['b.serial', 'b.title', 'm.name as model_name'])
      .where('k.stocktake_id', '=', stocktakeId)
      .orderBy('b.number'),
  );

export type StocktakeKnifeRow = ReturnType<typeof knifeRows>[number];

/** Writes of a knife where it is, or what it came to. */
export function saveKnife(
  db: WriteDb,
  row: Pick<StocktakeKnivesTable, 'stocktake_id' | 'build_id' | 'whereabouts' | 'with_whom'> &
    Partial<Pick<Updateable<StocktakeKnivesTable>, 'state' | 'held_for' | 'value_micro'>>,
): void {
  const { stocktake_id: _stocktake, build_id: _build, ...columns } = row;
  db.run(
    db.q
      .insertInto('stocktake_knives')
      .values(row)
      .onConflict((conflict) => conflict.columns(['stocktake_id', 'build_id']).doUpdateSet(columns)),
  );
}

/** Forgets knives that were written down and are no part of the day's stock any more. */
export const keepKnives = (db: WriteDb, stocktakeId: string, buildIds: readonly string[]): number =>
  db.run(
    db.q
      .deleteFrom('stocktake_knives')
      .where('stocktake_id', '=', stocktakeId)
      .where(sql<boolean>`NOT ${amongIds(sql.ref('build_id'), buildIds)}`),
  );

/** What else held value on the day of a finished stocktake. */
export const otherRows = (db: ReadDb, stocktakeId: string) =>
  db.all(
    db.q
      .selectFrom('stocktake_others')
      .selectAll()
      .where('stocktake_id', '=', stocktakeId)
      .orderBy('position'),
  );

export const insertOther = (db: WriteDb, row: StocktakeOthersTable): number =>
  db.run(db.q.insertInto('stocktake_others').values(row));

/** Says of a movement which line of a stocktake it came from. */
export const linkMovement = (db: WriteDb, movementId: string, lineId: string): number =>
  db.run(db.q.insertInto('stocktake_movements').values({ movement_id: movementId, line_id: lineId }));

/** The day of the stocktake a movement came from; undefined for any other movement. */
export const stocktakeDayOf = (db: ReadDb, movementId: string): string | undefined =>
  db.one(
    db.q
      .selectFrom('stocktake_movements as x')
      .innerJoin('stocktake_lines as l', 'l.id', 'x.line_id')
      .innerJoin('stocktakes as s', 's.id', 'l.stocktake_id')
      .select('s.on_date')
      .where('x.movement_id', '=', movementId),
  )?.on_date;
