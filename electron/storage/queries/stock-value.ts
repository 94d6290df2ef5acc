/** What stock was worth on a day, from the ledger alone. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';

/** What every lot held at the end of a day. */
const heldOn = (db: ReadDb, on: string) =>
  db.q
    .selectFrom('movements')
    .select(({ fn }) => [
      'lot_id',
      fn.sum<number>('qty').as('qty'),
      fn.sum<number>('value_micro').as('value_micro'),
    ])
    .where('on_date', '<=', on)
    .groupBy('lot_id');

/** Quantity and value of every item at the end of a day; what held neither is left out. */
export const stockOn = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom(heldOn(db, on).as('held'))
      .innerJoin('lots', 'lots.id', 'held.lot_id')
      .innerJoin('items', 'items.id', 'lots.item_id')
      .select(({ fn }) => [
        'items.id',
        'items.name',
        'items.kind',
        'items.form',
        'items.unit',
        'items.piece_word',
        fn.sum<number>('held.qty').as('qty'),
        fn.sum<number>('held.value_micro').as('value_micro'),
      ])
      .groupBy('items.id')
      .having(({ eb, or, fn }) =>
        or([eb(fn.sum<number>('held.qty'), '!=', 0), eb(fn.sum<number>('held.value_micro'), '!=', 0)]),
      )
      .orderBy('items.name'),
  );

/** Quantity and value of one item at the end of a day. */
export function heldOfItemOn(
  db: ReadDb,
  itemId: string,
  on: string,
): { readonly qty: number; readonly valueMicro: number } {
  const held = db.one(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .where('l.item_id', '=', itemId)
      .where('m.on_date', '<=', on)
      .select(({ fn }) => [
        fn.sum<number | null>('m.qty').as('qty'),
        fn.sum<number | null>('m.value_micro').as('valueMicro'),
      ]),
  );
  return { qty: held?.qty ?? 0, valueMicro: held?.valueMicro ?? 0 };
}

/** What each lot of an item held at the end of a day, oldest first; those that held nothing are left out. */
export const lotsHeldOn = (db: ReadDb, itemId: string, on: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .where('l.item_id', '=', itemId)
      .where('m.on_date', '<=', on)
      .select(({ fn }) => ['l.id', fn.sum<number>('m.qty').as('qty')])
      .groupBy('l.id')
      .having(({ fn }) => fn.sum<number>('m.qty'), '>', 0)
      .orderBy('l.received_on')
      .orderBy('l.number'),
  );

/** The least an item was worth at the end of a day and of any day after it, by what the books say of each day. */
export function lowestWorthSince(db: ReadDb, itemId: string, on: string): number {
  const begin = heldOfItemOn(db, itemId, on).valueMicro;
  const days = db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .where('l.item_id', '=', itemId)
      .where('m.on_date', '>', on)
      .select(({ fn }) => fn.sum<number>('m.value_micro').as('changed'))
      .groupBy('m.on_date')
      .orderBy('m.on_date'),
  );
  let held = begin;
  let least = begin;
  for (const { changed } of days) {
    held += changed;
    least = Math.min(least, held);
  }
  return least;
}

/** What the stock's value rose or fell by in each month up to a day. */
export const stockValueByMonth = (db: ReadDb, to: string) =>
  db.all(
    db.q
      .selectFrom('movements')
      .select(({ fn }) => [
        sql<string>`substr(on_date, 1, 7)`.as('month'),
        fn.sum<number>('value_micro').as('value_micro'),
      ])
      .where('on_date', '<=', to)
      .groupBy('month')
      .orderBy('month'),
  );
