/** Where a parcel for a buyer goes. */
import { invalid } from '../../api/errors.ts';
import type { AddressParts } from '../../domain/addresses.ts';
import type { ReadDb } from '../../storage/db.ts';
import { addressRecord } from '../../storage/queries/buyers.ts';
import { needBuyer } from '../selling/buyers.ts';

/** An address with the name that stands above it. */
interface PostalAddress extends AddressParts {
  readonly recipient: string;
}

/**
 * The delivery address chosen, or the buyer's invoice address.
 * @throws FaultError when the buyer, or the address as one of theirs, is not in the books
 */
export function addressOfBuyer(db: ReadDb, buyerId: string, addressId: string | null): PostalAddress {
  const buyer = needBuyer(db, buyerId);
  if (addressId === null) return { ...buyer, recipient: buyer.name };
  const other = addressRecord(db, addressId);
  if (other?.buyer_id !== buyer.id) {
    throw invalid(
      `This is no address of ${buyer.name}. Choose another, or the invoice address.`,
      'addressId',
    );
  }
  return { ...other, recipient: other.recipient === '' ? buyer.name : other.recipient };
}
