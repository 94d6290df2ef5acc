/** Buyers as lists and pages show them. */
import type { Buyer, BuyerPage, BuyerRow, DeliveryAddress } from '../../api/buyers.ts';
import { missing } from '../../api/errors.ts';
import { addressLines } from '../../domain/addresses.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type AddressRecord,
  addressesOf,
  type BuyerListRecord,
  buyerWithFigures,
  mergedInto,
} from '../../storage/queries/buyers.ts';
import { listSales } from '../../storage/queries/selling.ts';
import { listInvoices } from '../../storage/queries/selling-invoices.ts';
import type { QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { needBuyer } from '../selling/buyers.ts';
import { toInvoiceRow } from '../selling/invoice-rows.ts';
import { saleRows } from '../selling/sale-rows.ts';
import { spansOf } from './support.ts';

/** More than one buyer ever has. */
const EVERY = 20_000;

const toBuyer = (record: BuyerListRecord): Buyer => ({
  id: record.id,
  name: record.name,
  email: record.email,
  phone: record.phone,
  address: record.address,
  city: record.city,
  region: record.region,
  postcode: record.postcode,
  country: record.country,
  taxPlaceId: record.tax_place_id,
  taxNumber: record.tax_number,
  language: record.language,
  firstContactOn: record.first_contact_on,
  supporter: record.level !== '',
  level: record.level,
  note: record.note,
  archived: record.archived === 1,
  erasedOn: record.erased_on,
});

/** A buyer with what they bought so far. */
export const toBuyerRow = (record: BuyerListRecord): BuyerRow => ({
  ...toBuyer(record),
  bought: record.bought,
  spentMinor: record.spent,
  lastBoughtOn: record.last_on,
});

/** A delivery address as the screen shows it. */
export const toAddress = (record: AddressRecord): DeliveryAddress => ({
  id: record.id,
  label: record.label,
  recipient: record.recipient,
  address: record.address,
  city: record.city,
  region: record.region,
  postcode: record.postcode,
  country: record.country,
  archived: record.archived === 1,
});

/**
 * The entry that stands for a buyer, with what they bought.
 * @throws FaultError when the buyer is not in the books
 */
export function needBuyerRow(db: ReadDb, id: string, today: string): BuyerRow {
  const record = buyerWithFigures(db, needBuyer(db, id).id, today);
  if (!record) throw missing('This buyer is not in the books. Choose another or enter them first.');
  return toBuyerRow(record);
}

const sum = (amounts: readonly number[]): number => amounts.reduce((so, amount) => so + amount, 0);

/** Everything of one buyer. */
export function buyerPage(ctx: QueryContext, id: string): BuyerPage {
  const { db } = ctx;
  const today = ctx.clock.today();
  const home = houseOf(db).shop.country;
  const row = needBuyerRow(db, id, today);
  const invoices = listInvoices(db, { buyerId: row.id, today }, EVERY, 0).map((record) =>
    toInvoiceRow(record, today),
  );
  const open = invoices.map((invoice) => invoice.openMinor);
  return {
    ...row,
    lines: addressLines(row, home),
    addresses: addressesOf(db, row.id).map((record) => ({
      ...toAddress(record),
      lines: addressLines(record, home),
    })),
    support: spansOf(db, row.id),
    sales: saleRows(db, listSales(db, { buyerId: row.id }, EVERY, 0)),
    invoices,
    owedMinor: sum(open.filter((amount) => amount > 0)),
    toGiveBackMinor: 0 - sum(open.filter((amount) => amount < 0)),
    mergedNames: mergedInto(db, row.id).map(({ name }) => name),
  };
}
