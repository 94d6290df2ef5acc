/**
 * The cost sheet of one knife. Each line is rounded once, half away from zero, and every total adds the lines shown;
 * so a reader with a pencil finds the same figures.
 */
import { contributionOf, perHour } from './earnings.ts';
import { mulDiv, roundHalfAwayBig, sum, sumOf, toSafe } from './integers.ts';
import { MICRO_DECIMALS, microToMinor } from './money.ts';

/** One cost of the knife, before rounding. */
export interface CostEntry {
  readonly valueMicro: number;
}

/** One material as it stands on the sheet. */
export interface MaterialCosts {
  readonly label: string;
  readonly entries: readonly CostEntry[];
}

/** Attended time of one session (or this knife's part of it) in one stage. */
export interface HourEntry {
  readonly minutes: number;
  /** Entered from memory, not clocked. */
  readonly guessed: boolean;
  /** Labour rate in force on the session's date, micro per hour. */
  readonly rateMicro: number;
  /** Overhead rate in force on that date, micro per hour. */
  readonly overheadRateMicro: number;
}

/** Attended time in one stage. */
export interface StageWork {
  readonly code: string;
  readonly name: string;
  readonly entries: readonly HourEntry[];
}

/** The selling side without tax, minor unit. */
export interface SaleAmounts {
  readonly priceMinor: number;
  /** Shipping charged. */
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
}

export interface CostSheetInput {
  /** Decimals of the currency's minor unit. */
  readonly decimals: number;
  readonly materials: readonly MaterialCosts[];
  readonly consumables: readonly CostEntry[];
  /** Fuel and current. */
  readonly energy: readonly CostEntry[];
  readonly packaging: readonly CostEntry[];
  readonly stages: readonly StageWork[];
  /** Labour that came along in material made here, at the rates of its days; left out where there is none. */
  readonly madeLabour?: readonly CostEntry[];
  /** Left out while there is no price. */
  readonly sale?: SaleAmounts;
}

export interface SheetLine {
  readonly label: string;
  /** Rounded once; what totals add. */
  readonly amountMinor: number;
  /** Before rounding, for the working. Of labour: the stages' lines added up, which are rounded. */
  readonly exactMicro: number;
}

export interface StageHours {
  readonly code: string;
  readonly name: string;
  readonly minutes: number;
  readonly guessedMinutes: number;
  /** Minutes at the rates in force, rounded once; the labour line adds these. */
  readonly labourMinor: number;
}

/** What a sale leaves, by the maker's own view of labour and overhead. */
export interface Earnings {
  /** Price + shipping charged − postage paid − fee − direct cost. */
  readonly contributionMinor: number;
  /** Contribution per attended hour; null without hours. */
  readonly contributionPerHourMinor: number | null;
  /** What the hour really earned: (contribution − overhead) per attended hour; null without hours. */
  readonly earnedPerHourMinor: number | null;
  /** Contribution less labour at the rate in force, that of material made here included, and overhead. */
  readonly leftAtRateMinor: number;
  /** `leftAtRateMinor` as parts per million of price and shipping charged; null without either. */
  readonly marginAtRatePpm: number | null;
}

/** Three ways of looking at the same knife; never to be added together. */
export interface CostViews {
  /** Direct cost, postage and fee. */
  readonly moneyOutMinor: number;
  /** Money out, labour at the rate in force, that of material made here included, and overhead. */
  readonly atOwnRateMinor: number;
  /** At cost until sold: materials, consumables, energy, packaging; own labour at zero. */
  readonly inventoryValueMinor: number;
}

export interface CostSheet {
  readonly materials: readonly SheetLine[];
  readonly materialsMinor: number;
  readonly consumables: SheetLine;
  readonly energy: SheetLine;
  readonly packaging: SheetLine;
  readonly directMinor: number;
  /** Shown apart: no part of the knife's own hours, nor of its direct cost. */
  readonly madeLabour: SheetLine;
  readonly stages: readonly StageHours[];
  readonly minutes: number;
  readonly guessedMinutes: number;
  readonly labour: SheetLine;
  readonly overhead: SheetLine;
  /** Null while there is no price. */
  readonly earnings: Earnings | null;
  readonly views: CostViews;
}

const costLine = (label: string, entries: readonly CostEntry[], decimals: number): SheetLine => {
  const exactMicro = sumOf(entries, (entry) => entry.valueMicro);
  return { label, amountMinor: microToMinor(exactMicro, decimals), exactMicro };
};

