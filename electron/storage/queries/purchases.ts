/** Reading purchases. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { contains } from './like.ts';

export interface PurchaseFilter {
  readonly text?: string;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly limit: number;
  readonly offset: number;
}

function purchasesMatching(db: ReadDb, filter: Omit<PurchaseFilter, 'limit' | 'offset'>) {
  let query = db.q.selectFrom('purchases').innerJoin('suppliers', 'suppliers.id', 'purchases.supplier_id');
  if (filter.from !== undefined) query = query.where('purchases.on_date', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('purchases.on_date', '<=', filter.to);
  if (filter.text) {
    const { text } = filter;
    query = query.where((eb) =>
      eb.or([
        contains(eb.ref('suppliers.name'), text),
        contains(eb.ref('purchases.reference'), text),
        contains(eb.ref('purchases.note'), text),
        eb(
          'purchases.id',
          'in',
          db.q
            .selectFrom('purchase_lines')
            .innerJoin('items', 'items.id', 'purchase_lines.item_id')
            .select('purchase_lines.purchase_id')
            .where((of) => contains(of.ref('items.name'), text)),
        ),
      ]),
    );
  }
  return query;
}

const purchaseColumns = [
  'purchases.id',
  'purchases.on_date',
  'purchases.supplier_id',
  'suppliers.name as supplier_name',
  'purchases.reference',
  'purchases.freight_micro',
  'purchases.freight_rule',
  'purchases.note',
] as const;

const lineSum = (what: 'count(*)' | 'coalesce(sum(price_micro), 0)') =>
  sql<number>`(SELECT ${sql.raw(what)} FROM purchase_lines WHERE purchase_id = purchases.id)`;

const withSums = (db: ReadDb, filter: Omit<PurchaseFilter, 'limit' | 'offset'>) =>
  purchasesMatching(db, filter)
    .select(purchaseColumns)
    .select([lineSum('count(*)').as('lines'), lineSum('coalesce(sum(price_micro), 0)').as('goods_micro')]);

/** One page of purchases, newest first, and how many there are in all. */
export function purchasePage(db: ReadDb, filter: PurchaseFilter) {
  const rows = db.all(
    withSums(db, filter)
      .orderBy('purchases.on_date', 'desc')
      .orderBy('purchases.id', 'desc')
      .limit(filter.limit)
      .offset(filter.offset),
  );
  const total =
    db.one(purchasesMatching(db, filter).select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;
  return { rows, total };
}

/** One purchase with its sums. */
export const purchaseRow = (db: ReadDb, id: string) =>
  db.one(withSums(db, {}).where('purchases.id', '=', id));

export type PurchaseListRow = ReturnType<typeof purchasePage>['rows'][number];

/** Lines of one purchase in the order they were entered. */
export const purchaseLineRows = (db: ReadDb, purchaseId: string) =>
  db.all(
    db.q
      .selectFrom('purchase_lines')
      .innerJoin('items', 'items.id', 'purchase_lines.item_id')
      .selectAll('purchase_lines')
      .select(['items.name as item_name', 'items.form', 'items.unit', 'items.piece_word'])
      .where('purchase_lines.purchase_id', '=', purchaseId)
      .orderBy('purchase_lines.position'),
  );

/** The purchase a line belongs to. */
export const purchaseOfLine = (db: ReadDb, lineId: string) =>
  db.one(db.q.selectFrom('purchase_lines').select('purchase_id').where('id', '=', lineId))?.purchase_id;
