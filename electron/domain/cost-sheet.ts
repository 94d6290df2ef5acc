/**
 * The cost sheet of one knife. Each line is rounded once, half away from zero, and every total adds the lines shown;
 * so a reader with a pencil finds the same figures.
 */
import { minutesText } from './durations.ts';
import { contributionOf, perHour } from './earnings.ts';
import { mulDiv, roundHalfAwayBig, sum, sumOf, toSafe } from './integers.ts';
import { MICRO_DECIMALS, microToMinor } from './money.ts';

/** One row of the working behind a line. */
export interface CostEntry {
  readonly label: string;
  /** Quantity as a person reads it, e.g. `0.15 belt`. */
  readonly qtyText?: string;
  readonly valueMicro: number;
  /** Movements, sessions or rules it comes from. */
  readonly sources?: readonly string[];
}

/** One material as it stands on the sheet. */
export interface MaterialLine {
  readonly label: string;
  readonly entries: readonly CostEntry[];
}

/** Attended time of one session (or this knife's part of it) in one stage. */
export interface HourEntry {
  readonly label: string;
  readonly minutes: number;
  /** Entered from memory, not clocked. */
  readonly guessed: boolean;
  /** Labour rate in force on the session's date, micro per hour. */
  readonly rateMicro: number;
  /** Overhead rate in force on that date, micro per hour; the sheet's own rate when left out. */
  readonly overheadRateMicro?: number;
  readonly sources?: readonly string[];
}

export interface StageHours {
  readonly stage: string;
  readonly name: string;
  readonly entries: readonly HourEntry[];
}

/** The selling side, sold or planned. Amounts in the minor unit. */
export interface SaleFigures {
  readonly priceMinor: number;
  readonly shippingChargedMinor: number;
  readonly postagePaidMinor: number;
  readonly feeMinor: number;
  /** Collected for the authority: shown, never counted. */
  readonly taxMinor: number;
}

export interface CostSheetInput {
  /** Decimals of the currency's minor unit. */
  readonly decimals: number;
  readonly materials: readonly MaterialLine[];
  readonly consumables: readonly CostEntry[];
  /** Fuel and current. */
  readonly energy: readonly CostEntry[];
  readonly packaging: readonly CostEntry[];
  readonly stages: readonly StageHours[];
  /** Overhead per bench hour, micro per hour, for entries that name no rate of their own. */
  readonly overheadRateMicro: number;
  /** Left out while there is no price. */
  readonly sale?: SaleFigures;
}

export type LineKind =
  | 'material'
  | 'consumables'
  | 'energy'
  | 'packaging'
  | 'labour'
  | 'overhead'
  | 'price'
  | 'shipping'
  | 'postage'
  | 'fee'
  | 'tax';

export interface SheetLine {
  readonly kind: LineKind;
  readonly label: string;
  /** Rounded once; what totals add. */
  readonly amountMinor: number;
  /** Before rounding, for the working. */
  readonly exactMicro: number;
  readonly working: readonly CostEntry[];
}

export interface StageLine {
  readonly stage: string;
  readonly name: string;
  readonly minutes: number;
  readonly guessedMinutes: number;
  readonly valueMicro: number;
  readonly entries: readonly HourEntry[];
}

/** What a sale leaves, by the maker's own view of labour and overhead. */
export interface Earnings {
  /** Price + shipping charged − postage paid − fee − direct cost. */
  readonly contributionMinor: number;
  /** Contribution per attended hour; null without hours. */
  readonly perHourMinor: number | null;
  /** Direct cost, labour at the rate in force, overhead, fee and postage. */
  readonly fullCostMinor: number;
  /** Price and shipping charged less the full cost. */
  readonly leftMinor: number;
  /** `leftMinor` as parts per million of price and shipping charged; null without either. */
  readonly marginPpm: number | null;
  /** What the hour really earned: (contribution − overhead) per attended hour; null without hours. */
  readonly earnedPerHourMinor: number | null;
}

