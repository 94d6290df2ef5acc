/** Where the workshop ships: the maker's rules, what was ticked, and what in a knife may need papers. */
import { type Insertable, type Selectable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { ShipRulesTable, ShipTicksTable } from '../schema-selling.ts';
import { lotsInside } from './inside.ts';

export type ShipRuleRecord = Selectable<ShipRulesTable>;

/** Rules by country and region. */
export const shipRules = (db: ReadDb, includeArchived: boolean): ShipRuleRecord[] => {
  const all = db.q.selectFrom('ship_rules').selectAll().orderBy('country').orderBy('region').orderBy('id');
  return db.all(includeArchived ? all : all.where('archived', '=', 0));
};

/** Rules in force for a country, the whole country first. */
export const rulesOfCountry = (db: ReadDb, country: string): ShipRuleRecord[] =>
  db.all(
    db.q
      .selectFrom('ship_rules')
      .selectAll()
      .where('country', '=', country)
      .where('archived', '=', 0)
      .orderBy('region')
      .orderBy('id'),
  );

/** One rule. */
export const shipRule = (db: ReadDb, id: string): ShipRuleRecord | undefined =>
  shipRules(db, true).find((rule) => rule.id === id);

export const insertShipRule = (db: WriteDb, row: Insertable<ShipRulesTable>): number =>
  db.run(db.q.insertInto('ship_rules').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateShipRule = (db: WriteDb, { id, ...row }: Insertable<ShipRulesTable>): number =>
  db.run(db.q.updateTable('ship_rules').set(row).where('id', '=', id));

/** Lots in a knife whose species or listing is written down, however many makings and offcuts lie between. */
export const listedLotsOf = (db: ReadDb, buildId: string) =>
  db.all(
    lotsInside(db, buildId)
      .selectFrom('inside as n')
      .innerJoin('lots as l', 'l.id', 'n.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .where(sql<boolean>`(l.species != '' or l.listing != '')`)
      .select(['l.id', 'i.name', 'l.species', 'l.listing', 'l.paper_number'])
      .orderBy('i.name')
      .orderBy('l.id'),
  );

/** What was ticked before a sale, an agreed order or a parcel, in order. */
export const ticksOf = (db: ReadDb, kind: string, subjectId: string) =>
  db.all(
    db.q
      .selectFrom('ship_ticks')
      .selectAll()
      .where('subject_kind', '=', kind)
      .where('subject_id', '=', subjectId)
      .orderBy('seq'),
  );

export const insertTick = (db: WriteDb, row: Insertable<ShipTicksTable>): number =>
  db.run(db.q.insertInto('ship_ticks').values(row));
