/** An invented invoice in the maker's own look, to judge it by before it is used. */
import type { Parsed } from '../../api/contract.ts';
import type { FileOut } from '../../api/costs.ts';
import type { InvoicePaper } from '../../documents/types.ts';
import { addDays } from '../../domain/calendar.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf, type House } from '../costs/house.ts';
import { wordsFor } from '../paper-words/index.ts';
import { invoicePaper } from '../selling/paper.ts';
import { printedAddress, sellerParty } from '../selling/particulars.ts';
import { lookOf } from './look.ts';
import { demandAccent, demandLanguage } from './settings.ts';

interface SampleTerms {
  readonly language: string;
  /** UTC ISO instant. */
  readonly madeAt: string;
}

const invented = { priceMinor: 40_000, shippingMinor: 1500 };

/** A row as an issued invoice has it. */
function sampleRow(house: House, { language, madeAt }: SampleTerms) {
  const day = madeAt.slice(0, 10);
  const { sample } = wordsFor(language).page;
  const seller = sellerParty(house);
  const total = invented.priceMinor + invented.shippingMinor;
  const { iban, bic, bank_name: bankName } = house.shop;
  return {
    id: '',
    series: '',
    series_no: 0,
    number: `${day.slice(0, 4)}-0001`,
    kind: 'sale',
    sale_id: null,
    order_id: null,
    service_id: null,
    buyer_id: '',
    issued_on: day,
    supply_on: day,
    due_on: addDays(day, house.shop.invoice_terms_days),
    currency: house.currency,
    language,
    seller_name: seller.name,
    seller_address: printedAddress(seller, house.shop.country),
    seller_tax_number: seller.taxNumber,
    buyer_name: sample.buyer,
    buyer_address: sample.address,
    particulars: JSON.stringify({ seller, account: { iban, bic, bankName } }),
    net_minor: total,
    tax_label: '',
    tax_rate_ppm: 0,
    tax_base_minor: 0,
    tax_minor: 0,
    tax_category: '',
    tax_reason: '',
    total_minor: total,
    prepaid_minor: 0,
    prepaid_tax_minor: 0,
    note: house.shop.invoice_note === '' ? sample.note : house.shop.invoice_note,
    credits_id: null,
    tax_on: null,
  };
}

const line = (description: string, detail: string, minor: number) => ({
  description,
  detail,
  qty: 1,
  qty_scale: 0,
  unit_code: 'C62',
  unit_price_minor: minor,
  net_minor: minor,
  tax_rate_ppm: 0,
  tax_category: '',
});

/** The invented invoice as finished text. */
export function samplePaper(db: ReadDb, terms: SampleTerms): InvoicePaper {
  const house = houseOf(db);
  const { page, invoice } = wordsFor(terms.language);
  const lines = [
    line(page.sample.knife, page.sample.detail, invented.priceMinor),
    line(invoice.lines.shipping, '', invented.shippingMinor),
  ];
  return invoicePaper(house.shop, sampleRow(house, terms), lines, {
    madeAt: terms.madeAt,
    draftMark: page.sample.mark,
  });
}

/** The invented invoice in a look that need not be saved yet. */
export async function sample(ctx: QueryContext, input: Parsed<'papers.sample'>): Promise<FileOut> {
  demandLanguage(input.language);
  demandAccent(input.accent);
  const paper = samplePaper(ctx.db, { language: input.language, madeAt: ctx.clock.now() });
  const look = { ...lookOf(ctx), accent: input.accent === '' ? null : input.accent };
  const pdf = await ctx.renderer.invoice({ ...paper, size: input.size, look });
  return pdfOut(wordsFor(input.language).page.sample.mark, pdf);
}
