/** Totals of an invoice from its lines, held against EN 16931 before anything is printed. */
import { checkTotals, type Finding } from '../../domain/invoice-check.ts';
import type { VatCategory } from '../../domain/invoice-totals.ts';
import { sumOf } from '../../domain/integers.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { InvoicesTable } from '../../storage/schema-selling.ts';

export type Totals = Pick<InvoicesTable, 'net_minor' | 'tax_base_minor' | 'tax_minor' | 'total_minor'>;

/** Totals of lines without tax and the tax on them. Without a rate the whole net is the base. */
export function totalsOf(lines: readonly InvoiceLineRow[], taxMinor: number, ratePpm: number): Totals {
  const net_minor = sumOf(lines, (line) => line.net_minor);
  const taxed = sumOf(lines, (line) => (line.tax_rate_ppm > 0 ? line.net_minor : 0));
  return {
    net_minor,
    tax_base_minor: ratePpm > 0 ? taxed : net_minor,
    tax_minor: taxMinor,
    total_minor: net_minor + taxMinor,
  };
}

const CATEGORIES: ReadonlySet<string> = new Set(['S', 'Z', 'E', 'AE', 'O', 'K', 'G', 'L', 'M', 'B']);
const isCategory = (text: string): text is VatCategory => CATEGORIES.has(text);

/** The category of a line: what it says, or by its rate. */
const categoryOf = (line: Pick<InvoiceLineRow, 'tax_category' | 'tax_rate_ppm'>): VatCategory => {
  if (line.tax_rate_ppm > 0) return isCategory(line.tax_category) ? line.tax_category : 'S';
  return isCategory(line.tax_category) && line.tax_category !== 'S' ? line.tax_category : 'Z';
};

/**
 * True where tax differs from rate × net by rounding alone: at most one unit a line, and one more for tax taken over
 * from another program. The standard allows less than one whole unit of currency, which is nothing at all in a
 * currency without decimals; but tax contained in a price cannot always be met by a whole net amount.
 */
const isRounding = (finding: Finding, lines: number): boolean =>
  finding.rule === 'BR-CO-17' && Math.abs(finding.expectedMinor - finding.givenMinor) <= lines + 1;

/** Tax by category and rate: all of it is on the one rate an invoice has; the rest is without. */
function groupsOf(lines: readonly InvoiceLineRow[], taxMinor: number) {
  const groups = new Map<string, { category: VatCategory; ratePpm: number; taxableMinor: number }>();
  for (const line of lines) {
    const category = categoryOf(line);
    const key = `${category} ${String(line.tax_rate_ppm)}`;
    const before = groups.get(key)?.taxableMinor ?? 0;
    groups.set(key, { category, ratePpm: line.tax_rate_ppm, taxableMinor: before + line.net_minor });
  }
  return [...groups.values()].map((group) => ({ ...group, taxMinor: group.ratePpm > 0 ? taxMinor : 0 }));
}

/**
 * Holds the totals against EN 16931 before they are printed. A cent between tax by line and tax on the sum is
 * allowed there; anything the standard forbids is a mistake of ours and must not reach a buyer.
 * @param rounded how many lines may each have rounded a unit; of a part credit those of the invoice it is a part of
 */
export function assertTotals(
  lines: readonly InvoiceLineRow[],
  totals: Totals & { readonly prepaid_minor: number },
  decimals: number,
  rounded = lines.length,
): void {
  const findings = checkTotals({
    decimals,
    lines: lines.map((line) => ({
      category: categoryOf(line),
      ratePpm: line.tax_rate_ppm,
      qty: { value: line.qty, scale: line.qty_scale },
      price: { value: line.unit_price_minor, scale: decimals },
      netMinor: line.net_minor,
    })),
    linesMinor: totals.net_minor,
    allowancesMinor: 0,
    chargesMinor: 0,
    exTaxMinor: totals.net_minor,
    groups: groupsOf(lines, totals.tax_minor),
    taxMinor: totals.tax_minor,
    incTaxMinor: totals.total_minor,
    prepaidMinor: totals.prepaid_minor,
    roundingMinor: 0,
    dueMinor: totals.total_minor - totals.prepaid_minor,
  });
  const worst = findings.find(
    (finding) =>
      (finding.severity === 'fail' && !isRounding(finding, rounded)) || finding.rule === 'line-net',
  );
  if (worst) throw new Error(`Invoice totals do not hold: ${worst.rule} ${worst.message}`);
}
