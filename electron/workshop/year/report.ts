/** The yearly margin report: two years side by side, put together from what was gathered. */
import type {
  BridgeLine,
  CostOfGoods,
  FiscalYear,
  StockAtCost,
  YearGroup,
  YearMonth,
  YearReport,
  YearSection,
} from '../../api/year.ts';
import { monthsBetween } from '../../domain/calendar.ts';
import { allocate, sumOf } from '../../domain/integers.ts';
import { formatMinor, microToMinor } from '../../domain/money.ts';
import { cashLines } from '../../domain/year-cash.ts';
import type { BridgeKey } from '../../domain/year-goods.ts';
import { beside, besides, type Line } from '../../domain/year-lines.ts';
import { groupRows, sumSold } from '../../domain/year-sales.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { bridgeOpens } from './entries-goods.ts';
import type { YearFacts } from './gather.ts';
import type { StockPoint } from './gather-goods.ts';
import type { SoldFact } from './gather-sales.ts';
import {
  cashLinesOf,
  channelLines,
  costLines,
  feesOf,
  headLines,
  hourLines,
  incomeLines,
  overheadLines,
  wentLines,
  workedLines,
} from './lines.ts';

/** Two years to put beside each other, each with its sums; the second may be missing. */
export interface Pair {
  readonly now: YearFacts;
  readonly then: YearFacts | null;
  readonly heads: Heads;
  readonly headsThen: Heads | null;
}

type Heads = ReturnType<typeof headLines>;

export const pairOf = (now: YearFacts, then: YearFacts | null): Pair => ({
  ...{ now, then },
  heads: headLines(now),
  headsThen: then === null ? null : headLines(then),
});

const both = (pair: Pair, lines: (facts: YearFacts) => readonly Line[]) =>
  besides(lines(pair.now), pair.then === null ? null : lines(pair.then));

const headOf = (pair: Pair, pick: (heads: Heads) => Line) =>
  beside(pick(pair.heads), pair.headsThen === null ? null : pick(pair.headsThen));

const section = (
  pair: Pair,
  lines: (facts: YearFacts) => readonly Line[],
  total: (heads: Heads) => Line,
): YearSection => ({ figures: both(pair, lines), total: headOf(pair, total) });

type KeyOf = (fact: SoldFact) => { readonly key: string; readonly label: string };

const wayWords: Readonly<Record<SoldFact['way'], string>> = {
  direct: 'Sold directly',
  order: 'Made to order',
  early: 'In a window for supporters',
  public: 'In a release, open to all',
  second: 'As a second',
};

const groupings = {
  models: ({ sale }) => ({ key: sale.model_code, label: sale.model_name }),
  finishes: ({ sale }) => ({ key: sale.method, label: sale.method === '' ? 'not told' : sale.method }),
  byChannel: ({ sale }) => ({ key: sale.channel_id, label: sale.channel_name }),
  ways: ({ way }) => ({ key: way, label: wayWords[way] }),
} satisfies Record<string, KeyOf>;

/** Sold knives under each heading, the best contribution first. */
function groups({ now, then }: Pair, keyOf: KeyOf): readonly YearGroup[] {
  const earlier = then === null ? null : groupRows(then.sold, (fact) => keyOf(fact).key);
  return [...groupRows(now.sold, (fact) => keyOf(fact).key)]
    .map(([key, rows]): YearGroup => {
      const first = rows[0];
      const label = first === undefined ? key : keyOf(first).label;
      return {
        key,
        label,
        ...sumSold(rows),
        before: earlier === null ? null : sumSold(earlier.get(key) ?? []),
      };
    })
    .filter((group) => group.count !== 0 || group.contributionMinor !== 0 || group.salesMinor !== 0)
    .toSorted((a, b) => b.contributionMinor - a.contributionMinor || (a.key < b.key ? -1 : 1));
}

interface MonthSums {
  count: number;
  income: number;
  costs: number;
  overhead: number;
  receipts: number;
  bench: number;
  other: number;
}

const monthOf = (on: string): string => on.slice(0, 7);

/** Adds the knives and what is dated with them to their months. */
function addSold(at: (month: string) => MonthSums, facts: YearFacts): void {
  for (const { facts: sale, delta, directMinor, ownFeeMinor } of facts.sold) {
    const isSold = sale.on >= facts.span.from;
    // What happened to an older sale, and what was booked late on its knife, stands where it is known to end.
    const month = at(
      monthOf(isSold ? sale.on : (sale.takenBackOn ?? sale.credits.at(-1)?.on ?? facts.span.to)),
    );
    month.count += delta.count;
    month.income += delta.priceMinor + delta.shippingMinor;
    month.costs += directMinor + delta.postageMinor + ownFeeMinor;
  }
}