const perMinor = (decimals: number): bigint => 10n ** BigInt(MICRO_DECIMALS - decimals);

/** Sum of rate × minutes, still to be divided by 60: keeps a line of hours to one rounding. */
const rateMinutes = (entries: readonly HourEntry[], rate: (entry: HourEntry) => number): bigint =>
  entries.reduce((so, entry) => so + BigInt(rate(entry)) * BigInt(entry.minutes), 0n);

/** An amount of `sixtieths / 60` micro in the minor unit. */
const hourMinor = (sixtieths: bigint, decimals: number): number =>
  toSafe(roundHalfAwayBig(sixtieths, 60n * perMinor(decimals)));

const stageHours = (work: StageWork, decimals: number): StageHours => ({
  code: work.code,
  name: work.name,
  minutes: sumOf(work.entries, (entry) => entry.minutes),
  guessedMinutes: sumOf(work.entries, (entry) => (entry.guessed ? entry.minutes : 0)),
  labourMinor: hourMinor(
    rateMinutes(work.entries, (entry) => entry.rateMicro),
    decimals,
  ),
});

/** A total of the stages as shown, so that it is what a pencil finds under them. */
const labourLine = (stages: readonly StageHours[], decimals: number): SheetLine => {
  const amountMinor = sumOf(stages, (stage) => stage.labourMinor);
  const exactMicro = toSafe(BigInt(amountMinor) * perMinor(decimals));
  return { label: 'Labour at the rate in force', amountMinor, exactMicro };
};

const overheadLine = (stages: readonly StageWork[], decimals: number): SheetLine => {
  const sixtieths = rateMinutes(
    stages.flatMap((stage) => stage.entries),
    (entry) => entry.overheadRateMicro,
  );
  return {
    label: 'Overhead per bench hour',
    amountMinor: hourMinor(sixtieths, decimals),
    exactMicro: toSafe(roundHalfAwayBig(sixtieths, 60n)),
  };
};

interface SheetTotals {
  readonly direct: number;
  readonly labour: number;
  readonly overhead: number;
  readonly minutes: number;
}

const earn = (sale: SaleAmounts, totals: SheetTotals): Earnings => {
  const income = sale.priceMinor + sale.shippingMinor;
  const contributionMinor = contributionOf({ ...sale, directMinor: totals.direct });
  const leftAtRateMinor = contributionMinor - totals.labour - totals.overhead;
  return {
    contributionMinor,
    contributionPerHourMinor: perHour(contributionMinor, totals.minutes),
    earnedPerHourMinor: perHour(contributionMinor - totals.overhead, totals.minutes),
    leftAtRateMinor,
    marginAtRatePpm: income === 0 ? null : mulDiv(leftAtRateMinor, 1_000_000, income),
  };
};

const views = (sale: SaleAmounts | undefined, totals: SheetTotals): CostViews => {
  const moneyOutMinor = totals.direct + (sale?.postageMinor ?? 0) + (sale?.feeMinor ?? 0);
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
  const materials = input.materials.map((line) => costLine(line.label, line.entries, decimals));
  const consumables = costLine('Consumables', input.consumables, decimals);
  const energy = costLine('Fuel and current', input.energy, decimals);
  const packaging = costLine('Packaging', input.packaging, decimals);
  const stages = input.stages.map((work) => stageHours(work, decimals));
  const minutes = sumOf(stages, (stage) => stage.minutes);
  const labour = labourLine(stages, decimals);
  const overhead = overheadLine(input.stages, decimals);
  const madeLabour = costLine('Labour in material made here', input.madeLabour ?? [], decimals);
  const directMinor = amounts([...materials, consumables, energy, packaging]);
  const totals = {
    direct: directMinor,
    labour: labour.amountMinor + madeLabour.amountMinor,
    overhead: overhead.amountMinor,
    minutes,
  };
  return {
    materials,
    materialsMinor: amounts(materials),
    consumables,
    energy,
    packaging,
    directMinor,
    madeLabour,
    stages,
    minutes,
    guessedMinutes: sumOf(stages, (stage) => stage.guessedMinutes),
    labour,
    overhead,
    earnings: sale === undefined ? null : earn(sale, totals),
    views: views(sale, totals),
  };
};
