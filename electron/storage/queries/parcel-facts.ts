/** What a parcel needs to know of the person and the knife. */
import type { ReadDb } from '../db.ts';

/** An address of a buyer; the one without an id is where invoices go. */
export interface ParcelAddress {
  readonly id: string | null;
  readonly label: string;
  readonly recipient: string;
  readonly address: string;
  readonly city: string;
  readonly region: string;
  readonly postcode: string;
  readonly country: string;
}

/** The invoice address, then where parcels go. */
export function addressesOf(db: ReadDb, buyerId: string): readonly ParcelAddress[] {
  const own = db.one(
    db.q
      .selectFrom('buyers')
      .select(['name as recipient', 'address', 'city', 'region', 'postcode', 'country'])
      .where('id', '=', buyerId),
  );
  const others = db.all(
    db.q
      .selectFrom('buyer_addresses')
      .select(['id', 'label', 'recipient', 'address', 'city', 'region', 'postcode', 'country'])
      .where('buyer_id', '=', buyerId)
      .where('archived', '=', 0)
      .orderBy('label'),
  );
  const first = own === undefined ? [] : [{ id: null, label: '', ...own }];
  return [...first, ...others];
}

/** The model of a knife. */
export const parcelKnife = (db: ReadDb, buildId: string) =>
  db.one(db.q.selectFrom('builds').select(['id', 'model_id']).where('id', '=', buildId));