function addOthers(at: (month: string) => MonthSums, facts: YearFacts): void {
  for (const one of facts.cash.service) at(monthOf(one.on)).income += one.netMinor;
  for (const one of facts.cash.kept) at(monthOf(one.on)).income += one.netMinor;
  for (const row of facts.incomeMonths) {
    at(row.month).income += row.gross_minor;
    at(row.month).costs += row.fee_minor;
  }
  for (const row of facts.fees) at(monthOf(row.on_date)).costs += row.fee_minor;
  for (const row of facts.servicePostage) at(monthOf(row.on_date)).costs += row.postage_paid_minor;
  for (const one of facts.ended) if (one.state === 'scrapped') at(monthOf(one.on)).costs += one.directMinor;
  for (const one of facts.makings)
    at(monthOf(one.ended_on ?? facts.span.to)).costs += microToMinor(one.value_micro, facts.decimals);
}

/** What was spent, received and worked, by its month. */
function addDated(at: (month: string) => MonthSums, facts: YearFacts): void {
  for (const row of facts.expenseMonths) {
    if (row.kind === 'postage' || row.kind === 'platformFee') at(row.month).costs += row.cost_minor;
    else if (row.kind !== 'taxPaid') at(row.month).overhead += row.cost_minor;
  }
  for (const row of facts.freight) at(monthOf(row.on_date)).overhead += row.minor;
  for (const one of facts.cash.receipts) at(monthOf(one.on)).receipts += one.netMinor;
  for (const row of facts.receivedMonths) at(row.month).receipts += row.gross_minor;
  for (const row of facts.hours) {
    if (row.work_kind === null) at(row.month).bench += row.minutes;
    else at(row.month).other += row.minutes;
  }
}

/** Every month of the year; what is reckoned for the whole year is spread evenly over its months. */
function monthsOf(facts: YearFacts): readonly YearMonth[] {
  const names = monthsBetween(facts.span.from, facts.span.to).map(monthOf);
  const sums = new Map(
    names.map((name) => [
      name,
      { count: 0, income: 0, costs: 0, overhead: 0, receipts: 0, bench: 0, other: 0 },
    ]),
  );
  const spare = sums.get(names.at(-1) ?? '');
  const at = (month: string): MonthSums => {
    const own = sums.get(month) ?? spare;
    if (own === undefined) throw new Error('A year has a month');
    return own;
  };
  addSold(at, facts);
  addOthers(at, facts);
  addDated(at, facts);
  const written = sumOf(facts.depreciation, (row) => row.minor - (row.gainMinor ?? 0)) + facts.mileageMinor;
  const shares = allocate(
    written,
    names.map(() => 1),
  );
  return names.map((month, place) => {
    const sum = at(month);
    const overheadMinor = sum.overhead + (shares[place] ?? 0);
    return {
      month,
      count: sum.count,
      incomeMinor: sum.income,
      costsMinor: sum.costs,
      overheadMinor,
      leftMinor: sum.income - sum.costs - overheadMinor,
      receiptsMinor: sum.receipts,
      benchMinutes: sum.bench,
      otherMinutes: sum.other,
    };
  });
}

const atCost = (point: StockPoint, decimals: number): StockAtCost => {
  const minor = (micro: number): number => microToMinor(micro, decimals);
  const [rawMinor, workMinor, finishedMinor] = [
    minor(point.rack + point.opened + point.baths),
    minor(point.work + point.makings),
    minor(point.finished),
  ];
  return {
    on: point.on,
    rawMinor,
    workMinor,
    finishedMinor,
    totalMinor: rawMinor + workMinor + finishedMinor,
  };
};

