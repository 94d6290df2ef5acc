/** Gathers what a year's goods did: the ledger, knives under way, what each had cost. In steps. */
import { addDays, monthEnd, monthsBetween } from '../../domain/calendar.ts';
import { minorToMicro } from '../../domain/money.ts';
import { sumOf } from '../../domain/integers.ts';
import type { GoodsFlows, StockMicro } from '../../domain/year-goods.ts';
import type { ReadDb } from '../../storage/db.ts';
import { heldIncidental } from '../../storage/queries/sheet.ts';
import { bathsAt, makingsAt, openedAt } from '../../storage/queries/stock-at.ts';
import {
  chargeFlows,
  chargesIn,
  knivesCharged,
  firstMovement,
  knivesMoved,
  stockFlows,
  type ThereIs,
} from '../../storage/queries/year-flows.ts';
import {
  type Days,
  type KnifeAlive,
  knivesAlive,
  lastBuildNumber,
  type SheetRule,
  sheetSums,
  type SheetSum,
} from '../../storage/queries/year-knives.ts';
import { groupRows } from '../../domain/year-sales.ts';
import type { Steps } from '../../domain/steps.ts';
import { stretchesIn } from './months.ts';

/** Small enough that no step takes longer than a blink, large enough that steps cost nothing. */
const [NUMBERS, KNIVES] = [10_000, 250];

export interface Ledger {
  /** Rack, supplies without stock left out: before the year, and by month in it. */
  readonly rackBefore: number;
  readonly rackMonths: ReadonlyMap<string, number>;
  readonly flows: GoodsFlows;
  /** Knives something was booked on in the year. */
  readonly touched: ReadonlySet<string>;
}

const add = (map: Map<string, number>, key: string, value: number): void => {
  map.set(key, (map.get(key) ?? 0) + value);
};

function chargesOf(db: ReadDb, span: Days): GoodsFlows['charges'] {
  const rows = chargeFlows(db, span);
  const of = (source: string, uses?: readonly string[]): number =>
    sumOf(
      rows.filter((row) => row.source === source && (uses?.includes(row.use_as) ?? true)),
      (row) => row.value_micro,
    );
  return {
    flatConsumable: of('flat', ['consumable']),
    flatEnergy: of('flat', ['energy']),
    flatOther: of('flat', ['material', 'packaging']),
    burn: of('burn'),
    bath: of('bath'),
    count: of('count'),
  };
}

/** Walks the whole ledger up to the year's end once. */
export function* walkLedger(db: ReadDb, span: Days, there: ThereIs): Steps<Ledger> {
  const [stock, rackMonths, touched] = [
    new Map<string, number>(),
    new Map<string, number>(),
    new Set<string>(),
  ];
  let [rackBefore, looseKnife, looseBought] = [0, 0, 0];
  const first = firstMovement(db) ?? span.from;
  const before = stretchesIn({ from: first, to: addDays(span.from, -1) });
  for (const days of before) {
    for (const { loose, value_micro: value } of stockFlows(db, days, there.loose === 1))
      if (loose === 0) rackBefore += value;
    yield;
  }
  for (const days of stretchesIn(span)) {
    for (const { what, loose, value_micro: value } of stockFlows(db, days, there.loose === 1)) {
      if (loose === 0) {
        add(rackMonths, days.from.slice(0, 7), value);
        add(stock, what, value);
      } else if (what === 'knife') looseKnife -= value;
      else if (what === 'receipt' || what === 'return') looseBought += value;
    }
    yield;
    if (there.soldBefore === 0) continue;
    for (const { build_id: id } of knivesMoved(db, days)) if (id !== null) touched.add(id);
    yield;
  }
  if (there.soldBefore === 1) for (const { build_id: id } of knivesCharged(db, span)) touched.add(id);
  yield;
  const charges = chargesOf(db, span);
  yield;
  return { rackBefore, rackMonths, flows: { stock, looseKnife, looseBought, charges }, touched };
}

/** What knives had cost by a day, as their sheets round it. */
export function* sheetsAt(
  db: ReadDb,
  ids: readonly string[],
  upTo: string,
  rule: SheetRule,
): Steps<ReadonlyMap<string, SheetSum>> {
  const sheets = new Map<string, SheetSum>();
  for (let at = 0; at < ids.length; at += KNIVES) {
    for (const sheet of sheetSums(db, ids.slice(at, at + KNIVES), upTo, rule))
      sheets.set(sheet.build_id, sheet);
    yield;
  }
  return sheets;
}

/** Direct cost in the minor unit. */
export const directOf = (sheet: SheetSum | undefined): number =>
  sheet === undefined ? 0 : sheet.materials + sheet.consumables + sheet.energy + sheet.packaging;

