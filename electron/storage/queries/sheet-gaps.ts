/** What is missing for a year's sheet, counted. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import type { Span } from './expenses.ts';

const noFile = (kind: string, id: string) =>
  sql<boolean>`NOT EXISTS (SELECT 1 FROM attachments f
    WHERE f.owner_kind = ${kind} AND f.owner_id = ${sql.ref(id)} AND f.removed_at IS NULL)`;

/** Purchases of a span of days no paper hangs on. */
export const purchasesWithoutPaper = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('purchases as u')
      .where('u.on_date', '>=', from)
      .where('u.on_date', '<=', to)
      .where(noFile('purchase', 'u.id'))
      .select(({ fn }) => fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** Lines of purchases without a price. */
export const purchasesWithoutPrice = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('purchase_lines as l')
      .innerJoin('purchases as u', 'u.id', 'l.purchase_id')
      .where('u.on_date', '>=', from)
      .where('u.on_date', '<=', to)
      .where('l.price_micro', '=', 0)
      .select(({ fn }) => fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** Assets bought in a span of days no paper hangs on. */
export const assetsWithoutPaper = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('assets as a')
      .where('a.bought_on', '>=', from)
      .where('a.bought_on', '<=', to)
      .where(noFile('asset', 'a.id'))
      .select(({ fn }) => fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** Trips of a span of days without a purpose. */
export const tripsWithoutPurpose = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('mileage as m')
      .where('m.on_date', '>=', from)
      .where('m.on_date', '<=', to)
      .where('m.purpose', '=', '')
      .where('m.reverses_id', 'is', null)
      .select(({ fn }) => fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** Income of a span of days that is still awaited. */
export const incomeAwaited = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('incomes as i')
      .where('i.earned_on', '>=', from)
      .where('i.earned_on', '<=', to)
      .where('i.received_on', 'is', null)
      .where('i.reverses_id', 'is', null)
      .where(sql<boolean>`NOT EXISTS (SELECT 1 FROM incomes r WHERE r.reverses_id = i.id)`)
      .select(({ fn }) => fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** True when the whole workshop was counted for the end of a day. */
export const wasCounted = (db: ReadDb, on: string): boolean =>
  db.one(
    db.q
      .selectFrom('stocktakes')
      .select('id')
      .where('on_date', '=', on)
      .where('state', '=', 'finished')
      // Some places alone are no stocktake of the year.
      .where('places', '=', '[]')
      .limit(1),
  ) !== undefined;

/** True when anything had been bought by the end of a day. */
export const hadStockBy = (db: ReadDb, on: string): boolean =>
  db.one(db.q.selectFrom('movements').select('id').where('on_date', '<=', on).limit(1)) !== undefined;
