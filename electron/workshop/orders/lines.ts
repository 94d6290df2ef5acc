/** Lines of what a knife made to order consists of: the knife, its options, special material and shipping. */
import { sumOf } from '../../domain/integers.ts';
import { taxOn } from '../../domain/tax.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { OrderOptionsTable } from '../../storage/schema-selling.ts';
import { netOf } from '../costs/net.ts';
import type { PaperWords } from '../paper-words/index.ts';
import { oneOf } from '../selling/plan.ts';
import type { TaxColumns } from '../selling/reckon.ts';

export interface OrderedParts {
  /** Price, options and special material together, as the place counts them. */
  readonly totalMinor: number;
  readonly specialMinor: number;
  readonly shippingMinor: number;
  readonly options: readonly OrderOptionsTable[];
  readonly tax: TaxColumns;
  /** What the knife is called, and what is said under it. */
  readonly knife: { readonly description: string; readonly detail: string };
  readonly words: PaperWords['order'];
}

/** Net lines that add up to the net of the whole; the knife's own line takes what rounding leaves. */
export function orderLines(parts: OrderedParts): InvoiceLineRow[] {
  const { tax, words } = parts;
  const net = netOf({ ...tax, price_minor: parts.totalMinor, shipping_minor: parts.shippingMinor });
  const netOfPart = (minor: number): number =>
    tax.tax_inclusive === 1 ? minor - taxOn(minor, tax.tax_rate_ppm, true) : minor;
  const taxed = { ratePpm: tax.tax_rate_ppm, category: tax.tax_category };
  const more = [
    ...parts.options.map((option) =>
      oneOf({ description: words.lines.option, detail: option.name }, netOfPart(option.price_minor), taxed),
    ),
    ...(parts.specialMinor === 0
      ? []
      : [oneOf({ description: words.lines.special, detail: '' }, netOfPart(parts.specialMinor), taxed)]),
  ];
  const knife = oneOf(parts.knife, net.priceMinor - sumOf(more, (line) => line.net_minor), taxed);
  // Where no tax is charged at all, shipping goes under the same category as the knife.
  const shipped = tax.tax_on_shipping === 1 || tax.tax_rate_ppm === 0 ? taxed : { ratePpm: 0, category: '' };
  const shipping =
    net.shippingMinor === 0
      ? []
      : [oneOf({ description: words.lines.shipping, detail: '' }, net.shippingMinor, shipped)];
  return [knife, ...more, ...shipping];
}