const bridgeWords: Readonly<Record<BridgeKey, readonly [string, string]>> = {
  supplies: [
    'Oil, gloves, solvent and the like, by the usual cost',
    'Knives carry a usual cost for them, but no count is kept: they are an expense when bought, not stock.',
  ],
  energy: [
    'Gas and current, by the usual cost',
    'Knives carry them, but they are paid by the bottle and the bill and never lay in stock.',
  ],
  otherCharges: [
    'Goods charged to knives at their price',
    'They went into knives without coming off the rack, for instance before their purchase was entered.',
  ],
  fires: ['Current of measured firings', 'Knives carry it, and it never lay in stock.'],
  baths: ['Quench oil', 'What knives carry of a bath, less what was lost from it.'],
  openings: ['Opened and worn out', 'Taken into use and worn out without a knife to carry it.'],
  makings: [
    'Costs of shop-made goods without stock behind them',
    'Gas, current, wire and bills went into a billet or another making and lie in what came out of it.',
  ],
  loose: [
    'Supplies taken for knives',
    'They are an expense when bought, not stock, and knives carry them all the same.',
  ],
  counts: [
    'Counts that found less or more than the books',
    'What a count found missing left stock without entering a knife; what it found more came in without being bought.',
  ],
  outside: [
    'Taken off the rack for no knife',
    'Own use, samples, losses: it left stock and is in no knife that was sold.',
  ],
  kept: ['Knives kept or given away', 'They left stock at cost and were not sold.'],
  rounding: ['Rounding', 'Each line of a knife’s sheet is rounded to the cent; the ledger is not.'],
};

/** Where the usual costs of the year lie now: in knives that went, and in those that are still here. */
function where(facts: YearFacts, key: BridgeKey, micro: number, currency: string): string {
  if (key !== 'supplies' && key !== 'energy') return '';
  const unsold = microToMinor(facts.unsold[key === 'supplies' ? 'consumable' : 'energy'], facts.decimals);
  const write = (minor: number): string => formatMinor(minor, currency, { symbol: true });
  const gone = microToMinor(micro, facts.decimals) - unsold;
  return ` ${write(gone)} of it is in knives sold or scrapped; what finished and started knives hold of it ${
    unsold < 0 ? `fell by ${write(-unsold)}` : `rose by ${write(unsold)}`
  }.`;
}

/** Cost of goods by count and by use, in whole cents; what rounding the lines leaves over goes to the rounding line. */
function goodsOf(facts: YearFacts, currency: string): CostOfGoods {
  const minor = (micro: number): number => microToMinor(micro, facts.decimals);
  const [opening, closing] = [facts.points[0], facts.points.at(-1)].map((point) =>
    point === undefined ? 0 : atCost(point, facts.decimals).totalMinor,
  );
  const [openingMinor, closingMinor] = [opening ?? 0, closing ?? 0];
  const [boughtMinor, suppliesMinor] = [minor(facts.bought.all), minor(facts.bought.loose)];
  const byCountMinor = openingMinor + boughtMinor - suppliesMinor - closingMinor;
  const soldMinor = sumOf(facts.sold, (one) => one.directMinor);
  const byUse = minor(facts.goods.byUse);
  const bridgeMinor = byUse - byCountMinor;
  const lines = facts.goods.lines
    .filter(([key]) => key !== 'rounding')
    .map(([key, micro]): BridgeLine => {
      const [label, why] = bridgeWords[key];
      const more = where(facts, key, micro, currency);
      return {
        key: `bridge.${key}`,
        label,
        amountMinor: minor(micro),
        why: why + more,
        opens: bridgeOpens(key),
      };
    });
  const over = bridgeMinor - sumOf(lines, (line) => line.amountMinor);
  const [label, why] = bridgeWords.rounding;
  const rounding =
    over === 0 ? [] : [{ key: 'bridge.rounding', label, amountMinor: over, why, opens: false }];
  return {
    ...{ openingMinor, boughtMinor, suppliesMinor, closingMinor, byCountMinor, soldMinor, bridgeMinor },
    scrapMinor: byUse - soldMinor,
    byUseMinor: byUse,
    bridge: [...lines, ...rounding],
    usedMinor: minor(
      -(facts.ledger.flows.stock.get('knife') ?? 0) +
        facts.ledger.flows.looseKnife +
        sumOf(Object.values(facts.ledger.flows.charges), (value) => value),
    ),
  };
}

const cashWords = {
  deposits: [
    'Deposits for knives not delivered yet',
    'Customers’ money: paid in the year, earned when the knife goes out.',
  ],
  earlierDeposits: ['Deposits of earlier years', 'Paid before the year for what was earned in it.'],
  notPaid: ['Earned, and not paid by the end of the year', 'The invoice was open when the year ended.'],
  paidOver: [
    'Paid beyond what was earned',
    'More came in than the invoice asks; it is to go back or to be earned.',
  ],
  earlierYears: [
    'Paid or given back for earlier years',
    'Earned before the year, or credited without money moving.',
  ],
} as const;

