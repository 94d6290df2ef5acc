/** The working behind a cost sheet's figures: where each came from and how it was reckoned. */
import type { Rung } from '../../api/builds.ts';
import type { Working } from '../../api/costs.ts';
import type { Use } from '../../api/stock.ts';
import type { CostEntry, StageHours } from '../../domain/cost-sheet.ts';
import { mulDiv } from '../../domain/integers.ts';
import { minutesText } from '../../domain/durations.ts';
import { formatMicro, minorToMicro } from '../../domain/money.ts';
import { formatQuantity } from '../../domain/quantity.ts';
import { type Form, isUnitCode, type UnitCode, unitOf, unitsOf } from '../../domain/units.ts';
import type { ChargeRecord, DrawRecord, WorkRecord } from '../../storage/queries/costs.ts';
import { makingTagOf, tagOf } from '../../storage/queries/lots.ts';
import { type HourRate, rateOn } from './hour-rates.ts';
import { lineOfDraw, type Placed } from './lines.ts';

/** A figure for the domain with the working a screen shows. */
export interface Entry extends CostEntry {
  readonly working: Working;
}

/** The item's own unit; the form's first where the books hold one this program does not know. */
const unitFor = (unit: string, form: Form): UnitCode =>
  isUnitCode(unit) && unitOf(unit).form === form ? unit : (unitsOf(form)[0]?.code ?? 'piece');

const pieces: readonly Form[] = ['length', 'area'];

/** E.g. `8 in of L-0003 (48 in bar at 24.00)`, or `380 g of L-0040 (1,060 g made in M-0001 for 82.53)`. */
function drawWords(draw: DrawRecord, currency: string): string {
  const form = draw.form as Form;
  const unit = unitFor(draw.unit, form);
  const word = draw.piece_word === '' ? {} : { word: draw.piece_word };
  const write = (qty: number): string => formatQuantity(qty, form, unit, word);
  const piece = pieces.includes(form) && draw.piece_word !== '' ? ` ${draw.piece_word}` : '';
  const by = draw.making_number === null ? 'at' : `made in ${makingTagOf(draw.making_number)} for`;
  const lot = `${write(draw.qty_received)}${piece} ${by} ${formatMicro(draw.value_received_micro, currency)}`;
  const taken = form === 'worth' ? `${formatMicro(draw.qty, currency)} worth` : write(draw.qty);
  return `${taken} of ${tagOf(draw.lot_number)} (${lot})`;
}

/**
 * The rung written down with the draw. Before rungs were, a share planned in the model was the usual use, and one drawn
 * by hand this knife's share of what was opened.
 */
const rungOfDraw = (draw: DrawRecord): Rung | null => {
  if (draw.use_as === 'material' || draw.use_as === 'packaging') return null;
  if (draw.rung !== null) return draw.rung as Rung;
  return draw.part_label === '' ? 3 : 2;
};

/** How a draw was reckoned: what was taken of which lot, and what an opening or a measured average says beside it. */
function drawHow(draw: DrawRecord, currency: string): string {
  const taken = drawWords(draw, currency);
  if (draw.opening_id !== null) return `its share of a new one: ${taken}`;
  return draw.use_as === 'consumable' && draw.reason !== '' ? `${taken}. ${draw.reason}` : taken;
}

/** Where a draw can be opened: the opening it is a share of, the making it came out of, else its lot. */
function sourceOf(draw: DrawRecord): NonNullable<Working['source']> {
  if (draw.opening_id !== null) return { kind: 'opening', id: draw.opening_id };
  return draw.making_id === null ? { kind: 'lot', id: draw.lot_id } : { kind: 'making', id: draw.making_id };
}

/** A draw from the rack as an entry of its line. */
export function placeDraw(draw: DrawRecord, currency: string): Placed<Entry> {
  const how = drawHow(draw, currency);
  const working: Working = {
    on: draw.on_date,
    label: draw.item_name,
    how,
    exactMicro: draw.value_micro,
    rung: rungOfDraw(draw),
    source: sourceOf(draw),
  };
  const entry = { valueMicro: draw.value_micro, working };
  return { use: draw.use_as as Use, line: lineOfDraw(draw), entry };
}

