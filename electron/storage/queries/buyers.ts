/** What belongs to a buyer beside the row itself: delivery addresses, and who was merged into them. */
import type { Insertable } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { BuyerAddressesTable } from '../schema-selling.ts';

/** A buyer's delivery addresses, those in use first. */
export const addressesOf = (db: ReadDb, buyerId: string) =>
  db.all(
    db.q
      .selectFrom('buyer_addresses')
      .selectAll()
      .where('buyer_id', '=', buyerId)
      .orderBy('archived')
      .orderBy('label')
      .orderBy('id'),
  );
export type AddressRecord = ReturnType<typeof addressesOf>[number];

/** One delivery address. */
export const addressRecord = (db: ReadDb, id: string): AddressRecord | undefined =>
  db.one(db.q.selectFrom('buyer_addresses').selectAll().where('id', '=', id));

export const insertAddress = (db: WriteDb, row: Insertable<BuyerAddressesTable>): number =>
  db.run(db.q.insertInto('buyer_addresses').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateAddress = (db: WriteDb, { id, ...row }: Insertable<BuyerAddressesTable>): number =>
  db.run(db.q.updateTable('buyer_addresses').set(row).where('id', '=', id));
