/** What an import looks things up in, fetched once per file, and the matching it remembers. */
import type { ReadDb, WriteDb } from '../db.ts';
import { cameBackOn } from './selling.ts';

export const supplierNames = (db: ReadDb) => db.all(db.q.selectFrom('suppliers').select(['id', 'name']));

export const itemNames = (db: ReadDb) =>
  db.all(db.q.selectFrom('items').select(['id', 'name', 'form', 'unit', 'piece_word']));

export const buyerNames = (db: ReadDb) =>
  db.all(db.q.selectFrom('buyers').select(['id', 'name', 'address', 'country', 'tax_place_id']));

/** Knives with what a sale asks of them. */
export const knifeStates = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .select(['b.id', 'b.serial', 'b.state', 'b.finished_on', cameBackOn.as('came_back_on')]),
  );

/** The matching used for the last file with these headings, as JSON. */
export const rememberedMapping = (db: ReadDb, kind: string, headings: string): string | undefined =>
  db.one(
    db.q
      .selectFrom('import_mappings')
      .select('mapping')
      .where('kind', '=', kind)
      .where('headings', '=', headings),
  )?.mapping;

export const rememberMapping = (db: WriteDb, kind: string, headings: string, mapping: string): number =>
  db.run(
    db.q
      .insertInto('import_mappings')
      .values({ kind, headings, mapping })
      .onConflict((conflict) => conflict.columns(['kind', 'headings']).doUpdateSet({ mapping })),
  );