/** A cost entered by hand, or usual for the model, as an entry of its line. */
export function placeCharge(charge: ChargeRecord): Placed<Entry> {
  const usual = charge.rung === 2 ? 'usual for the model' : 'entered as an amount';
  const working: Working = {
    on: charge.on_date,
    label: charge.label,
    how: charge.how === '' ? usual : charge.how,
    exactMicro: charge.amount_micro,
    rung: charge.rung as Rung,
    source: { kind: 'charge', id: charge.id },
  };
  const entry = { valueMicro: charge.amount_micro, working };
  return { use: charge.use_as as Use, line: charge.label, entry };
}

/** E.g. `410 min × 35.00/h`. */
const rateWords = (minutes: number, perHourMicro: number, currency: string): string =>
  `${minutes} min × ${formatMicro(perHourMicro, currency)}/h`;

/** What one session's minutes cost at the labour rate of its day. */
export function sessionWorking(work: WorkRecord, rate: HourRate | undefined, currency: string): Working {
  const shared =
    work.session_minutes === work.minutes ? '' : `, its part of ${minutesText(work.session_minutes)}`;
  const perHour = rate?.per_hour_micro ?? 0;
  const what = work.note === '' ? work.name : `${work.name}: ${work.note}`;
  return {
    on: work.on_date,
    label: work.person_name === null ? what : `${what} (${work.person_name})`,
    how: `${rateWords(work.minutes, perHour, currency)}${shared}${work.source === 'guess' ? ', from memory' : ''}`,
    exactMicro: mulDiv(perHour, work.minutes, 60),
    rung: null,
    source: { kind: 'session', id: work.root_id },
  };
}

/** Minutes by the rate in force, oldest rate first. */
function minutesByRate(
  works: readonly WorkRecord[],
  rates: readonly HourRate[],
  kind: HourRate['kind'],
): [HourRate, number][] {
  const minutes = new Map<HourRate, number>();
  for (const work of works) {
    const rate = rateOn(rates, kind, work);
    if (rate) minutes.set(rate, (minutes.get(rate) ?? 0) + work.minutes);
  }
  return [...minutes].sort(([a], [b]) => (a.from_date < b.from_date ? -1 : 1));
}

/** Overhead of a knife by the rate in force. */
export const overheadWorking = (
  works: readonly WorkRecord[],
  rates: readonly HourRate[],
  currency: string,
): Working[] =>
  minutesByRate(works, rates, 'overhead').map(([rate, minutes]) => ({
    on: rate.from_date,
    label: rate.note === '' ? `Rate from ${rate.from_date}` : rate.note,
    how: rateWords(minutes, rate.per_hour_micro, currency),
    exactMicro: mulDiv(rate.per_hour_micro, minutes, 60),
    rung: null,
    source: { kind: 'rate', id: rate.id },
  }));

/** A stage as an addend of the labour line: its amount as shown, from the minutes at each rate. */
export function stageWorking(
  { name, labourMinor }: StageHours,
  works: readonly WorkRecord[],
  rates: readonly HourRate[],
  house: { readonly currency: string; readonly decimals: number },
): Working {
  const names = new Map(works.map((work) => [work.person_id, work.person_name]));
  const parts = minutesByRate(works, rates, 'labour').map(([rate, minutes]) => {
    const name = names.get(rate.personId) ?? null;
    return `${rateWords(minutes, rate.per_hour_micro, house.currency)}${name === null ? '' : ` (${name})`}`;
  });
  return {
    on: works.reduce((so, work) => (so === '' || work.on_date < so ? work.on_date : so), ''),
    label: name,
    how: parts.join(' and '),
    exactMicro: minorToMicro(labourMinor, house.decimals),
    rung: null,
    source: null,
  };
}
