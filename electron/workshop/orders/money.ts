/** What an order comes to with tax, and what is paid ahead on it. */
import type { OrderMoney, OrderPaper } from '../../api/orders.ts';
import { invalid } from '../../api/errors.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { OrderPaperRecord, OrderRecord } from '../../storage/queries/orders.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import { netOf } from '../costs/net.ts';
import { type TaxColumns, taxColumns } from '../selling/reckon.ts';
import { totalOf } from './rows.ts';

/** A deposit invoice counted towards the knife: never more than it still asks for, so that money paid too much is not counted twice. */
export interface CountedDeposit {
  readonly invoiceId: string;
  readonly number: string;
  readonly issuedOn: string;
  readonly paidMinor: number;
  /** Tax in it. */
  readonly taxMinor: number;
  readonly feeMinor: number;
}

export const isDeposit = (paper: OrderPaperRecord): boolean => paper.kind === 'deposit';

/** What an invoice asks for after its credits. */
export const askedOf = (paper: OrderPaperRecord): number => paper.total_minor - paper.credited_minor;

/** Still to pay; below zero is money to give back. A credit asks for nothing. */
export const openOfPaper = (paper: OrderPaperRecord): number =>
  paper.kind === 'credit' ? 0 : askedOf(paper) - paper.prepaid_minor - paper.paid_minor;

/** The deposits of an order with what of each counts. */
export const countedDeposits = (papers: readonly OrderPaperRecord[]): readonly CountedDeposit[] =>
  papers.filter(isDeposit).flatMap((paper) => {
    const paidMinor = Math.min(paper.paid_minor, askedOf(paper));
    const tax = paper.tax_minor - paper.credited_tax_minor;
    const asked = askedOf(paper);
    if (paidMinor <= 0) return [];
    return [
      {
        invoiceId: paper.id,
        number: paper.number,
        issuedOn: paper.issued_on,
        paidMinor,
        taxMinor: mulDiv(tax, paidMinor, asked),
        feeMinor: paper.fee_minor,
      },
    ];
  });

/**
 * Asked ahead on deposit invoices and not credited, as the place counts prices: with the tax in it where they hold it.
 * @param placeId whose counting it is
 */
export function askedAhead(db: ReadDb, placeId: string | null, papers: readonly OrderPaperRecord[]): number {
  const inclusive = placeId !== null && taxPlaceRow(db, placeId)?.inclusive === 1;
  return sumOf(papers.filter(isDeposit), (paper) =>
    inclusive ? askedOf(paper) : askedOf(paper) - paper.tax_minor + paper.credited_tax_minor,
  );
}

/** Fees of every charge on the deposits, also of one that does not count. */
export const depositFees = (papers: readonly OrderPaperRecord[]): number =>
  sumOf(papers.filter(isDeposit), (paper) => paper.fee_minor);

/** Deposit invoices that still ask for money. */
export const unpaidDeposits = (papers: readonly OrderPaperRecord[]): readonly OrderPaperRecord[] =>
  papers.filter((paper) => isDeposit(paper) && openOfPaper(paper) > 0);

/**
 * What was asked and paid ahead was so before the order ended.
 * @param ends what happens to it, e.g. `the knife is delivered`
 * @throws FaultError of the field `on` naming the day
 */
export function demandAfterMoney(papers: readonly OrderPaperRecord[], on: string, ends: string): void {
  for (const { number, issued_on: issuedOn, paid_on: paidOn } of papers) {
    if (paidOn !== null && on < paidOn)
      throw invalid(
        `Money on invoice ${number} is booked on ${paidOn}; ${ends} that day or later. Change the date.`,
        'on',
      );
    if (on < issuedOn)
      throw invalid(`Invoice ${number} is of ${issuedOn}; ${ends} that day or later. Change the date.`, 'on');
  }
}

/** Tax on the whole order by its place. */
export const orderTax = (db: ReadDb, order: OrderRecord, totalMinor: number): TaxColumns =>
  taxColumns(db, order.tax_place_id, totalMinor, order.shipping_minor);

/** What the order comes to; null while there is no price. */
export function moneyOf(
  db: ReadDb,
  order: OrderRecord,
  papers: readonly OrderPaperRecord[],
): OrderMoney | null {
  const totalMinor = totalOf(order);
  if (totalMinor === null) return null;
  const tax = orderTax(db, order, totalMinor);
  const net = netOf({ ...tax, price_minor: totalMinor, shipping_minor: order.shipping_minor });
  // What the final invoice took off stands on it, whatever became of the deposits since.
  const final = papers.find((paper) => paper.kind === 'balance');
  const prepaidMinor = final?.prepaid_minor ?? sumOf(countedDeposits(papers), (deposit) => deposit.paidMinor);
  return {
    netMinor: net.priceMinor + net.shippingMinor,
    taxLabel: tax.tax_label,
    taxRatePpm: tax.tax_rate_ppm,
    taxMinor: tax.tax_minor,
    grossMinor: net.totalMinor,
    depositMinor: order.deposit_minor,
    prepaidMinor,
    balanceMinor: net.totalMinor - prepaidMinor,
  };
}

/** An order's invoices as its page shows them. */
export const toOrderPaper = (paper: OrderPaperRecord): OrderPaper => ({
  invoiceId: paper.id,
  number: paper.number,
  kind: paper.kind,
  on: paper.issued_on,
  totalMinor: paper.total_minor,
  paidMinor: paper.paid_minor,
  openMinor: openOfPaper(paper),
});
