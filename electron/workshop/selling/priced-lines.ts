/** Lines as written, with quantities and prices, turned into lines of an invoice under a tax place's rule. */
import { TooLarge } from '../../domain/integers.ts';
import { invalid } from '../../api/errors.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { priceTimesQty } from '../../domain/invoice-totals.ts';
import { decimalText, trimZeros } from '../../domain/rational.ts';
import { taxOn } from '../../domain/tax.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import { moneyIn, numberIn, wordsFor } from '../paper-words/index.ts';
import { type TaxColumns, taxColumns } from './reckon.ts';

/** A line as written. */
export interface PricedLine {
  readonly description: string;
  readonly detail: string;
  /** In units of 10^-qtyScale; below zero takes something off. */
  readonly qty: number;
  readonly qtyScale: number;
  /** As the place counts it: with the tax in it where its prices hold the tax. */
  readonly unitPriceMinor: number;
  readonly taxed: boolean;
}

export interface PricedLines {
  readonly tax: TaxColumns;
  /** Quantity × price of each line as written, rounded once. */
  readonly amountsMinor: readonly number[];
  /** Net. */
  readonly lines: readonly InvoiceLineRow[];
  readonly taxMinor: number;
}

/** Quantity × price. @throws FaultError naming the line when it is more than the books hold */
function amountOf(line: PricedLine, at: number, decimals: number): number {
  try {
    return priceTimesQty(
      {
        category: 'S',
        ratePpm: 0,
        qty: { value: line.qty, scale: line.qtyScale },
        price: { value: line.unitPriceMinor, scale: decimals },
      },
      decimals,
    );
  } catch (error) {
    if (!(error instanceof TooLarge)) throw error;
    throw invalid(
      `Line ${String(at + 1)} comes to more than the books can hold. Check quantity and price.`,
      `lines.${String(at)}.unitPriceMinor`,
    );
  }
}

/**
 * Tax of each line. Rounded by line each is its own; rounded once for the invoice, a line's tax is what the running sum
 * gained, so that the lines add up to the tax on the whole.
 */
function taxes(tax: TaxColumns, amounts: readonly number[], lines: readonly PricedLine[]): readonly number[] {
  const inclusive = tax.tax_inclusive === 1;
  let sum = 0;
  return amounts.map((amount, at) => {
    if (lines[at]?.taxed !== true) return 0;
    if (tax.tax_rounding === 'line') return taxOn(amount, tax.tax_rate_ppm, inclusive);
    const before = taxOn(sum, tax.tax_rate_ppm, inclusive);
    sum += amount;
    return taxOn(sum, tax.tax_rate_ppm, inclusive) - before;
  });
}

/** A net amount whose price per unit is not whole becomes one piece, with what was counted in words beside it. */
function rowOf(line: PricedLine, netMinor: number, habit: LineHabit, tax: TaxColumns): InvoiceLineRow {
  const onIt = line.taxed && tax.tax_rate_ppm > 0;
  const common = {
    description: line.description,
    unit_code: 'C62',
    net_minor: netMinor,
    tax_rate_ppm: onIt ? tax.tax_rate_ppm : 0,
    tax_category: onIt || tax.tax_rate_ppm === 0 ? tax.tax_category : '',
  };
  const counted = { detail: line.detail, qty: line.qty, qty_scale: line.qtyScale };
  if (tax.tax_inclusive === 0 || !onIt)
    return { ...common, ...counted, unit_price_minor: line.unitPriceMinor };
  const top = BigInt(netMinor) * 10n ** BigInt(line.qtyScale);
  const qty = BigInt(line.qty);
  if (top % qty === 0n && top / qty >= 0n)
    return { ...common, ...counted, unit_price_minor: Number(top / qty) };
  const { language, currency } = habit;
  const text = numberIn(language, trimZeros(decimalText(line.qty, line.qtyScale)));
  const words = wordsFor(language).invoice.lines.taxInside(
    `${text} × ${moneyIn(language, line.unitPriceMinor, currency)}`,
  );
  const sign = netMinor < 0 ? -1 : 1;
  return {
    ...common,
    detail: line.detail === '' ? words : `${line.detail}; ${words}`,
    qty: sign,
    qty_scale: 0,
    unit_price_minor: netMinor * sign,
  };
}

/** What the lines are counted in, and the language of the paper they stand on. */
export interface LineHabit {
  /** ISO 4217 code. */
  readonly currency: string;
  readonly language: string;
}

/**
 * Reckons lines under a place's rule of today; none is charged without a place.
 * @throws FaultError for an unknown place, a sum below zero, or more than the books can hold
 */
export function priceLines(
  db: ReadDb,
  placeId: string | null,
  lines: readonly PricedLine[],
  habit: LineHabit,
): PricedLines {
  const decimals = decimalsOf(habit.currency);
  const rule = taxColumns(db, placeId, 0, 0);
  const amountsMinor = lines.map((line, at) => amountOf(line, at, decimals));
  const each = taxes(rule, amountsMinor, lines);
  const inside = rule.tax_inclusive === 1;
  const rows = lines.map((line, at) => {
    const net = (amountsMinor[at] ?? 0) - (inside ? (each[at] ?? 0) : 0);
    return rowOf(line, net === 0 ? 0 : net, habit, rule);
  });
  const taxMinor = each.reduce((sum, one) => sum + one, 0);
  const total = rows.reduce((sum, row) => sum + row.net_minor, taxMinor);
  if (total < 0)
    throw invalid('The lines come to less than zero. An invoice cannot ask for less than nothing.', 'lines');
  return { tax: { ...rule, tax_minor: taxMinor }, amountsMinor, lines: rows, taxMinor };
}
