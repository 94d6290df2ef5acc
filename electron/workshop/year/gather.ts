/** Gathers everything one year's figures are made of. In steps, so that no other call waits. */
import { addDays } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import { microToMinor, minorToMicro } from '../../domain/money.ts';
import { boughtFor, costOfGoods } from '../../domain/year-goods.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type ExpenseDay, expensesByCategory, expensesByMonth } from '../../storage/queries/expenses.ts';
import { incomeByKind, incomeByMonth, mileageTotal } from '../../storage/queries/money.ts';
import { taxDueIn } from '../../storage/queries/sheet-money.ts';
import { servicePostage } from '../../storage/queries/year-books.ts';
import { heldAt } from '../../storage/queries/year-cash.ts';
import {
  chargeFees,
  freightKept,
  hourFlows,
  minutesBegun,
  scrappedMakings,
  stageNames,
  thereIs,
} from '../../storage/queries/year-flows.ts';
import { type Days, sheetRule } from '../../storage/queries/year-knives.ts';
import { kindWords } from '../costs/lines.ts';
import { houseOf } from '../costs/house.ts';
import { depreciationIn } from '../money/depreciation.ts';
import { type CashFacts, gatherCash } from './gather-cash.ts';
import {
  type Ledger,
  type StockPoint,
  stockPoints,
  unsoldCharges,
  walkKnives,
  walkLedger,
} from './gather-goods.ts';
import { type EndedFact, gatherEnded, gatherSold, type SoldFact } from './gather-sales.ts';
import { monthsIn } from './months.ts';
import type { Steps } from '../../domain/steps.ts';

/** All that a year's figures are made of. */
export interface YearFacts {
  readonly span: Days;
  readonly decimals: number;
  readonly sold: readonly SoldFact[];
  readonly ended: readonly EndedFact[];
  readonly makings: ReturnType<typeof scrappedMakings>;
  readonly cash: CashFacts;
  readonly fees: ReturnType<typeof chargeFees>;
  readonly taxDue: ReturnType<typeof taxDueIn>;
  /** Freight kept out of stock, each purchase in whole minor units. */
  readonly freight: ReturnType<typeof freightOf>;
  readonly servicePostage: ReturnType<typeof servicePostage>;
  readonly expenses: ReturnType<typeof expensesByCategory>;
  readonly expenseMonths: ReturnType<typeof expensesByMonth>;
  readonly incomes: ReturnType<typeof incomeByKind>;
  readonly incomeMonths: ReturnType<typeof incomeByMonth>;
  readonly receivedIncomes: ReturnType<typeof incomeByKind>;
  readonly receivedMonths: ReturnType<typeof incomeByMonth>;
  readonly mileageMinor: number;
  readonly depreciation: ReturnType<typeof depreciationIn>;
  readonly hours: readonly HourFlow[];
  readonly stages: ReturnType<typeof stageNames>;
  readonly minutesBegun: number;
  readonly points: readonly StockPoint[];
  readonly ledger: Ledger;
  readonly bought: { readonly all: number; readonly loose: number };
  readonly goods: ReturnType<typeof costOfGoods>;
  readonly held: ReturnType<typeof heldAt>;
  readonly unsold: ReturnType<typeof unsoldCharges>;
}

/** Hours of a month on one thing. */
type HourFlow = ReturnType<typeof hourFlows>[number] & { readonly month: string };

const freightOf = (db: ReadDb, span: Days) => {
  const { decimals } = houseOf(db);
  return freightKept(db, span).map(({ freight_micro: micro, ...row }) => ({
    ...row,
    minor: microToMinor(micro, decimals),
  }));
};

function* gatherMoney(db: ReadDb, span: Days) {
  const cost: ExpenseDay = 'cost_on';
  const spent = {
    fees: chargeFees(db, span),
    taxDue: taxDueIn(db, span),
    freight: freightOf(db, span),
    servicePostage: servicePostage(db, span),
    expenses: expensesByCategory(db, span, cost),
    expenseMonths: expensesByMonth(db, span, cost),
    mileageMinor: mileageTotal(db, span),
  };
  yield;
  const earned = {
    incomes: incomeByKind(db, span),
    incomeMonths: incomeByMonth(db, span),
    receivedIncomes: incomeByKind(db, span, 'received_on'),
    receivedMonths: incomeByMonth(db, span, 'received_on'),
    depreciation: depreciationIn(db, span),
  };
  yield;
  const hours: HourFlow[] = [];
  for (const part of monthsIn(span)) {
    const month = part.from.slice(0, 7);
    for (const row of hourFlows(db, part)) hours.push({ ...row, month });
    yield;
  }
  const worked = { hours, stages: stageNames(db) };
  const begun = { minutesBegun: minutesBegun(db, span), held: heldAt(db, span.to) };
  yield;
  return { ...spent, ...earned, ...worked, ...begun };
}

/** Knives sold before, neither under way nor gone otherwise, that something was booked on in the year. */
function lateOf(ledger: Ledger, alive: ReadonlySet<string>): string[] {
  return [...ledger.touched].filter((id) => !alive.has(id));
}

/** Gathers one year. */
export function* gatherYear(db: ReadDb, span: Days): Steps<YearFacts> {
  const { decimals } = houseOf(db);
  const rule = { ...sheetRule(kindWords, minorToMicro(1, decimals)), decimals };
  const there = thereIs(db, addDays(span.from, -1));
  if (there === undefined) throw new Error('A question about existence has an answer');
  const ledger = yield* walkLedger(db, span, there);
  const knives = yield* walkKnives(db, span);
  const points = yield* stockPoints(db, span, ledger, knives, rule, there);
  const sold = yield* gatherSold(db, span, lateOf(ledger, new Set(knives.keys())), rule);
  const ended = yield* gatherEnded(db, span, rule);
  const unsold = unsoldCharges(db, span, knives);
  yield;
  const makings = scrappedMakings(db, span);
  yield;
  const money = yield* gatherMoney(db, span);
  const cash = yield* gatherCash(db, span, sold);
  const micro = (minor: number): number => minorToMicro(minor, decimals);
  const ofState = (state: string): number =>
    micro(
      sumOf(
        ended.filter((knife) => knife.state === state),
        (knife) => knife.directMinor,
      ),
    );
  const [opening, closing] = [points[0], points.at(-1)];
  if (opening === undefined || closing === undefined) throw new Error('A year has a first and a last day');
  const goods = costOfGoods({
    opening,
    closing,
    flows: ledger.flows,
    soldMicro: micro(sumOf(sold, (one) => one.directMinor)),
    scrapKnivesMicro: ofState('scrapped'),
    scrapMakingsMicro: sumOf(makings, (one) => one.value_micro),
    keptMicro: ofState('kept'),
  });
  return {
    ...money,
    ...{ span, decimals, sold, ended, makings, cash, points, ledger, goods, unsold },
    bought: {
      all: boughtFor(ledger.flows) + ledger.flows.looseBought,
      loose: ledger.flows.looseBought,
    },
  };
}
