/** The quote as a paper: the knife that was wished for, its price, and how long it holds. None of the working is on it. */
import type { Parsed } from '../../api/contract.ts';
import type { FileOut } from '../../api/costs.ts';
import type { InvoicePaper } from '../../documents/types.ts';
import { bladeText } from '../../domain/blade.ts';
import type { ReadDb } from '../../storage/db.ts';
import { quoteOptionRows, type QuoteRecord, quoteTagOf } from '../../storage/queries/quotes.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import { orderLines } from '../orders/lines.ts';
import { priceTotals } from '../orders/offer-paper.ts';
import { dateIn, wordsFor } from '../paper-words/index.ts';
import { dressed } from '../papers/look.ts';
import { textOf } from '../papers/texts.ts';
import { needBuyer } from '../selling/buyers.ts';
import { draftPaperOf } from '../selling/compose.ts';
import { taxColumns } from '../selling/reckon.ts';
import { needQuote, toQuoteRow } from './rows.ts';

/** Size, steel and finish in a line. */
function detailOf(db: ReadDb, record: QuoteRecord, language: string): string {
  const { quote } = wordsFor(language);
  const inches = language === 'en' && houseOf(db).shop.length_habit === 'inch';
  return [
    record.blade_nm === null ? '' : quote.blade(bladeText(record.blade_nm, inches)),
    record.steel === '' ? '' : quote.steel(record.steel),
    record.finish,
  ]
    .filter((part) => part !== '')
    .join(', ');
}

function factsOf(record: QuoteRecord, language: string): InvoicePaper['facts'] {
  const { facts } = wordsFor(language).quote;
  return [
    { label: facts.date, text: dateIn(language, record.on_date) },
    { label: facts.validUntil, text: dateIn(language, record.valid_until) },
    ...(record.promised_on === null
      ? []
      : [{ label: facts.expected, text: dateIn(language, record.promised_on) }]),
  ];
}

function notesOf(record: QuoteRecord, language: string, ownTerms: string): readonly string[] {
  const { notes } = wordsFor(language).quote;
  return [
    ...(record.wish === '' ? [] : [notes.wish(record.wish)]),
    notes.valid(dateIn(language, record.valid_until)),
    ...(record.promised_on === null ? [] : [notes.estimate]),
    ...ownTerms.split(/\n\s*\n/).filter((part) => part.trim() !== ''),
  ];
}

/** The paper of a quote, in the look of the workshop's invoices. */
export async function quotePdf(ctx: QueryContext, { id }: Parsed<'quotes.pdf'>): Promise<FileOut> {
  const { db } = ctx;
  const record = needQuote(db, id, ctx.clock.today());
  const buyer = needBuyer(db, record.buyer_id);
  const { currency, shop } = houseOf(db);
  const language = buyer.language === '' ? shop.language : buyer.language;
  const { totalMinor } = toQuoteRow(record, record.on_date);
  const shippingMinor = record.shipping_minor;
  const tax = taxColumns(db, record.tax_place_id, totalMinor, shippingMinor);
  const lines = orderLines({
    totalMinor,
    specialMinor: record.special_minor,
    shippingMinor,
    options: quoteOptionRows(db, id).map(({ quote_id: _quote, ...option }) => ({ ...option, order_id: '' })),
    tax,
    knife: { description: record.model_name, detail: detailOf(db, record, language) },
    words: wordsFor(language).order,
  });
  const base = draftPaperOf(
    db,
    {
      kind: 'sale',
      saleId: null,
      orderId: null,
      serviceId: null,
      buyer,
      supplyOn: record.on_date,
      tax,
      lines,
      taxMinor: tax.tax_minor,
      extraNotes: [],
    },
    {
      invoiceId: '',
      issuedOn: record.on_date,
      note: '',
      madeAt: ctx.clock.now(),
      fields: { issuedOn: 'id' },
    },
  );
  const tag = quoteTagOf(record.number);
  const paper: InvoicePaper = {
    ...base,
    title: wordsFor(language).quote.title,
    draftMark: null,
    payment: null,
    number: tag,
    facts: factsOf(record, language),
    totals: priceTotals({ language, currency, tax, totalMinor, shippingMinor }),
    notes: notesOf(record, language, textOf(db, 'orderTerms', language)),
  };
  return pdfOut(`Quote ${tag}`, await ctx.renderer.invoice(dressed(ctx, paper)));
}
