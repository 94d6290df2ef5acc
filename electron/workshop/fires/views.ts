/** From rows of the books to baths, ovens and firings as the contract answers them. */
import type { Bath, BathEvent, BathEventKind, Burn, Fire } from '../../api/fires.ts';
import { bathDue, bathState, type BathEntry, type BathState, quenchCost } from '../../domain/baths.ts';
import { daysBetween } from '../../domain/calendar.ts';
import { minutesText } from '../../domain/durations.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMicro } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type BathEventRow,
  bathEventRows,
  type BathRow,
  buildsOfBathEvents,
  buildsOfBurns,
  type BurnRow,
  type FireRow,
} from '../../storage/queries/fires.ts';
import { makingTagOf } from '../../storage/queries/lots.ts';
import { houseOf } from '../costs/house.ts';
import { describer } from '../stock/views.ts';

/** More of one bath's ledger is not shown; its sums count all of it. */
const EVENTS_SHOWN = 200;

const toEntry = (row: BathEventRow): BathEntry => ({
  on: row.on_date,
  kind: row.kind,
  qtyNl: row.qty_nl,
  quenches: row.quenches,
  valueMicro: row.value_micro,
});

/** Events that still stand: neither taken back nor taking back. */
export const standing = (rows: readonly BathEventRow[]): BathEventRow[] =>
  rows.filter((row) => row.kind !== 'reversal' && row.reversed_by_id === null);

/** What is in a tank by its ledger. */
export const stateOf = (rows: readonly BathEventRow[]): BathState => bathState(standing(rows).map(toEntry));

/** The least a tank held and was worth at the end of a day and of any day after it, by what the books say of each day. */
export function leastSince(
  rows: readonly BathEventRow[],
  on: string,
): Pick<BathEntry, 'qtyNl' | 'valueMicro'> {
  const days = new Set([on, ...rows.map((row) => row.on_date).filter((day) => day > on)]);
  const ends = [...days].map((day) => rows.filter((row) => row.on_date <= day));
  return {
    qtyNl: Math.min(...ends.map((held) => sumOf(held, (row) => row.qty_nl))),
    valueMicro: Math.min(...ends.map((held) => sumOf(held, (row) => row.value_micro))),
  };
}

type Paid = ReturnType<typeof buildsOfBathEvents>;

const toEvent = (row: BathEventRow, paid: Paid): BathEvent => ({
  id: row.id,
  on: row.on_date,
  kind: row.kind as BathEventKind,
  qtyNl: row.qty_nl,
  quenches: row.quenches,
  valueMicro: row.value_micro,
  reason: row.reason,
  builds: paid.filter((one) => one.bath_event_id === row.id).map(({ id, serial }) => ({ id, serial })),
  reversesId: row.reverses_id,
  reversedById: row.reversed_by_id,
});

function toBath(row: BathRow, events: readonly BathEventRow[], paid: Paid, today: string): Bath {
  const state = stateOf(events);
  const life = { lifeQuenches: row.life_quenches, lifeDays: row.life_days };
  const age = state.filledOn === null ? 0 : daysBetween(state.filledOn, today);
  return {
    id: row.id,
    name: row.name,
    itemId: row.item_id,
    itemName: row.item_name,
    ...life,
    flashMilliC: row.flash_milli_c,
    note: row.note,
    archived: row.archived === 1,
    volumeNl: state.volumeNl,
    valueMicro: state.valueMicro,
    quenches: state.quenches,
    filledOn: state.filledOn,
    filteredOn: state.filteredOn,
    perQuenchMicro: row.life_quenches === null ? null : quenchCost(state, row.life_quenches, 1),
    due: bathDue(state, life, age),
    events: events
      .slice(-EVENTS_SHOWN)
      .reverse()
      .map((event) => toEvent(event, paid)),
  };
}

/** Baths with their ledgers. */
export function toBaths(db: ReadDb, rows: readonly BathRow[], today: string): Bath[] {
  const events = bathEventRows(
    db,
    rows.map((row) => row.id),
  );
  const paid = buildsOfBathEvents(
    db,
    events.filter((event) => event.kind === 'quench').map((event) => event.id),
  );
  return rows.map((row) =>
    toBath(
      row,
      events.filter((event) => event.bath_id === row.id),
      paid,
      today,
    ),
  );
}

/** An oven or forge as the contract answers it. */
export const toFire = (row: FireRow): Fire => ({
  id: row.id,
  name: row.name,
  kind: row.kind as Fire['kind'],
  watts: row.watts,
  dutyPpm: row.duty_ppm,
  burnRateNg: row.burn_rate_ng,
  gasItemId: row.gas_item_id,
  note: row.note,
  archived: row.archived === 1,
});

/** Watt-hours as kilowatt-hours, e.g. `9.36 kWh`. */
const kwhText = (wattHours: number): string => `${String(wattHours / 1000)} kWh`;

type Reckoned = Pick<
  BurnRow,
  'kind' | 'before_ng' | 'after_ng' | 'fire_minutes' | 'burn_rate_ng' | 'watt_hours' | 'per_kwh_micro'
>;

/** How a firing was reckoned, e.g. `4 h 12 min × 3.2 lb/h`. @param write quantities of the gas */
export function howBurnt(row: Reckoned, write: (ng: number) => string, currency: string): string {
  if (row.kind === 'gasByWeight') return `${write(row.before_ng ?? 0)} less ${write(row.after_ng ?? 0)}`;
  if (row.kind === 'gasByHours')
    return `${minutesText(row.fire_minutes ?? 0)} × ${write(row.burn_rate_ng ?? 0)}/h`;
  return `${kwhText(row.watt_hours ?? 0)} × ${formatMicro(row.per_kwh_micro ?? 0, currency, 6)}`;
}

const writerOf = ({ form, unit, piece_word }: BurnRow): ((ng: number) => string) =>
  form === null || unit === null ? String : describer({ form, unit, piece_word: piece_word ?? '' });

/** Firings with what each knife paid. */
export function toBurns(db: ReadDb, rows: readonly BurnRow[]): Burn[] {
  const { currency } = houseOf(db);
  const paid = buildsOfBurns(
    db,
    rows.map((row) => row.id),
  );
  return rows.map((row) => ({
    id: row.id,
    on: row.on_date,
    kind: row.kind as Burn['kind'],
    label: row.label,
    how: howBurnt(row, writerOf(row), currency),
    amountMicro: row.amount_micro,
    makingId: row.making_id,
    makingTag: row.making_number === null ? null : makingTagOf(row.making_number),
    builds: paid
      .filter((one) => one.burn_id === row.id)
      .map(({ id, serial, amount_micro }) => ({ id, serial, amountMicro: amount_micro })),
    takenBack: row.taken_back === 1,
  }));
}
