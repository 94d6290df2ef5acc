/** What an invoice says in the terms of EN 16931, from its rows as issued. Amounts of a credit are turned to positive. */
import { decimalsOf } from '../../../domain/currencies.ts';
import { plainIban } from '../../../domain/iban.ts';
import { referenceOf } from '../../../domain/payment-reference.ts';
import { decimalText } from '../../../domain/rational.ts';
import type { InvoiceLinesTable, InvoicesTable } from '../../../storage/schema-selling.ts';
import type { Particulars } from '../../selling/particulars.ts';
import { statedIn } from '../stated.ts';

/** Duty or tax category of UNTDID 5305. */
export type Category = 'S' | 'Z' | 'E' | 'AE' | 'K' | 'G' | 'O';

export interface StatedLine {
  readonly name: string;
  readonly detail: string;
  readonly qty: string;
  readonly unitCode: string;
  readonly price: string;
  readonly net: string;
  readonly category: Category;
  /** Percent; null where the category has none. */
  readonly rate: string | null;
}

/** One group of the tax breakdown, BG-23. */
export interface StatedGroup {
  readonly category: Category;
  readonly rate: string | null;
  readonly base: string;
  readonly tax: string;
  readonly reason: string;
  readonly reasonCode: string;
}

/** Another invoice that this one names, BG-3. */
interface Named {
  readonly number: string;
  readonly issuedOn: string;
}

export interface Statement {
  readonly number: string;
  /** UNTDID 1001: 380 invoice, 381 credit, 386 prepayment. */
  readonly typeCode: '380' | '381' | '386';
  readonly issuedOn: string;
  /** Null for a prepayment: nothing is supplied yet. */
  readonly suppliedOn: string | null;
  readonly dueOn: string;
  readonly currency: string;
  readonly notes: readonly string[];
  readonly seller: Particulars['seller'];
  readonly buyer: Particulars['buyer'];
  readonly account: Particulars['account'];
  readonly reference: string;
  readonly lines: readonly StatedLine[];
  readonly groups: readonly StatedGroup[];
  readonly named: readonly Named[];
  readonly net: string;
  readonly tax: string;
  readonly total: string;
  readonly prepaid: string;
  readonly due: string;
}

/** Usual reason codes of categories without tax (code list VATEX). */
const usualReasons: Readonly<Partial<Record<Category, string>>> = {
  AE: 'VATEX-EU-AE',
  K: 'VATEX-EU-IC',
  G: 'VATEX-EU-G',
  O: 'VATEX-EU-O',
};

const known: readonly string[] = ['S', 'Z', 'E', 'AE', 'K', 'G', 'O'];

function categoryOf(row: InvoicesTable, line: InvoiceLinesTable): Category {
  if (line.tax_rate_ppm > 0) return 'S';
  const given = line.tax_category === '' ? row.tax_category : line.tax_category;
  return known.includes(given) && given !== 'S' ? (given as Category) : 'Z';
}

const percentOf = (ppm: number): string => decimalText(ppm, 4).replace(/0{1,2}$/, '');

interface Sourced {
  readonly row: InvoicesTable;
  readonly lines: readonly InvoiceLinesTable[];
  /** The invoice a credit takes back. */
  readonly credited: Named | null;
}

/** Lines of the standard carry a price that is never below zero: a negative one turns into its quantity (BR-27). */
function lineOf({ row }: Sourced, line: InvoiceLinesTable, sign: 1 | -1): StatedLine {
  const decimals = decimalsOf(row.currency);
  const category = categoryOf(row, line);
  const turn = line.unit_price_minor < 0 ? -1 : 1;
  return {
    name: line.description,
    detail: line.detail,
    qty: decimalText(sign * turn * line.qty, line.qty_scale),
    unitCode: line.unit_code,
    price: decimalText(turn * line.unit_price_minor, decimals),
    net: decimalText(sign * line.net_minor, decimals),
    category,
    rate: category === 'O' ? null : percentOf(line.tax_rate_ppm),
  };
}

function groupsOf(source: Sourced, sign: 1 | -1): readonly StatedGroup[] {
  const { row, lines } = source;
  const decimals = decimalsOf(row.currency);
  const { reasonCode } = statedIn(row);
  const keys = [...new Set(lines.map((line) => `${categoryOf(row, line)} ${line.tax_rate_ppm}`))];
  return keys.map((key) => {
    const [name, rate] = key.split(' ') as [Category, string];
    const own = lines.filter((line) => `${categoryOf(row, line)} ${line.tax_rate_ppm}` === key);
    const base = own.reduce((sum, line) => sum + line.net_minor, 0);
    const untaxed = name !== 'S' && name !== 'Z';
    return {
      category: name,
      rate: name === 'O' ? null : percentOf(Number(rate)),
      base: decimalText(sign * base, decimals),
      tax: decimalText(name === 'S' ? sign * row.tax_minor : 0, decimals),
      reason: untaxed ? row.tax_reason : '',
      reasonCode: untaxed ? reasonCode || (usualReasons[name] ?? '') : '',
    };
  });
}

const typeOf = (kind: string): Statement['typeCode'] =>
  kind === 'credit' ? '381' : kind === 'deposit' ? '386' : '380';

/** @param source an issued invoice with its lines */
export function statementOf(source: Sourced): Statement {
  const { row, lines, credited } = source;
  const stated = statedIn(row);
  const sign = row.kind === 'credit' ? -1 : 1;
  const money = (minor: number): string => decimalText(sign * minor, decimalsOf(row.currency));
  const deposits = row.kind === 'credit' ? [] : stated.deposits;
  const notes = row.kind === 'credit' ? [] : [...stated.notes, ...stated.remarks.map(remarkLine)];
  return {
    number: row.number,
    typeCode: typeOf(row.kind),
    issuedOn: row.issued_on,
    suppliedOn: row.kind === 'deposit' ? null : row.supply_on,
    dueOn: row.due_on,
    currency: row.currency,
    notes: [row.note, ...notes].filter((note) => note.trim() !== ''),
    seller: stated.seller,
    buyer: stated.buyer,
    account: { ...stated.account, iban: plainIban(stated.account.iban) },
    reference: referenceOf(row.number) ?? row.number,
    lines: lines.map((line) => lineOf(source, line, sign)),
    groups: groupsOf(source, sign),
    named: [...deposits, ...(credited === null ? [] : [credited])],
    net: money(row.net_minor),
    tax: money(row.tax_minor),
    total: money(row.total_minor),
    prepaid: money(row.prepaid_minor),
    due: money(row.total_minor - row.prepaid_minor),
  };
}

const remarkLine = ({ heading, text }: { readonly heading: string; readonly text: string }): string =>
  `${heading}: ${text}`;
