/** What the standing of an invoice is called. */
import type { InvoiceRow } from '../../../electron/api/selling.ts';

const words: Readonly<Record<InvoiceRow['state'], string>> = {
  open: 'To be paid',
  partPaid: 'Paid in part',
  paid: 'Paid',
  overpaid: 'Paid too much',
  credited: 'Taken back',
  creditedOver: 'Taken back, refund due',
  creditedOpen: 'Taken back, buyer owes',
  partCredited: 'Part taken back',
  partCreditedOver: 'Part taken back, refund due',
  credit: 'Credit note',
};

export interface Standing {
  readonly text: string;
  readonly tone: 'plain' | 'firm' | 'loss' | 'faint';
}

const tones: Readonly<Record<InvoiceRow['state'], Standing['tone']>> = {
  open: 'firm',
  partPaid: 'firm',
  paid: 'plain',
  overpaid: 'loss',
  credited: 'faint',
  creditedOver: 'loss',
  creditedOpen: 'firm',
  partCredited: 'plain',
  partCreditedOver: 'loss',
  credit: 'faint',
};

/** Word and tone; an overdue invoice says so. */
export const standingOf = (invoice: Pick<InvoiceRow, 'state' | 'overdue'>): Standing =>
  invoice.overdue
    ? { text: invoice.state === 'partPaid' ? 'Overdue, paid in part' : 'Overdue', tone: 'loss' }
    : { text: words[invoice.state], tone: tones[invoice.state] };

/** Whether credits took back the whole of it, whatever money is still to move. */
export const isTakenBack = ({ state }: Pick<InvoiceRow, 'state'>): boolean =>
  state === 'credited' || state === 'creditedOver' || state === 'creditedOpen';

const papers: Readonly<Record<InvoiceRow['kind'], string>> = {
  sale: 'Invoice',
  second: 'Invoice of a second',
  deposit: 'Deposit invoice',
  balance: 'Final invoice',
  service: 'Service invoice',
  credit: 'Credit note',
};

/** What one calls such a paper. */
export const paperWord = (invoice: Pick<InvoiceRow, 'kind'>): string => papers[invoice.kind];

const kinds: Readonly<Record<InvoiceRow['kind'], string>> = {
  sale: 'Sale',
  second: 'Second',
  deposit: 'Deposit',
  balance: 'Final',
  service: 'Service',
  credit: 'Credit note',
};

/** What a list of invoices shows. */
export type InvoiceShow = 'all' | 'open' | 'overdue' | 'paid';

const shown: Readonly<Record<InvoiceShow, (row: InvoiceRow) => boolean>> = {
  all: () => true,
  open: (row) => row.openMinor > 0,
  overdue: (row) => row.overdue,
  paid: (row) => row.kind !== 'credit' && !isTakenBack(row) && row.openMinor <= 0,
};

/** Whether an invoice is among those shown; the same as the books sort them. */
export const isShown = (row: InvoiceRow, show: InvoiceShow): boolean => shown[show](row);

/** What an invoice is found by while one types. */
export const invoiceFindWords = (row: InvoiceRow): readonly string[] => [
  row.number,
  row.buyerName,
  row.about,
];

/** What it is for, in a word for lists. */
export const kindWord = (invoice: Pick<InvoiceRow, 'kind'>): string => kinds[invoice.kind];

/** Said where a payment or a refund would follow one that was booked while it was being written. */
export const moneyMeanwhile =
  'Money was booked on this invoice in another tab meanwhile. See what is open now; send this again only if it moved as well.';
