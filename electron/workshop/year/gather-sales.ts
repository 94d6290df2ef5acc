/** Gathers the knives that went out in a year, or came back: what they brought and what each had cost. In steps. */
import { addDays } from '../../domain/calendar.ts';
import { keptTax } from '../../domain/restocking.ts';
import type { SaleDelta, SaleFacts } from '../../domain/year-sales.ts';
import { saleIn, standingAt } from '../../domain/year-sales.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type Days,
  earlierSales,
  endedKnives,
  saleCredits,
  salesIn,
  type SheetRule,
  type SheetSum,
  type YearSale,
} from '../../storage/queries/year-knives.ts';
import { netOf } from '../costs/net.ts';
import { directOf, sheetsAt } from './gather-goods.ts';
import { monthsIn } from './months.ts';
import type { Steps } from '../../domain/steps.ts';

/** Costs of a knife by use, minor units. */
export type Costs = Omit<SheetSum, 'build_id'>;

/** One sale's part in the year. */
export interface SoldFact {
  readonly sale: YearSale;
  readonly facts: SaleFacts;
  readonly delta: SaleDelta;
  readonly costs: Costs;
  readonly directMinor: number;
  /** Fee of the charge on its own invoice, on the day of the sale; those of deposits count on the day they were paid. */
  readonly ownFeeMinor: number;
  readonly way: 'direct' | 'order' | 'early' | 'public' | 'second';
}

/** A knife that ended without a sale. */
export interface EndedFact {
  readonly id: string;
  readonly serial: string;
  readonly modelName: string;
  readonly state: string;
  readonly on: string;
  readonly reason: string;
  readonly minutes: number;
  readonly directMinor: number;
}

const NO_COSTS: Costs = { materials: 0, consumables: 0, energy: 0, packaging: 0 };

const minus = (a: Costs, b: Costs): Costs => ({
  materials: a.materials - b.materials,
  consumables: a.consumables - b.consumables,
  energy: a.energy - b.energy,
  packaging: a.packaging - b.packaging,
});

function factsOf(sale: YearSale, credits: SaleFacts['credits']): SaleFacts {
  const net = netOf(sale);
  return {
    id: sale.id,
    buildId: sale.build_id,
    on: sale.on_date,
    takenBackOn: sale.taken_back_on,
    hasInvoice: sale.invoice_id !== null,
    priceMinor: net.priceMinor,
    shippingMinor: net.shippingMinor,
    taxMinor: sale.tax_minor,
    keptMinor: sale.kept_minor,
    keptTaxMinor:
      sale.kept_minor === 0 || sale.tax_minor === 0
        ? 0
        : keptTax(sale.kept_minor, {
            ratePpm: sale.tax_rate_ppm,
            inclusive: sale.tax_inclusive === 1,
          }),
    credits,
    postageMinor: sale.postage_paid_minor,
    feeMinor: sale.fee_minor,
    minutes: sale.minutes,
  };
}

const wayOf = (sale: YearSale): SoldFact['way'] => {
  if (sale.flaw !== '') return 'second';
  if (sale.order_id !== null) return 'order';
  if (sale.release_id === null) return 'direct';
  return sale.early === 1 ? 'early' : 'public';
};

function creditsBySale(
  db: ReadDb,
  span: Days,
  late: readonly string[],
): ReadonlyMap<string, SaleFacts['credits'][number][]> {
  const credits = new Map<string, SaleFacts['credits'][number][]>();
  for (const row of saleCredits(db, span, late)) {
    const one = { on: row.issued_on, netMinor: row.net_minor, taxMinor: row.tax_minor };
    credits.set(row.sale_id, [...(credits.get(row.sale_id) ?? []), one]);
  }
  return credits;
}

/**
 * Every sale that makes a difference to the year. What a knife cost goes with it when it leaves, comes back with it,
 * and what was booked on it after it had left counts in the year it was booked.
 * @param late knives sold before that something was booked on in the year
 */
export function* gatherSold(
  db: ReadDb,
  span: Days,
  late: readonly string[],
  rule: SheetRule,
): Steps<readonly SoldFact[]> {
  const before = addDays(span.from, -1);
  const rows = earlierSales(db, span, late);
  yield;
  for (const month of monthsIn(span)) {
    rows.push(...salesIn(db, month));
    yield;
  }
  const credits = creditsBySale(db, span, late);
  yield;
  const sales = rows.map((sale) => ({ sale, facts: factsOf(sale, credits.get(sale.id) ?? []) }));
  yield;
  const outAt = (day: string): string[] =>
    sales.filter(({ facts }) => standingAt(facts, day).out).map(({ facts }) => facts.buildId);
  const [then, now] = [new Set(outAt(before)), new Set(outAt(span.to))];
  yield;
  const sheetsNow = yield* sheetsAt(db, [...now], span.to, rule);
  const sheetsThen = yield* sheetsAt(db, [...then], before, rule);
  const told = new Set<string>();
  return sales
    .toReversed()
    .map(({ sale, facts }): SoldFact => {
      // A knife sold twice carries its cost once, on the sale that stands.
      const first = !told.has(facts.buildId);
      told.add(facts.buildId);
      const costs = first
        ? minus(
            now.has(facts.buildId) ? (sheetsNow.get(facts.buildId) ?? NO_COSTS) : NO_COSTS,
            then.has(facts.buildId) ? (sheetsThen.get(facts.buildId) ?? NO_COSTS) : NO_COSTS,
          )
        : NO_COSTS;
      const delta = saleIn(facts, span);
      return {
        sale,
        facts,
        delta,
        costs,
        directMinor: directOf({ ...costs, build_id: '' }),
        ownFeeMinor: facts.on >= span.from ? sale.fee_minor - sale.deposit_fee_minor : 0,
        way: wayOf(sale),
      };
    })
    .toReversed();
}

/** Knives scrapped, kept or given away in the year, at what they had cost. */
export function* gatherEnded(db: ReadDb, span: Days, rule: SheetRule): Steps<readonly EndedFact[]> {
  const rows = endedKnives(db, span);
  const sheets = yield* sheetsAt(
    db,
    rows.map((row) => row.id),
    span.to,
    rule,
  );
  return rows.map((row) => ({
    id: row.id,
    serial: row.serial,
    modelName: row.model_name,
    state: row.state,
    on: row.ended_on ?? span.to,
    reason: row.end_reason,
    minutes: row.minutes,
    directMinor: directOf(sheets.get(row.id)),
  }));
}
