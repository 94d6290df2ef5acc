/** What an invoice states about both sides and its account, read back from how it was issued. */
import type { InvoicesTable } from '../../storage/schema-selling.ts';
import type { Particulars, Party } from '../selling/particulars.ts';

type Row = Pick<
  InvoicesTable,
  'particulars' | 'seller_name' | 'seller_address' | 'seller_tax_number' | 'buyer_name' | 'buyer_address'
>;

const unknown: Party = {
  name: '',
  street: '',
  city: '',
  region: '',
  postcode: '',
  country: '',
  taxNumber: '',
  registerNumber: '',
  email: '',
  phone: '',
  website: '',
};

/** Both parties and the account; of invoices older than their parts, what was printed. */
export function statedIn(row: Row): Particulars {
  const kept = JSON.parse(row.particulars) as Partial<Particulars>;
  return {
    seller: kept.seller ?? {
      ...unknown,
      name: row.seller_name,
      street: row.seller_address,
      taxNumber: row.seller_tax_number,
    },
    buyer: kept.buyer ?? { ...unknown, name: row.buyer_name, street: row.buyer_address },
    account: kept.account ?? { iban: '', bic: '', bankName: '' },
    reasonCode: kept.reasonCode ?? '',
    deposits: kept.deposits ?? [],
    notes: kept.notes ?? [],
    remarks: kept.remarks ?? [],
    taxPlaceId: kept.taxPlaceId ?? null,
    settled: kept.settled ?? false,
  };
}
