/** What a certificate says of a knife: what is in it, and how it was hardened. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { lotsInside } from './inside.ts';

/** What stands in a knife as material, each item once, with the papers of its lot. */
export const materialsIn = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select(['i.name', 'i.kind', 'l.heat_number', 'l.species', 'l.listing', 'l.origin', 'l.paper_number'])
      .where('m.build_id', '=', buildId)
      .where('m.kind', '=', 'draw')
      .where('m.use_as', '=', 'material')
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .groupBy(['i.id', 'l.heat_number', 'l.species', 'l.listing', 'l.origin', 'l.paper_number'])
      .orderBy((e) => e.fn.min('m.seq')),
  );
export type MaterialIn = ReturnType<typeof materialsIn>[number];

/**
 * Lots with a species, a listing or a document number that stand in a knife: drawn for it, or gone into a making that gave what was drawn,
 * however many makings and offcuts lie between. Each once.
 */
export const papersInside = (db: ReadDb, buildId: string) =>
  db.all(
    lotsInside(db, buildId)
      .selectFrom('inside as n')
      .innerJoin('lots as l', 'l.id', 'n.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select(['i.name', 'l.species', 'l.listing', 'l.origin', 'l.paper_number'])
      .where(sql<boolean>`(l.species <> '' or l.listing <> '' or l.paper_number <> '')`)
      .groupBy(['i.name', 'l.species', 'l.listing', 'l.origin', 'l.paper_number'])
      .orderBy((e) => e.fn.min('l.number')),
  );
export type PaperInside = ReturnType<typeof papersInside>[number];

/** A knife's model with its words on care, and the knife's own flaw where it is a second. */
export const modelOf = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .select(['m.name', 'm.care', 'b.flaw'])
      .where('b.id', '=', buildId),
  );
