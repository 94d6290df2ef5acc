/** What an import looks things up in, fetched once per file, and the matching it remembers. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import { sha256 } from '../durable.ts';
import { cameBackOn } from './selling.ts';

export const supplierNames = (db: ReadDb) => db.all(db.q.selectFrom('suppliers').select(['id', 'name']));

export const itemNames = (db: ReadDb) =>
  db.all(db.q.selectFrom('items').select(['id', 'name', 'form', 'unit', 'piece_word']));

/** Buyers under every name they go by: an entry put together with another stands for the one that was kept. */
export const buyerNames = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('buyers as p')
      .innerJoin('buyers as k', (join) => join.on(sql<boolean>`k.id = coalesce(p.merged_into_id, p.id)`))
      .where('k.erased_on', 'is', null)
      .select(['k.id', 'p.name', 'k.address', 'k.country', 'k.tax_place_id']),
  );

/** Knives with what a sale asks of them. */
export const knifeStates = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .select(['b.id', 'b.serial', 'b.state', 'b.finished_on', 'b.flaw', cameBackOn.as('came_back_on')]),
  );

/** When this very file was brought in before, a UTC ISO instant; the journal keeps long files by their hash. */
export const broughtInBefore = (db: ReadDb, kind: string, text: string): string | undefined =>
  db.one(
    db.q
      .selectFrom('journal')
      .select('at')
      .where('command', '=', 'imports.run')
      .where(sql<boolean>`json_extract(body, '$.kind') = ${kind}`)
      .where(
        sql<boolean>`(json_extract(body, '$.text') = ${text} or json_extract(body, '$.text.longText.sha256') = ${sha256(text)})`,
      )
      .orderBy('seq', 'desc')
      .limit(1),
  )?.at;

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
