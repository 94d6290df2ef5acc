/** Finding anything by a few typed letters. */
import { type Expression, sql, type SqlBool } from 'kysely';
import { folded } from '../../domain/folding.ts';
import type { ReadDb } from '../db.ts';
import { contains, literalPattern } from './like.ts';
import { numberOfTag } from './lots.ts';

/** 0 when the whole text matches, 1 when a text begins with it, 2 when it stands inside. */
const rankOf = (columns: readonly Expression<unknown>[], text: string) => {
  const any = (pattern: string) =>
    sql.join(
      columns.map((column) => sql`${column} LIKE ${pattern} ESCAPE '\\'`),
      sql` OR `,
    );
  const literal = literalPattern(text);
  return sql<number>`CASE WHEN ${any(literal)} THEN 0 WHEN ${any(`${literal}%`)} THEN 1 ELSE 2 END`;
};

const containsAny = (columns: readonly Expression<unknown>[], text: string) =>
  sql<SqlBool>`(${sql.join(
    columns.map((column) => contains(column, text)),
    sql` OR `,
  )})`;

const column = (name: string): Expression<unknown> => sql.ref(name);

const search = (names: readonly string[], text: string) => {
  const columns = names.map(column);
  return { where: containsAny(columns, text), rank: rankOf(columns, text).as('rank') };
};

/** Knives by serial, title, model code or model name. */
export function findBuilds(db: ReadDb, text: string, limit: number) {
  const by = search(['builds.serial', 'builds.title', 'models.code', 'models.name'], text);
  return db.all(
    db.q
      .selectFrom('builds')
      .innerJoin('models', 'models.id', 'builds.model_id')
      .select([
        'builds.id',
        'builds.serial',
        'builds.title',
        'builds.state',
        'models.name as model_name',
        by.rank,
      ])
      .where(by.where)
      .orderBy('rank')
      .orderBy('builds.number', 'desc')
      .limit(limit),
  );
}

/** Items by name. */
export function findItems(db: ReadDb, text: string, limit: number) {
  const by = search(['items.name'], text);
  return db.all(
    db.q
      .selectFrom('items')
      .select(['items.id', 'items.name', 'items.kind', by.rank])
      .where(by.where)
      .orderBy('rank')
      .orderBy('items.name')
      .limit(limit),
  );
}

/** Lots by tag, item or heat number; a tag is matched as a number, so `L-42` finds `L-0042`. */
export function findLots(db: ReadDb, text: string, limit: number) {
  const by = search(['items.name', 'lots.heat_number', 'lots.place'], text);
  const tag = numberOfTag(text) ?? -1;
  return db.all(
    db.q
      .selectFrom('lots')
      .innerJoin('items', 'items.id', 'lots.item_id')
      .select(['lots.id', 'lots.number', 'items.name as item_name', 'lots.heat_number', 'lots.received_on'])
      .select(
        sql<number>`CASE WHEN lots.number = ${tag} THEN 0 ELSE ${rankOf([column('items.name'), column('lots.heat_number'), column('lots.place')], text)} END`.as(
          'rank',
        ),
      )
      .where((eb) => eb.or([by.where, eb('lots.number', '=', tag)]))
      .orderBy('rank')
      .orderBy('lots.number', 'desc')
      .limit(limit),
  );
}

/** Purchases by supplier or reference. */
export function findPurchases(db: ReadDb, text: string, limit: number) {
  const by = search(['purchases.reference', 'suppliers.name'], text);
  return db.all(
    db.q
      .selectFrom('purchases')
      .innerJoin('suppliers', 'suppliers.id', 'purchases.supplier_id')
      .select([
        'purchases.id',
        'purchases.on_date',
        'purchases.reference',
        'suppliers.name as supplier_name',
        by.rank,
      ])
      .where(by.where)
      .orderBy('rank')
      .orderBy('purchases.on_date', 'desc')
      .limit(limit),
  );
}

/** Suppliers by name. */
export function findSuppliers(db: ReadDb, text: string, limit: number) {
  const by = search(['suppliers.name'], text);
  return db.all(
    db.q
      .selectFrom('suppliers')
      .select(['suppliers.id', 'suppliers.name', 'suppliers.email', by.rank])
      .where(by.where)
      .orderBy('rank')
      .orderBy('suppliers.name')
      .limit(limit),
  );
}

/** Buyers by name, email or town, whatever the case and accents; entries put together with another are left out. */
export function findBuyers(db: ReadDb, text: string, limit: number) {
  const names = ['buyers.name', 'buyers.email', 'buyers.city'];
  const columns = names.map((name) => sql`folded(${column(name)})`);
  const wanted = folded(text);
  return db.all(
    db.q
      .selectFrom('buyers')
      .select(['buyers.id', 'buyers.name', 'buyers.email', rankOf(columns, wanted).as('rank')])
      .where(containsAny(columns, wanted))
      .where('buyers.merged_into_id', 'is', null)
      .orderBy('rank')
      .orderBy('buyers.name')
      .limit(limit),
  );
}