function cashBridge(facts: YearFacts): readonly BridgeLine[] {
  const lines = [...cashLines(facts.cash.entities)].map(([key, amountMinor]): BridgeLine => {
    const [label, why] = cashWords[key];
    return { key: `cashBridge.${key}`, label, amountMinor, why, opens: true };
  });
  const gross = (rows: YearFacts['incomes']): number => sumOf(rows, (row) => row.gross_minor);
  const awaited = gross(facts.receivedIncomes) - gross(facts.incomes);
  if (awaited !== 0)
    lines.push({
      key: 'cashBridge.awaited',
      label: 'Supporters and other income that came in another year',
      amountMinor: awaited,
      why: 'It is earned by the month it is for, and received when it is paid out.',
      opens: true,
    });
  return lines;
}

function notesOf({ now }: Pair, currency: string): readonly string[] {
  const fee = feesOf(now);
  const notes = [
    'Earned view: a sale counts on its day, whenever it is paid; sales tax is not income. Own labour is never a cost here.',
    'Knives are at direct cost: material, consumables, fuel and current, packaging, each line as on the knife’s sheet.',
    'Hours on knives begun in the year count whole, also what was worked on them before or after; hours by day stand beside them.',
    'What a count found missing, and what left the rack for no knife, is in no cost of knives sold: the way from the cost of goods by count to that by use shows it.',
    'Mileage and depreciation are reckoned for the whole year and spread evenly over its months.',
  ];
  if (now.fees.length > 0)
    notes.push(
      `Payment fees of ${formatMinor(fee, currency, { symbol: true })} count those of deposits on the day the deposit was paid.`,
    );
  return [...notes, 'These are figures to work with. How they are taxed is for your preparer to say.'];
}

/** What the report says of itself. */
export interface Told {
  readonly workshopName: string;
  readonly maker: string;
  readonly currency: string;
  readonly decimals: number;
  readonly year: FiscalYear;
  readonly before: FiscalYear | null;
  readonly seq: number;
  readonly gaps: YearReport['gaps'];
}

/** Puts the report together. */
export function reportOf(told: Told, pair: Pair): YearReport {
  const { now, then } = pair;
  const stock = now.points.map((point) => atCost(point, now.decimals));
  const none: StockAtCost = { on: now.span.to, rawMinor: 0, workMinor: 0, finishedMinor: 0, totalMinor: 0 };
  return {
    ...told,
    income: section(pair, incomeLines, (heads) => heads.income),
    channels: both(pair, channelLines),
    costs: section(pair, costLines, (heads) => heads.costs),
    direct: headOf(pair, (heads) => heads.direct),
    overhead: section(pair, overheadLines, (heads) => heads.overhead),
    left: headOf(pair, (heads) => heads.left),
    contribution: headOf(pair, (heads) => heads.contribution),
    hours: section(pair, hourLines, (heads) => heads.hours),
    worked: section(pair, workedLines, (heads) => heads.worked),
    rates: {
      perHour: headOf(pair, (heads) => heads.perHour),
      perHourWorked: headOf(pair, (heads) => heads.perHourWorked),
      overheadPerBenchHour: headOf(pair, (heads) => heads.overheadPerBenchHour),
      sold: headOf(pair, (heads) => heads.sold),
      soldMinutes: headOf(pair, (heads) => heads.soldMinutes),
    },
    hourWent: both(pair, wentLines),
    models: groups(pair, groupings.models),
    finishes: groups(pair, groupings.finishes),
    byChannel: groups(pair, groupings.byChannel),
    ways: groups(pair, groupings.ways),
    months: monthsOf(now),
    cash: section(pair, cashLinesOf, (heads) => heads.cash),
    cashBridge: cashBridge(now),
    opening: stock[0] ?? none,
    closing: stock.at(-1) ?? none,
    stock,
    goods: goodsOf(now, told.currency),
    goodsBefore: then === null ? null : goodsOf(then, told.currency),
    held: now.held.map((row) => ({
      orderId: row.id,
      tag: orderTagOf(row.number),
      buyerName: row.buyer_name,
      minor: row.minor,
    })),
    heldMinor: sumOf(now.held, (row) => row.minor),
    tax: pair.heads.tax,
    taxDue: headOf(pair, (heads) => heads.taxDue),
    notes: notesOf(pair, told.currency),
  };
}