/** Three ways of looking at the same knife; never to be added together. */
export interface CostViews {
  /** Direct cost, postage and fee. */
  readonly moneyOutMinor: number;
  /** Money out, labour at the rate in force, and overhead. */
  readonly atOwnRateMinor: number;
  /** At cost until sold: materials, consumables, energy, packaging; own labour at zero. */
  readonly inventoryValueMinor: number;
}

export interface CostSheet {
  /** In printing order. */
  readonly lines: readonly SheetLine[];
  readonly stages: readonly StageLine[];
  readonly minutes: number;
  readonly guessedMinutes: number;
  readonly materialsMinor: number;
  readonly consumablesMinor: number;
  readonly energyMinor: number;
  readonly packagingMinor: number;
  readonly directMinor: number;
  readonly labourMinor: number;
  readonly overheadMinor: number;
  /** Null while there is no price. */
  readonly earnings: Earnings | null;
  readonly views: CostViews;
}

const valueOf = (entries: readonly CostEntry[]): number => sumOf(entries, (entry) => entry.valueMicro);

const costLine = (
  kind: LineKind,
  label: string,
  entries: readonly CostEntry[],
  decimals: number,
): SheetLine => {
  const exactMicro = valueOf(entries);
  return { kind, label, amountMinor: microToMinor(exactMicro, decimals), exactMicro, working: entries };
};

const stageLine = (hours: StageHours): StageLine => ({
  stage: hours.stage,
  name: hours.name,
  minutes: sumOf(hours.entries, (entry) => entry.minutes),
  guessedMinutes: sumOf(hours.entries, (entry) => (entry.guessed ? entry.minutes : 0)),
  valueMicro: toSafe(roundHalfAwayBig(rateMinutes(hours.entries), 60n)),
  entries: hours.entries,
});

/** Sum of rate × minutes, still to be divided by 60: keeps the labour line to one rounding. */
const rateMinutes = (entries: readonly HourEntry[]): bigint =>
  entries.reduce((so, entry) => so + BigInt(entry.rateMicro) * BigInt(entry.minutes), 0n);

const perMinor = (decimals: number): bigint => 10n ** BigInt(MICRO_DECIMALS - decimals);

/** A line whose exact value is `sixtieths / 60` micro. */
const hourLine = (
  kind: LineKind,
  label: string,
  sixtieths: bigint,
  decimals: number,
  working: readonly CostEntry[],
): SheetLine => ({
  kind,
  label,
  amountMinor: toSafe(roundHalfAwayBig(sixtieths, 60n * perMinor(decimals))),
  exactMicro: toSafe(roundHalfAwayBig(sixtieths, 60n)),
  working,
});

const labourLine = (input: CostSheetInput, stages: readonly StageLine[]): SheetLine =>
  hourLine(
    'labour',
    'Labour at the rate in force',
    rateMinutes(input.stages.flatMap((stage) => stage.entries)),
    input.decimals,
    stages.map((stage) => ({
      label: stage.name,
      qtyText: minutesText(stage.minutes),
      valueMicro: stage.valueMicro,
    })),
  );

const overheadLine = (input: CostSheetInput, minutes: number): SheetLine => {
  const entries = input.stages.flatMap((stage) => stage.entries);
  const sixtieths = entries.reduce(
    (so, entry) => so + BigInt(entry.overheadRateMicro ?? input.overheadRateMicro) * BigInt(entry.minutes),
    0n,
  );
  const valueMicro = toSafe(roundHalfAwayBig(sixtieths, 60n));
  return hourLine('overhead', 'Overhead per bench hour', sixtieths, input.decimals, [
    { label: 'Overhead per bench hour', qtyText: minutesText(minutes), valueMicro },
  ]);
};

