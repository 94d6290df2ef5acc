/** Entering and changing buyers and where their parcels go. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { Buyer, DeliveryAddress } from '../../api/buyers.ts';
import { addressRecord, insertAddress, updateAddress } from '../../storage/queries/buyers.ts';
import { buyerRecord, insertBuyer, updateBuyer } from '../../storage/queries/selling.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import { needBuyer } from '../selling/buyers.ts';
import { needBuyerRow, toAddress } from './rows.ts';

/** @throws FaultError for an entry that stands for nobody any more */
export function refuseGone(ctx: Pick<CommandContext, 'db'>, id: string): void {
  const record = buyerRecord(ctx.db, id);
  if (!record) throw missing('This buyer is not in the books any more.');
  if (record.erased_on !== null)
    throw refused(`This person was forgotten on ${record.erased_on}. Enter them anew if they come back.`);
  if (record.merged_into_id !== null)
    throw refused('This entry was put together with another. Change the one that was kept.');
}

/** Enters or changes a buyer. */
export function saveBuyer(ctx: CommandContext, input: Parsed<'selling.saveBuyer'>): Buyer {
  if (input.taxPlaceId !== null && !taxPlaceRow(ctx.db, input.taxPlaceId)) {
    throw invalid('This tax place is not in the books. Choose another.', 'taxPlaceId');
  }
  const { name, email, phone, address, city, region, postcode, country, language, note } = input;
  const id = input.id ?? ctx.newId();
  const row = {
    ...{ id, name, email, phone, address, city, region, postcode, country, language, note },
    tax_place_id: input.taxPlaceId,
    tax_number: input.taxNumber,
    first_contact_on: input.firstContactOn,
    archived: input.archived ? 1 : 0,
  };
  if (input.id === undefined) insertBuyer(ctx.db, row);
  else {
    refuseGone(ctx, id);
    updateBuyer(ctx.db, row);
  }
  return needBuyerRow(ctx.db, id, ctx.clock.today());
}

/** Enters or changes a delivery address. */
export function saveAddress(ctx: CommandContext, input: Parsed<'buyers.saveAddress'>): DeliveryAddress {
  const { id: known, buyerId, archived, ...fields } = input;
  refuseGone(ctx, needBuyer(ctx.db, buyerId).id);
  const id = known ?? ctx.newId();
  const row = { ...fields, id, buyer_id: buyerId, archived: archived ? 1 : 0 };
  if ([input.address, input.city, input.postcode].every((part) => part === ''))
    throw invalid('Write at least the street or the town.', 'address');
  if (known === undefined) insertAddress(ctx.db, row);
  else if (addressRecord(ctx.db, id)?.buyer_id !== buyerId || updateAddress(ctx.db, row) === 0)
    throw missing('This address is not in the books any more.');
  const saved = addressRecord(ctx.db, id);
  if (!saved) throw missing('This address is not in the books any more.');
  return toAddress(saved);
}
