/** The invoice of a sale. */
import { invalid } from '../../api/errors.ts';
import type { InvoicePaper } from '../../documents/types.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { KnifeForSale } from '../../storage/queries/selling.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import { houseOf } from '../costs/house.ts';
import { netOf } from '../costs/net.ts';
import { type PaperWords, wordsFor } from '../paper-words/index.ts';
import { needBuyer } from './buyers.ts';
import {
  draftPaperOf,
  type InvoicedBuyer,
  type InvoicePlan,
  type InvoiceSpec,
  type IssueTerms,
  planInvoiceOf,
} from './compose.ts';
import { needKnife } from './sale.ts';

/** One piece of a thing, without tax. */
export const oneOf = (
  what: { readonly description: string; readonly detail: string },
  netMinor: number,
  tax: { readonly ratePpm: number; readonly category: string },
): InvoiceLineRow => ({
  ...what,
  qty: 1,
  qty_scale: 0,
  unit_code: 'C62',
  unit_price_minor: netMinor,
  net_minor: netMinor,
  tax_rate_ppm: tax.ratePpm,
  tax_category: tax.category,
});

/** Line of the knife and, where charged, of shipping; amounts without tax. */
function saleLines(sale: SalesTable, knife: KnifeForSale, words: PaperWords['invoice']): InvoiceLineRow[] {
  const net = netOf(sale);
  const title = knife.title === '' || knife.title === knife.model_name ? '' : `${knife.title}, `;
  const taxed = { ratePpm: sale.tax_rate_ppm, category: sale.tax_category };
  const untaxed = { ratePpm: 0, category: '' };
  const what = { description: knife.model_name, detail: `${title}${words.lines.serial(knife.serial)}` };
  const knifeLine = oneOf(what, net.priceMinor, taxed);
  if (net.shippingMinor === 0) return [knifeLine];
  // Where no tax is charged at all, shipping goes under the same category as the knife.
  const shipped = sale.tax_on_shipping === 1 || sale.tax_rate_ppm === 0 ? taxed : untaxed;
  return [knifeLine, oneOf({ description: words.lines.shipping, detail: '' }, net.shippingMinor, shipped)];
}

/**
 * What the invoice of a sale says.
 * @param buyer who buys, where they are not in the books yet
 */
export function specOfSale(db: ReadDb, sale: SalesTable, buyer?: InvoicedBuyer): InvoiceSpec {
  const who = buyer ?? needBuyer(db, sale.buyer_id);
  const words = wordsFor(who.language === '' ? houseOf(db).shop.language : who.language).invoice;
  return {
    kind: sale.flaw === '' ? 'sale' : 'second',
    saleId: sale.id,
    orderId: null,
    serviceId: null,
    buyer: who,
    supplyOn: sale.on_date,
    tax: sale,
    lines: saleLines(sale, needKnife(db, sale.build_id), words),
    taxMinor: sale.tax_minor,
    extraNotes: [],
    about: { buildId: sale.build_id, flaw: sale.flaw },
  };
}

/**
 * Plans the invoice of a sale.
 * @param buyer who buys, where they are not in the books yet
 * @throws FaultError when the day or the number does not fit
 */
export function planInvoice(
  db: ReadDb,
  sale: SalesTable,
  terms: IssueTerms,
  buyer?: InvoicedBuyer,
): InvoicePlan {
  if (terms.issuedOn < sale.on_date) {
    throw invalid(
      `The sale was on ${sale.on_date}; its invoice cannot be older. Change the date.`,
      terms.fields.issuedOn,
    );
  }
  return planInvoiceOf(db, specOfSale(db, sale, buyer), terms);
}

/** The same paper with a mark across it and no number. */
export const planDraft = (db: ReadDb, sale: SalesTable, terms: IssueTerms): InvoicePaper =>
  draftPaperOf(db, specOfSale(db, sale), terms);
