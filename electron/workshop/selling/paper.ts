/** Turns an invoice's rows into finished text for the paper, in the language of the invoice. */
import type { InvoicePaper } from '../../documents/types.ts';
import { decimalText, trimZeros } from '../../domain/rational.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { InvoicesTable } from '../../storage/schema-selling.ts';
import type { House } from '../costs/house.ts';
import {
  dateIn,
  knownLanguage,
  moneyIn,
  numberIn,
  type PaperWords,
  percentIn,
  wordsFor,
} from '../paper-words/index.ts';
import { statedIn } from '../papers/stated.ts';
import { paymentOf } from './payment-block.ts';

type Row = Omit<InvoicesTable, 'document_path' | 'document_sha256'>;

export interface PaperTerms {
  readonly madeAt: string;
  readonly draftMark?: string;
  /** Number of the invoice a credit takes back, and whether only a part of it. */
  readonly creditsNumber?: string;
  readonly partly?: boolean;
}

/** How one invoice writes. */
interface Writing {
  readonly words: PaperWords['invoice'];
  readonly money: (minor: number) => string;
  readonly day: (iso: string) => string;
  readonly percent: (ppm: number) => string;
  readonly number: (plain: string) => string;
}

const writingOf = (row: Row): Writing => ({
  words: wordsFor(row.language).invoice,
  money: (minor) => moneyIn(row.language, minor, row.currency),
  day: (iso) => dateIn(row.language, iso),
  percent: (ppm) => percentIn(row.language, ppm),
  number: (plain) => numberIn(row.language, plain),
});

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

type Facts = InvoicePaper['facts'];

/** Days and numbers of the invoice. A deposit is asked before anything is supplied; nothing asked is never due. */
function dateFacts(row: Row, { words, day }: Writing, terms: PaperTerms): Facts {
  const { facts } = words;
  const credit = row.kind === 'credit';
  const asks = !credit && row.total_minor > row.prepaid_minor;
  const taken = terms.partly === true ? facts.takesBackPartOf : facts.takesBack;
  return [
    { label: credit ? facts.creditDate : facts.date, text: day(row.issued_on) },
    ...(row.kind === 'deposit' ? [] : [{ label: facts.supply, text: day(row.supply_on) }]),
    ...(asks ? [{ label: facts.due, text: day(row.due_on) }] : []),
    ...(terms.creditsNumber === undefined ? [] : [{ label: taken, text: terms.creditsNumber }]),
  ];
}

/** Numbers both sides are registered under. */
function partyFacts(row: Row, { words }: Writing): Facts {
  const { seller, buyer } = statedIn(row);
  return [
    { label: words.head.taxNumber, text: row.seller_tax_number },
    { label: words.head.registerNumber, text: seller.registerNumber },
    { label: words.head.buyerTaxNumber, text: buyer.taxNumber },
  ].filter((fact) => fact.text !== '');
}

type Total = InvoicePaper['totals'][number];

function taxTotals(row: Row, { words, money, percent }: Writing): readonly Total[] {
  if (row.tax_rate_ppm === 0) return [];
  const base = row.tax_base_minor === row.net_minor ? '' : money(row.tax_base_minor);
  const label = words.totals.tax(row.tax_label, percent(row.tax_rate_ppm), base);
  return [
    { label: words.totals.net, amount: money(row.net_minor), strong: false },
    { label, amount: money(row.tax_minor), strong: false },
  ];
}

function totalsOf(row: Row, writing: Writing): readonly Total[] {
  const { totals } = writing.words;
  const { money, day } = writing;
  const deposits = row.kind === 'credit' ? [] : statedIn(row).deposits;
  const less = deposits.map((deposit) => ({
    label: totals.lessPaid(deposit.number, day(deposit.issuedOn)),
    amount: money(-deposit.paidMinor),
    strong: false,
  }));
  const asked = less.length > 0 ? totals.leftToPay : totals.totalToPay;
  const last = row.kind === 'credit' ? totals.totalCredited : asked;
  return [
    ...taxTotals(row, writing),
    ...(less.length > 0 ? [{ label: totals.total, amount: money(row.total_minor), strong: false }] : []),
    ...less,
    { label: `${last}, ${row.currency}`, amount: money(row.total_minor - row.prepaid_minor), strong: true },
  ];
}

function lineOf(
  line: InvoiceLineRow,
  { words, money, percent, number }: Writing,
): InvoicePaper['lines'][number] {
  const qty = number(trimZeros(decimalText(line.qty, line.qty_scale)));
  const unit = words.units[line.unit_code] ?? '';
  return {
    description: line.description,
    detail: line.detail,
    qty: unit === '' ? qty : `${qty} ${unit}`,
    unitPrice: money(line.unit_price_minor),
    tax: line.tax_rate_ppm === 0 ? '' : percent(line.tax_rate_ppm),
    amount: money(line.net_minor),
  };
}

function notesOf(row: Row, { words, money }: Writing): readonly string[] {
  const stated = statedIn(row);
  const several = stated.deposits.length > 1;
  const tax = money(row.prepaid_tax_minor);
  const already = several ? words.notes.depositsTax(tax) : words.notes.depositTax(tax);
  const credit = row.kind === 'credit';
  const paid = stated.settled && !credit ? words.notes.settled(dateIn(row.language, row.issued_on)) : '';
  const own = credit ? [] : stated.notes;
  const notes = [paid, ...own, row.tax_reason, row.prepaid_tax_minor === 0 ? '' : already, row.note];
  return notes.flatMap(paragraphs);
}

const titleOf = (row: Row, { titles }: PaperWords['invoice']): string =>
  (titles as Readonly<Record<string, string>>)[row.kind] ?? titles.sale;

/** The paper of an invoice or a credit note. */
export function invoicePaper(
  shop: House['shop'],
  row: Row,
  lines: readonly InvoiceLineRow[],
  terms: PaperTerms,
): InvoicePaper {
  const writing = writingOf(row);
  const { words } = writing;
  const { seller } = statedIn(row);
  return {
    size: shop.paper === 'A4' ? 'A4' : 'Letter',
    language: knownLanguage(row.language),
    madeAt: terms.madeAt,
    workshopName: row.seller_name,
    folio: wordsFor(row.language).page.folio,
    title: titleOf(row, words),
    labels: { to: words.head.to, ...words.columns },
    draftMark: terms.draftMark ?? null,
    number: row.number,
    seller: {
      name: row.seller_name,
      lines: textLines(row.seller_address),
      contact: [seller.email, seller.phone, seller.website].filter((part) => part !== ''),
    },
    buyer: { name: row.buyer_name, lines: textLines(row.buyer_address) },
    facts: [...dateFacts(row, writing, terms), ...partyFacts(row, writing)],
    lines: lines.map((line) => lineOf(line, writing)),
    totals: totalsOf(row, writing),
    payment: statedIn(row).settled ? null : paymentOf(row, statedIn(row).account),
    notes: notesOf(row, writing),
    remarks: row.kind === 'credit' ? [] : statedIn(row).remarks,
  };
}
