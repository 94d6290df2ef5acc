/** What article 226 of the VAT Directive would miss on an invoice that is about to be issued. */
import { invalid } from '../../api/errors.ts';
import type { ParticularsCheck } from '../../api/billing.ts';
import type { Parsed } from '../../api/contract.ts';
import { isInUnion, missingParticulars } from '../../domain/invoice-particulars.ts';
import type { QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { type InvoiceSpec, unissuedRow } from '../selling/compose.ts';
import { specOfSale } from '../selling/plan.ts';
import { needSale } from '../selling/sale-rows.ts';
import { draftTerms, specOfDraft } from './drafts.ts';

function specOf(ctx: QueryContext, input: Parsed<'billing.check'>): InvoiceSpec {
  if (input.saleId !== undefined) return specOfSale(ctx.db, needSale(ctx.db, input.saleId));
  if (input.draftId !== undefined) return specOfDraft(ctx.db, input.draftId, ctx.clock.today());
  throw invalid('Say which sale or draft to look at.', 'saleId');
}

/** Holds an invoice that is not issued yet against the article, where the workshop is in the Union. */
export function checkParticulars(ctx: QueryContext, input: Parsed<'billing.check'>): ParticularsCheck {
  const house = houseOf(ctx.db);
  if (!isInUnion(house.shop.country)) return { applies: false, missing: [] };
  const spec = specOf(ctx, input);
  const row = unissuedRow(ctx.db, spec, draftTerms(ctx));
  const missing = missingParticulars({
    issuedOn: row.issued_on,
    // Drawn when it is issued; there is none before.
    number: 'drawn at issue',
    sellerTaxNumber: row.seller_tax_number,
    buyerTaxNumber: spec.buyer.tax_number,
    sellerName: row.seller_name,
    sellerAddress: row.seller_address,
    buyerName: row.buyer_name,
    buyerAddress: row.buyer_address,
    lines: spec.lines,
    taxableMinor: row.tax_base_minor,
    ratePpm: spec.tax.tax_place_id === null ? null : row.tax_rate_ppm,
    taxMinor: row.tax_minor,
    category: row.tax_category,
    reason: row.tax_reason,
  });
  return { applies: true, missing };
}