const SALE_LINES: readonly (readonly [LineKind, string, keyof SaleFigures])[] = [
  ['price', 'Price', 'priceMinor'],
  ['shipping', 'Shipping charged', 'shippingChargedMinor'],
  ['postage', 'Postage paid', 'postagePaidMinor'],
  ['fee', 'Payment fee', 'feeMinor'],
  ['tax', 'Sales tax collected', 'taxMinor'],
];

const saleLines = (sale: SaleFigures | undefined, decimals: number): SheetLine[] =>
  sale === undefined
    ? []
    : SALE_LINES.map(([kind, label, key]) => ({
        kind,
        label,
        amountMinor: sale[key],
        exactMicro: toSafe(BigInt(sale[key]) * perMinor(decimals)),
        working: [],
      }));

interface SheetTotals {
  readonly direct: number;
  readonly labour: number;
  readonly overhead: number;
  readonly minutes: number;
}

const earn = (sale: SaleFigures, totals: SheetTotals): Earnings => {
  const income = sale.priceMinor + sale.shippingChargedMinor;
  const selling = sale.postagePaidMinor + sale.feeMinor;
  const contributionMinor = contributionOf({
    priceMinor: sale.priceMinor,
    shippingMinor: sale.shippingChargedMinor,
    postageMinor: sale.postagePaidMinor,
    feeMinor: sale.feeMinor,
    directMinor: totals.direct,
  });
  const fullCostMinor = totals.direct + totals.labour + totals.overhead + selling;
  const leftMinor = income - fullCostMinor;
  return {
    contributionMinor,
    fullCostMinor,
    leftMinor,
    perHourMinor: perHour(contributionMinor, totals.minutes),
    marginPpm: income === 0 ? null : mulDiv(leftMinor, 1_000_000, income),
    earnedPerHourMinor: perHour(contributionMinor - totals.overhead, totals.minutes),
  };
};

const views = (sale: SaleFigures | undefined, totals: SheetTotals): CostViews => {
  const moneyOutMinor = totals.direct + (sale?.postagePaidMinor ?? 0) + (sale?.feeMinor ?? 0);
  return {
    moneyOutMinor,
    atOwnRateMinor: moneyOutMinor + totals.labour + totals.overhead,
    inventoryValueMinor: totals.direct,
  };
};

const amounts = (lines: readonly SheetLine[]): number => sum(lines.map((line) => line.amountMinor));

/** Builds the cost sheet. Nothing here can fail on a person's input; figures beyond 2^53 throw RangeError. */
export const buildCostSheet = (input: CostSheetInput): CostSheet => {
  const { decimals, sale } = input;
  const materials = input.materials.map((line) => costLine('material', line.label, line.entries, decimals));
  const consumables = costLine('consumables', 'Consumables', input.consumables, decimals);
  const energy = costLine('energy', 'Fuel and current', input.energy, decimals);
  const packaging = costLine('packaging', 'Packaging', input.packaging, decimals);
  const stages = input.stages.map(stageLine);
  const minutes = sumOf(stages, (stage) => stage.minutes);
  const labour = labourLine(input, stages);
  const overhead = overheadLine(input, minutes);
  const direct = amounts([...materials, consumables, energy, packaging]);
  const totals: SheetTotals = { direct, labour: labour.amountMinor, overhead: overhead.amountMinor, minutes };
  return {
    lines: [...materials, consumables, energy, packaging, labour, overhead, ...saleLines(sale, decimals)],
    stages,
    minutes,
    guessedMinutes: sumOf(stages, (stage) => stage.guessedMinutes),
    materialsMinor: amounts(materials),
    consumablesMinor: consumables.amountMinor,
    energyMinor: energy.amountMinor,
    packagingMinor: packaging.amountMinor,
    directMinor: direct,
    labourMinor: labour.amountMinor,
    overheadMinor: overhead.amountMinor,
    earnings: sale === undefined ? null : earn(sale, totals),
    views: views(sale, totals),
  };
};
