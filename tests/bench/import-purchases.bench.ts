/** Bringing in 10 000 purchase lines from CSV against bare prepared inserts of the very same rows. */
import assert from 'node:assert/strict';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Core } from '../../electron/workshop/core.ts';
import { call, copyOf, freshFolder, openBooks, removeFolder, setUp } from './books.ts';
import { compare } from './pairs.ts';

const lines = 10_000;
const suppliers = [
  'Greyfen Bar & Strip',
  'Pellwick Grit House',
  'Thornapple Burl Yard',
  'Nook Twelve Laminates',
];
const goods = [
  ['Stainless bar 0.070 × 1.25', '48 in', '24.00'],
  ['Belt 36 ceramic', '1 belt', '9.80'],
  ['Walnut pair', '1 pair', '14.00'],
  ['Laminate sheet', '144 sq in', '46.00'],
  ['Quench oil', '1 gal', '29.60'],
] as const;

/** A maker's own file: ten lines to a purchase, with freight and a reference. */
const file = (): string => {
  const rows = Array.from({ length: lines }, (_, at) => {
    const purchase = Math.floor(at / 10);
    const [item, quantity, price] = goods[at % goods.length] ?? goods[0];
    const day = String((purchase % 28) + 1).padStart(2, '0');
    const month = String((Math.floor(purchase / 28) % 12) + 1).padStart(2, '0');
    const freight = at % 10 === 0 ? '11.35' : '';
    return `2023-${month}-${day},${suppliers[purchase % suppliers.length] ?? ''},${item},1,${quantity},${price},${freight},R-${purchase}`;
  });
  return ['date,supplier,item,pieces,quantity,price,freight,reference', ...rows].join('\n');
};

const text = file();
const columns = ['date', 'supplier', 'item', 'pieces', 'quantity', 'price', 'freight', 'reference'];
const input = {
  kind: 'purchases' as const,
  text,
  mapping: { ...Object.fromEntries(columns.map((name, at) => [name, at])), heat: -1 },
  makeMissing: true,
  fileName: 'purchases.csv',
};

/** Tables in the order their rows can be inserted. */
const tables = [
  'suppliers',
  'items',
  'purchases',
  'purchase_lines',
  'lots',
  'movements',
  'import_mappings',
  'journal',
];

type Row = Readonly<Record<string, string | number | null>>;
type Dump = readonly (readonly [string, readonly Row[]])[];

const dump = (folder: string): Dump => {
  const db = new Database(join(folder, 'workshop.db'), { readonly: true });
  const all = tables.map(
    (table) => [table, db.prepare<[], Row>(`SELECT * FROM ${table} ORDER BY rowid`).all()] as const,
  );
  db.close();
  return all;
};

/** The same rows and nothing else: one transaction, one prepared insert a table, the settings our books have. */
const openBare = (folder: string): Database.Database => {
  const db = new Database(join(folder, 'workshop.db'));
  for (const pragma of [
    'journal_mode = wal',
    'synchronous = full',
    'foreign_keys = 1',
    'wal_autocheckpoint = 0',
  ]) {
    db.pragma(pragma);
  }
  return db;
};
const insertBare = (db: Database.Database, rows: Dump): void => {
  db.transaction(() => {
    for (const [table, list] of rows) {
      const names = Object.keys(list[0] ?? {});
      const insert = db.prepare(
        `INSERT INTO ${table} (${names.join(', ')}) VALUES (${names.map(() => '?').join(', ')})`,
      );
      for (const row of list) insert.run(...Object.values(row));
    }
  })();
};

/** Rows of `after` that `before` has not. */
const added = (before: Dump, after: Dump): Dump =>
  after.map(([table, list], at) => [table, list.slice(before[at]?.[1].length ?? 0)] as const);

const sizes = (rows: Dump): Readonly<Record<string, number>> =>
  Object.fromEntries(rows.map(([table, list]) => [table, list.length]));

const start = freshFolder();
await setUp(start);
const model = copyOf(start);
const core = await openBooks(model);
const before = dump(model);
assert.deepEqual(await call(core, 'imports.run', input), { booked: lines, made: 9 });
await core.close();
const wanted = dump(model);
const rows = added(before, wanted);
const barely = copyOf(start);
const db = openBare(barely);
insertBare(db, rows);
db.close();
assert.deepEqual(dump(barely), wanted);
assert.equal(sizes(rows)['purchase_lines'], lines);
removeFolder(model);
removeFolder(barely);

interface Opened {
  readonly folder: string;
  readonly core: Core;
}
await compare({
  name: `bringing in ${lines.toLocaleString('en')} purchase lines`,
  limit: 2.5,
  floorIs: `prepared inserts of the same rows (${JSON.stringify(sizes(rows))})`,
  ours: {
    ready: async (): Promise<Opened> => {
      const folder = copyOf(start);
      return { folder, core: await openBooks(folder) };
    },
    run: (made: Opened) => call(made.core, 'imports.run', input),
    tidy: async (made: Opened) => {
      await made.core.close();
      removeFolder(made.folder);
    },
  },
  floor: {
    ready: () => {
      const folder = copyOf(start);
      return { folder, db: openBare(folder) };
    },
    run: (made: { db: Database.Database }) => insertBare(made.db, rows),
    tidy: (made: { db: Database.Database; folder: string }) => {
      made.db.close();
      removeFolder(made.folder);
    },
  },
});
removeFolder(start);
