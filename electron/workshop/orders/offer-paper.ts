/** The offer as a paper: what the knife costs, what is asked ahead, and when that can be asked back. */
import { refused } from '../../api/errors.ts';
import type { FileOut } from '../../api/costs.ts';
import type { Parsed } from '../../api/contract.ts';
import type { InvoicePaper } from '../../documents/types.ts';
import { type AgreedTerms, depositFor } from '../../domain/deposits.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderOptionRows, type OrderRecord, orderTagOf, policyRows } from '../../storage/queries/orders.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import { netOf } from '../costs/net.ts';
import { dateIn, moneyIn, percentIn, wordsFor } from '../paper-words/index.ts';
import { dressed } from '../papers/look.ts';
import { textOf } from '../papers/texts.ts';
import { needBuyer } from '../selling/buyers.ts';
import { draftPaperOf } from '../selling/compose.ts';
import type { TaxColumns } from '../selling/reckon.ts';
import { languageOf } from './deposit.ts';
import { orderLines } from './lines.ts';
import { orderTax } from './money.ts';
import { agreedTerms, firstInForce } from './policies.ts';
import { needOrder, totalOf } from './rows.ts';

interface Offer {
  readonly order: OrderRecord;
  readonly language: string;
  readonly currency: string;
  readonly tax: TaxColumns;
  readonly totalMinor: number;
  readonly lines: readonly InvoiceLineRow[];
  /** By which the deposit would be asked; undefined where no rule is in force. */
  readonly terms: AgreedTerms | undefined;
}

function offerOf(db: ReadDb, order: OrderRecord, today: string): Offer {
  const totalMinor = totalOf(order);
  if (totalMinor === null) throw refused('No price was named yet. Make an offer first.');
  const language = languageOf(db, order);
  const words = wordsFor(language).order;
  const tax = orderTax(db, order, totalMinor);
  const lines = orderLines({
    totalMinor,
    specialMinor: order.special_minor,
    shippingMinor: order.shipping_minor,
    options: orderOptionRows(db, order.id),
    tax,
    knife: {
      description: order.model_name ?? words.lines.knife,
      detail: '',
    },
    words,
  });
  const terms = agreedTerms(order.terms) ?? firstInForce(policyRows(db), order.offered_on ?? today);
  return { order, language, currency: houseOf(db).currency, tax, totalMinor, lines, terms };
}

function factsOf({ order, language }: Offer, today: string): InvoicePaper['facts'] {
  const { facts } = wordsFor(language).order;
  const day = (iso: string): string => dateIn(language, iso);
  return [
    { label: facts.date, text: day(order.offered_on ?? today) },
    ...(order.answer_by === null ? [] : [{ label: facts.answerBy, text: day(order.answer_by) }]),
    ...(order.promised_on === null ? [] : [{ label: facts.promised, text: day(order.promised_on) }]),
  ];
}

function depositOf({ order, terms }: Offer): number {
  if (order.agreed_on !== null) return order.deposit_minor;
  if (terms === undefined) return 0;
  return depositFor(terms, {
    priceMinor: order.price_minor ?? 0,
    optionsMinor: order.options_minor,
    specialMinor: order.special_minor,
  });
}

/** What a made-to-order knife is priced at, as a paper totals it up. */
export interface PricedPaper {
  readonly language: string;
  readonly currency: string;
  readonly tax: TaxColumns;
  /** Knife, options and special material. */
  readonly totalMinor: number;
  readonly shippingMinor: number;
}

/** Net, tax and price, the price strong. */
export function priceTotals(of: PricedPaper): InvoicePaper['totals'] {
  const { language, currency, tax, totalMinor, shippingMinor } = of;
  const words = wordsFor(language);
  const money = (minor: number): string => moneyIn(language, minor, currency);
  const net = netOf({ ...tax, price_minor: totalMinor, shipping_minor: shippingMinor });
  const netMinor = net.priceMinor + net.shippingMinor;
  const base = net.taxBaseMinor === netMinor ? '' : money(net.taxBaseMinor);
  const taxLabel = words.invoice.totals.tax(tax.tax_label, percentIn(language, tax.tax_rate_ppm), base);
  return [
    ...(tax.tax_rate_ppm === 0
      ? []
      : [
          { label: words.invoice.totals.net, amount: money(netMinor), strong: false },
          { label: taxLabel, amount: money(tax.tax_minor), strong: false },
        ]),
    { label: `${words.order.totals.price}, ${currency}`, amount: money(net.totalMinor), strong: true },
  ];
}

function totalsOf(offer: Offer): InvoicePaper['totals'] {
  const { language, currency, order } = offer;
  const depositMinor = depositOf(offer);
  return [
    ...priceTotals({ ...offer, shippingMinor: order.shipping_minor }),
    ...(depositMinor === 0
      ? []
      : [
          {
            label: wordsFor(language).order.totals.deposit,
            amount: moneyIn(language, depositMinor, currency),
            strong: false,
          },
        ]),
  ];
}

function notesOf(offer: Offer, ownTerms: string): readonly string[] {
  const { order, language, terms } = offer;
  const { notes } = wordsFor(language).order;
  const kept = terms === undefined ? '' : percentIn(language, terms.keptPpm);
  const back =
    terms === undefined || depositOf(offer) === 0
      ? [notes.noDeposit]
      : [
          terms.refundable === 'always' ? notes.always : notes[terms.refundable](kept),
          notes.days(terms.depositDays, terms.balanceDays),
        ];
  return [
    ...(order.wish === '' ? [] : [notes.wish(order.wish)]),
    ...back,
    ...(order.promised_on === null ? [] : [notes.estimate]),
    ...ownTerms.split(/\n\s*\n/).filter((part) => part.trim() !== ''),
  ];
}

/** The paper of an offer, in the look of the workshop's invoices. */
export async function offerPdf(ctx: QueryContext, { id }: Parsed<'orders.offerPdf'>): Promise<FileOut> {
  const order = needOrder(ctx.db, id);
  const today = ctx.clock.today();
  const offer = offerOf(ctx.db, order, today);
  const base = draftPaperOf(
    ctx.db,
    {
      kind: 'sale',
      saleId: null,
      orderId: order.id,
      serviceId: null,
      buyer: needBuyer(ctx.db, order.buyer_id),
      supplyOn: today,
      tax: offer.tax,
      lines: offer.lines,
      taxMinor: offer.tax.tax_minor,
      extraNotes: [],
    },
    { invoiceId: '', issuedOn: today, note: '', madeAt: ctx.clock.now(), fields: { issuedOn: 'id' } },
  );
  const paper: InvoicePaper = {
    ...base,
    title: wordsFor(offer.language).order.title,
    draftMark: null,
    payment: null,
    number: orderTagOf(order.number),
    facts: factsOf(offer, today),
    totals: totalsOf(offer),
    notes: notesOf(offer, textOf(ctx.db, 'orderTerms', offer.language)),
  };
  return pdfOut(`Offer ${orderTagOf(order.number)}`, await ctx.renderer.invoice(dressed(ctx, paper)));
}
