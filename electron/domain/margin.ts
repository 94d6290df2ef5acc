/** Where the money went: sold knives added up by model, by month and over all. Every figure adds amounts already on the knives' sheets. */
import { contributionOf, perHour } from './earnings.ts';
import { sumOf } from './integers.ts';

/** One knife sold, amounts in the minor unit as its cost sheet shows them. */
export interface SoldKnife {
  readonly modelCode: string;
  readonly modelName: string;
  /** Day of the sale. */
  readonly on: string;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
  readonly taxMinor: number;
  readonly materialsMinor: number;
  readonly consumablesMinor: number;
  readonly energyMinor: number;
  readonly packagingMinor: number;
  readonly minutes: number;
  /**
   * The sale was taken back: what was kept of it stands as its price, what was spent on it is counted, and no knife.
   * Costs and minutes are zero.
   */
  readonly takenBack?: boolean;
}

export interface MarginTotal {
  /** Knives sold and not taken back. */
  readonly count: number;
  /** Prices, without shipping charged and tax, and what was kept of knives that came back. */
  readonly salesMinor: number;
  readonly directMinor: number;
  readonly contributionMinor: number;
  readonly minutes: number;
  /** Contribution of all over hours of all; null without hours. */
  readonly perHourMinor: number | null;
}

export interface ModelTotal extends MarginTotal {
  readonly modelCode: string;
  readonly modelName: string;
}

export interface MonthTotal {
  /** `YYYY-MM` */
  readonly month: string;
  readonly count: number;
  readonly salesMinor: number;
  readonly contributionMinor: number;
}

/** Where price and shipping charged went; `left` is the contribution. */
export type WentKey = 'materials' | 'consumables' | 'energy' | 'packaging' | 'postage' | 'fees' | 'left';

export interface WentPart {
  readonly key: WentKey;
  readonly label: string;
  readonly amountMinor: number;
}

export interface MarginReport {
  readonly total: MarginTotal & { readonly taxCollectedMinor: number };
  /** Most contribution first. */
  readonly models: readonly ModelTotal[];
  /** Months with sales, in order. */
  readonly months: readonly MonthTotal[];
  readonly went: readonly WentPart[];
}

/** Materials, consumables, energy and packaging of a knife. */
export const directOf = (knife: SoldKnife): number =>
  knife.materialsMinor + knife.consumablesMinor + knife.energyMinor + knife.packagingMinor;

/**
 * What is left of a sale that was taken back: postage and fee as a cost, what was kept for restocking as income.
 * @param keptMinor without tax
 */
export const takenBack = (knife: SoldKnife, keptMinor: number): SoldKnife => ({
  ...knife,
  priceMinor: keptMinor,
  shippingMinor: 0,
  taxMinor: 0,
  materialsMinor: 0,
  consumablesMinor: 0,
  energyMinor: 0,
  packagingMinor: 0,
  minutes: 0,
  takenBack: true,
});

/** What the knife left: see `contributionOf`. */
export const leftOf = (knife: SoldKnife): number =>
  contributionOf({ ...knife, directMinor: directOf(knife) });

const totalOf = (knives: readonly SoldKnife[]): MarginTotal => {
  const contributionMinor = sumOf(knives, leftOf);
  const minutes = sumOf(knives, (knife) => knife.minutes);
  return {
    count: knives.filter((knife) => knife.takenBack !== true).length,
    salesMinor: sumOf(knives, (knife) => knife.priceMinor),
    directMinor: sumOf(knives, directOf),
    contributionMinor,
    minutes,
    perHourMinor: perHour(contributionMinor, minutes),
  };
};

const groupBy = (
  knives: readonly SoldKnife[],
  key: (knife: SoldKnife) => string,
): Map<string, SoldKnife[]> => {
  const groups = new Map<string, SoldKnife[]>();
  for (const knife of knives) groups.set(key(knife), [...(groups.get(key(knife)) ?? []), knife]);
  return groups;
};

const byModel = (knives: readonly SoldKnife[]): ModelTotal[] =>
  [...groupBy(knives, (knife) => knife.modelCode)]
    .map(([modelCode, rows]) => ({ modelCode, modelName: rows[0]?.modelName ?? modelCode, ...totalOf(rows) }))
    .sort((a, b) => b.contributionMinor - a.contributionMinor || (a.modelCode < b.modelCode ? -1 : 1));

const byMonth = (knives: readonly SoldKnife[]): MonthTotal[] =>
  [...groupBy(knives, (knife) => knife.on.slice(0, 7))]
    .map(([month, rows]) => {
      const { count, salesMinor, contributionMinor } = totalOf(rows);
      return { month, count, salesMinor, contributionMinor };
    })
    .sort((a, b) => (a.month < b.month ? -1 : 1));

const WENT: readonly (readonly [WentKey, string, (knife: SoldKnife) => number])[] = [
  ['materials', 'Materials', (knife) => knife.materialsMinor],
  ['consumables', 'Consumables', (knife) => knife.consumablesMinor],
  ['energy', 'Fuel and current', (knife) => knife.energyMinor],
  ['packaging', 'Packaging', (knife) => knife.packagingMinor],
  ['postage', 'Postage paid', (knife) => knife.postageMinor],
  ['fees', 'Payment fees', (knife) => knife.feeMinor],
  ['left', 'Left for hours and overhead', leftOf],
];

/** Adds up sold knives. The parts of `went` add up to prices and shipping charged. */
export const marginReport = (knives: readonly SoldKnife[]): MarginReport => ({
  total: { ...totalOf(knives), taxCollectedMinor: sumOf(knives, (knife) => knife.taxMinor) },
  models: byModel(knives),
  months: byMonth(knives),
  went: WENT.map(([key, label, pick]) => ({ key, label, amountMinor: sumOf(knives, pick) })),
});