/** Knives that were begun and not gone at some time of the year, each with its sales. */
export function* walkKnives(db: ReadDb, span: Days): Steps<ReadonlyMap<string, readonly KnifeAlive[]>> {
  const rows: KnifeAlive[] = [];
  const last = lastBuildNumber(db);
  for (let above = 0; above < last; above += NUMBERS) {
    for (const row of knivesAlive(db, span, { above, upTo: above + NUMBERS })) rows.push(row);
    yield;
  }
  return groupRows(rows, (row) => row.id);
}

/** In work or finished at the end of a day; undefined when not begun, or gone. */
function stateAt(rows: readonly KnifeAlive[], day: string): 'work' | 'finished' | undefined {
  const [knife] = rows;
  if (knife?.started_on == null || knife.started_on > day) return undefined;
  if (knife.ended_on !== null && knife.ended_on <= day) return undefined;
  const isOut = rows.some(
    ({ out_from: from, out_to: to }) => from !== null && from <= day && (to === null || to > day),
  );
  if (isOut) return undefined;
  return knife.finished_on !== null && knife.finished_on <= day ? 'finished' : 'work';
}

interface KnifeState {
  readonly id: string;
  readonly state: 'work' | 'finished';
}

/** Knives in work or finished at the end of a day. */
function statesAt(knives: ReadonlyMap<string, readonly KnifeAlive[]>, day: string): readonly KnifeState[] {
  const states: KnifeState[] = [];
  for (const [id, rows] of knives) {
    const state = stateAt(rows, day);
    if (state !== undefined) states.push({ id, state });
  }
  return states;
}

/** Knives under way or finished at the end of a day. */
const idsAt = (knives: ReadonlyMap<string, readonly KnifeAlive[]>, day: string): readonly string[] =>
  statesAt(knives, day).map(({ id }) => id);

/** What knives not sold hold of usual costs without goods behind them: how much more at the year's end than before it. Micro. */
export function unsoldCharges(
  db: ReadDb,
  span: Days,
  knives: ReadonlyMap<string, readonly KnifeAlive[]>,
): Readonly<Record<'consumable' | 'energy', number>> {
  const at = (day: string) => chargesIn(db, idsAt(knives, day), day);
  const [before, after] = [at(addDays(span.from, -1)), at(span.to)];
  const of = (rows: typeof before, use: string): number =>
    rows.find((row) => row.use_as === use)?.value_micro ?? 0;
  const more = (use: string): number => of(after, use) - of(before, use);
  return { consumable: more('consumable'), energy: more('energy') };
}

/** The day before the year, and the end of each month in it. */
const pointsOf = ({ from, to }: Days): readonly string[] => [
  addDays(from, -1),
  ...monthsBetween(from, to).map((month) => (monthEnd(month) > to ? to : monthEnd(month))),
];

export interface StockPoint extends StockMicro {
  readonly on: string;
}

/** Stock at cost at every point of the year. */
export function* stockPoints(
  db: ReadDb,
  span: Days,
  ledger: Ledger,
  knives: ReadonlyMap<string, readonly KnifeAlive[]>,
  rule: SheetRule & { readonly decimals: number },
  there: ThereIs,
): Steps<readonly StockPoint[]> {
  const points: StockPoint[] = [];
  // Supplies that were an expense when bought are no stock once opened or poured, either.
  const expensed = new Set(there.loose === 1 ? heldIncidental(db) : []);
  const sum = (rows: readonly { readonly id: string; readonly value_micro: number }[]): number =>
    sumOf(
      rows.filter((row) => !expensed.has(row.id)),
      (row) => row.value_micro,
    );
  let rack = ledger.rackBefore;
  for (const on of pointsOf(span)) {
    if (on >= span.from) rack += ledger.rackMonths.get(on.slice(0, 7)) ?? 0;
    const states = statesAt(knives, on);
    yield;
    const ids = states.map(({ id }) => id);
    const sheets = yield* sheetsAt(db, ids, on, rule);
    const held = (wanted: string): number =>
      sumOf(
        states.filter(({ state }) => state === wanted),
        ({ id }) => minorToMicro(directOf(sheets.get(id)), rule.decimals),
      );
    points.push({
      on,
      rack,
      opened: there.openings === 1 ? sum(openedAt(db, on)) : 0,
      baths: there.baths === 1 ? sum(bathsAt(db, on)) : 0,
      makings: there.makings === 1 ? sumOf(makingsAt(db, on), (row) => row.value_micro) : 0,
      work: held('work'),
      finished: held('finished'),
    });
    yield;
  }
  return points;
}
