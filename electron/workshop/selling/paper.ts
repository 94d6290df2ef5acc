/** Turns an invoice's rows into finished text for the paper. */
import type { InvoicePaper } from '../../documents/types.ts';
import { formatMinor } from '../../domain/money.ts';
import { decimalText, trimZeros } from '../../domain/rational.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { InvoicesTable } from '../../storage/schema-selling.ts';
import type { House } from '../costs/house.ts';
import { percentText } from '../costs/fee-words.ts';
import type { NamedDeposit } from './particulars.ts';

type Row = Omit<InvoicesTable, 'document_path' | 'document_sha256'>;

export interface PaperTerms {
  readonly madeAt: string;
  readonly extraNotes: readonly string[];
  readonly draftMark?: string;
  /** Deposit invoices whose money is taken off what is asked. */
  readonly deposits?: readonly NamedDeposit[];
  /** Number of the invoice a credit takes back. */
  readonly creditsNumber?: string;
}

const textLines = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

const paragraphs = (text: string): string[] =>
  text
    .split(/\n\s*\n/)
    .map((part) => part.trim())
    .filter((part) => part !== '');

function factsOf(row: Row, terms: PaperTerms): InvoicePaper['facts'] {
  const credit = row.kind === 'credit';
  return [
    { label: credit ? 'Date' : 'Invoice date', text: row.issued_on },
    { label: 'Date of supply', text: row.supply_on },
    ...(credit ? [] : [{ label: 'Due', text: row.due_on }]),
    ...(terms.creditsNumber === undefined
      ? []
      : [{ label: 'Takes back invoice', text: terms.creditsNumber }]),
  ];
}

const titles: Readonly<Record<string, string>> = {
  credit: 'Credit note',
  deposit: 'Deposit invoice',
  balance: 'Balance invoice',
};

function totalsOf(row: Row, deposits: readonly NamedDeposit[]): InvoicePaper['totals'] {
  const money = (minor: number): string => formatMinor(minor, row.currency);
  const base = row.tax_base_minor === row.net_minor ? '' : ` on ${money(row.tax_base_minor)}`;
  const tax = {
    label: `${row.tax_label} ${percentText(row.tax_rate_ppm)}${base}`,
    amount: money(row.tax_minor),
    strong: false,
  };
  const taxed =
    row.tax_rate_ppm > 0 ? [{ label: 'Net', amount: money(row.net_minor), strong: false }, tax] : [];
  const total = row.kind === 'credit' ? 'Total credited' : 'Total to pay';
  const asked = row.total_minor - row.prepaid_minor;
  return [
    ...taxed,
    ...(deposits.length === 0
      ? []
      : [{ label: 'Total', amount: money(row.total_minor), strong: false }, ...deposits.map(less)]),
    { label: `${total}, ${row.currency}`, amount: money(asked), strong: true },
  ];

  function less(deposit: NamedDeposit) {
    const named = `Less deposit invoice ${deposit.number} of ${deposit.issuedOn}`;
    return { label: named, amount: money(-deposit.paidMinor), strong: false };
  }
}

/** The paper of an invoice or a credit note. */
export function invoicePaper(
  shop: House['shop'],
  row: Row,
  lines: readonly InvoiceLineRow[],
  terms: PaperTerms,
): InvoicePaper {
  const money = (minor: number): string => formatMinor(minor, row.currency);
  return {
    size: shop.paper === 'A4' ? 'A4' : 'Letter',
    language: 'en',
    madeAt: terms.madeAt,
    workshopName: row.seller_name,
    title: titles[row.kind] ?? 'Invoice',
    draftMark: terms.draftMark ?? null,
    number: row.number,
    seller: {
      name: row.seller_name,
      lines: textLines(row.seller_address),
      contact: [shop.email, shop.phone, shop.website].filter((part) => part !== ''),
      taxNumber: row.seller_tax_number,
    },
    buyer: { name: row.buyer_name, lines: textLines(row.buyer_address) },
    facts: factsOf(row, terms),
    lines: lines.map((line) => ({
      description: line.description,
      detail: line.detail,
      qty: trimZeros(decimalText(line.qty, line.qty_scale)),
      unitPrice: money(line.unit_price_minor),
      tax: line.tax_rate_ppm === 0 ? '' : percentText(line.tax_rate_ppm),
      amount: money(line.net_minor),
    })),
    totals: totalsOf(row, terms.deposits ?? []),
    notes: [...terms.extraNotes, row.note].flatMap(paragraphs),
  };
}