/** Invoices by number or buyer. */
export function findInvoices(db: ReadDb, text: string, limit: number) {
  const by = search(['invoices.number', 'invoices.buyer_name'], text);
  return db.all(
    db.q
      .selectFrom('invoices')
      .select([
        'invoices.id',
        'invoices.number',
        'invoices.kind',
        'invoices.buyer_name',
        'invoices.issued_on',
        by.rank,
      ])
      .where(by.where)
      .orderBy('rank')
      .orderBy('invoices.issued_on', 'desc')
      .limit(limit),
  );
}

/** Models by code, name or family. */
export function findModels(db: ReadDb, text: string, limit: number) {
  const by = search(['models.code', 'models.name', 'models.family'], text);
  return db.all(
    db.q
      .selectFrom('models')
      .select(['models.id', 'models.code', 'models.name', by.rank])
      .where(by.where)
      .orderBy('rank')
      .orderBy('models.code')
      .limit(limit),
  );
}

/** The number a typed tag of a making, a heat record, an order or a quote means (`M-0003`, `m3`); -1 for none. */
const numberAfter = (letter: 'm' | 'h' | 'o' | 'q', text: string): number => {
  const digits = new RegExp(`^${letter}\\s*-?\\s*0*(\\d{1,9})$`, 'i').exec(text.trim())?.[1];
  return digits === undefined ? -1 : Number(digits);
};

/** Makings by title or tag. */
export function findMakings(db: ReadDb, text: string, limit: number) {
  const by = search(['makings.title'], text);
  const tag = numberAfter('m', text);
  return db.all(
    db.q
      .selectFrom('makings')
      .select(['makings.id', 'makings.number', 'makings.title', 'makings.started_on'])
      .select(
        sql<number>`CASE WHEN makings.number = ${tag} THEN 0 ELSE ${rankOf([column('makings.title')], text)} END`.as(
          'rank',
        ),
      )
      .where((eb) => eb.or([by.where, eb('makings.number', '=', tag)]))
      .orderBy('rank')
      .orderBy('makings.number', 'desc')
      .limit(limit),
  );
}

/** Heat treatments by tag, batch or recipe. */
export function findHeats(db: ReadDb, text: string, limit: number) {
  const names = ['heats.batch', 'recipes.name'];
  const by = search(names, text);
  const tag = numberAfter('h', text);
  return db.all(
    db.q
      .selectFrom('heats')
      .leftJoin('recipes', 'recipes.id', 'heats.recipe_id')
      .select(['heats.id', 'heats.number', 'heats.batch', 'heats.on_date', 'recipes.name as recipe'])
      .select(
        sql<number>`CASE WHEN heats.number = ${tag} THEN 0 ELSE ${rankOf(names.map(column), text)} END`.as(
          'rank',
        ),
      )
      .where((eb) => eb.or([by.where, eb('heats.number', '=', tag)]))
      .orderBy('rank')
      .orderBy('heats.number', 'desc')
      .limit(limit),
  );
}

/** Orders by tag, buyer or wish. */
export function findOrders(db: ReadDb, text: string, limit: number) {
  const names = ['buyers.name', 'orders.wish'];
  const by = search(names, text);
  const tag = numberAfter('o', text);
  return db.all(
    db.q
      .selectFrom('orders')
      .innerJoin('buyers', 'buyers.id', 'orders.buyer_id')
      .leftJoin('models', 'models.id', 'orders.model_id')
      .select(['orders.id', 'orders.number', 'buyers.name as buyer_name', 'models.name as model_name'])
      .select(
        sql<number>`CASE WHEN orders.number = ${tag} THEN 0 ELSE ${rankOf(names.map(column), text)} END`.as(
          'rank',
        ),
      )
      .where((eb) => eb.or([by.where, eb('orders.number', '=', tag)]))
      .orderBy('rank')
      .orderBy('orders.number', 'desc')
      .limit(limit),
  );
}

/** Quotes by tag, buyer or wish. */
export function findQuotes(db: ReadDb, text: string, limit: number) {
  const names = ['buyers.name', 'quotes.wish'];
  const by = search(names, text);
  const tag = numberAfter('q', text);
  return db.all(
    db.q
      .selectFrom('quotes')
      .innerJoin('buyers', 'buyers.id', 'quotes.buyer_id')
      .innerJoin('models', 'models.id', 'quotes.model_id')
      .select(['quotes.id', 'quotes.number', 'buyers.name as buyer_name', 'models.name as model_name'])
      .select(
        sql<number>`CASE WHEN quotes.number = ${tag} THEN 0 ELSE ${rankOf(names.map(column), text)} END`.as(
          'rank',
        ),
      )
      .where((eb) => eb.or([by.where, eb('quotes.number', '=', tag)]))
      .orderBy('rank')
      .orderBy('quotes.number', 'desc')
      .limit(limit),
  );
}
