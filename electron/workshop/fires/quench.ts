/** Use-cases: blades quenched in a bath, and an event of a bath taken back. */
import { missing, refused } from '../../api/errors.ts';
import { quenchCost, quenchesLeft } from '../../domain/baths.ts';
import { allocate } from '../../domain/integers.ts';
import { formatMicro } from '../../domain/money.ts';
import {
  type BathEventRow,
  bathEventRow,
  bathEventRows,
  type BathRow,
  chargesBehind,
  itemPoured,
  movementsBehind,
} from '../../storage/queries/fires.ts';
import { heatIsThere } from '../../storage/queries/waits.ts';
import { postCharge } from '../builds/charges.ts';
import { demandOpenFor, needBuild, touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { correctionDay } from '../days.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandOilIn, openBath, type OpenBath, writeEvent } from './bath-events.ts';
import { bathById, needBath } from './baths.ts';
import { takeBackCharges, takeBackMovements } from './take-back.ts';
import { leastSince, standing, stateOf } from './views.ts';

/** @throws FaultError when one knife is named twice */
export function demandOnce(ids: readonly string[], field: string): void {
  if (new Set(ids).size !== ids.length) throw refused('One knife is chosen twice. Choose each once.', field);
}

/** E.g. `148.00 over 300 quenches left, 4 dips by 2 knives`. */
function howPaid({ bath, state }: OpenBath, dips: number, knives: number, currency: string): string {
  if (bath.life_quenches === null) return 'no life is set for the bath, so the oil is overhead at its change';
  const left = quenchesLeft(bath.life_quenches, state.quenches);
  const share = knives === 1 ? 'one knife' : `${String(knives)} knives`;
  const worth = formatMicro(state.valueMicro, currency, 2);
  return `oil worth ${worth} over ${String(left)} quenches left; ${String(dips)} by ${share}`;
}

/** Books blades that were quenched: each pays its share of what the oil is worth over what is left of its life. */
export const quench: HandlerFor<'baths.quench'> = {
  run(ctx, { bathId, on, buildIds, times, heatId }) {
    const open = openBath(ctx, bathId, on);
    demandOilIn(open);
    demandOnce(buildIds, 'buildIds');
    if (heatId !== null && !heatIsThere(ctx.db, heatId))
      throw missing('This heat-treat record does not exist any more. Reload the list.');
    const dips = buildIds.length * times;
    const then = stateOnDay(ctx, open, on);
    const valueMicro = Math.min(
      quenchCost(then, open.bath.life_quenches, dips),
      lowestWorth(ctx, bathId, on),
    );
    const bathEventId = writeEvent(ctx, {
      bathId,
      on,
      kind: 'quench',
      quenches: dips,
      valueMicro: 0 - valueMicro,
      heatId,
    });
    const how = howPaid({ ...open, state: then }, dips, buildIds.length, houseOf(ctx.db).currency);
    const shares = allocate(
      valueMicro,
      buildIds.map(() => 1),
    );
    buildIds.forEach((buildId, at) => {
      demandOpenFor(needBuild(ctx.db, buildId), 'consumable');
      touchBuild(ctx.db, buildId, on);
      postCharge(ctx, {
        buildId,
        on,
        label: 'Quench oil',
        use: 'consumable',
        amountMicro: shares[at] ?? 0,
        rung: 3,
        itemId: open.bath.item_id,
        bathEventId,
        how,
      });
    });
    return bathById(ctx, bathId);
  },
};

/** What was in the tank at the end of a day: oil poured in since is not what was quenched in then. */
const stateOnDay = (ctx: CommandContext, { bath }: OpenBath, on: string): OpenBath['state'] =>
  stateOf(bathEventRows(ctx.db, [bath.id]).filter((row) => row.on_date <= on));

/** The least a tank was worth at the end of a day and of any day after it. */
const lowestWorth = (ctx: CommandContext, bathId: string, on: string): number =>
  leastSince(bathEventRows(ctx.db, [bathId]), on).valueMicro;

function needEvent(ctx: CommandContext, id: string): BathEventRow {
  const row = bathEventRow(ctx.db, id);
  if (row === undefined) throw missing('This entry does not exist any more. Reload the bath.');
  if (row.kind === 'reversal') throw refused('This entry itself takes another one back.');
  if (row.reversed_by_id !== null) throw refused('This entry was taken back already.');
  return row;
}

/** What was in the tank follows from what came before: only what nothing rests on goes back. */
function demandNothingSince(ctx: CommandContext, row: BathEventRow, on: string): void {
  if (row.kind === 'filter' || row.kind === 'water') return;
  const rows = standing(bathEventRows(ctx.db, [row.bath_id]));
  const later = rows.filter((other) => other.seq > row.seq);
  const turned = later.find((other) => other.kind === 'fill' || other.kind === 'change');
  if (turned !== undefined)
    throw refused(
      `The oil was ${turned.kind === 'fill' ? 'filled anew' : 'changed'} on ${turned.on_date}, after this entry. Take that back first.`,
    );
  const least = leastSince(bathEventRows(ctx.db, [row.bath_id]), on);
  const spent = least.valueMicro < row.value_micro || least.qtyNl < row.qty_nl;
  const orphaned =
    row.kind === 'fill' && later.some((other) => other.kind !== 'filter' && other.kind !== 'water');
  if (spent || orphaned)
    throw refused('Blades were quenched or oil was added since. Take those entries back first.');
}

/** @throws FaultError when oil would come back into a tank that is put away, or now written down for another oil */
function demandTankFor(ctx: CommandContext, bath: BathRow, row: BathEventRow): void {
  if (row.kind !== 'change') return;
  if (bath.archived === 1) throw refused(`${bath.name} is put away. Take it back into use first.`);
  const fill = standing(bathEventRows(ctx.db, [bath.id])).findLast(
    (other) => other.kind === 'fill' && other.seq < row.seq,
  );
  const oil = fill === undefined ? undefined : itemPoured(ctx.db, fill.id);
  if (oil === undefined || oil.id === bath.item_id) return;
  throw refused(
    `${oil.name} was in the tank then, and ${bath.name} is written down for ${bath.item_name} now. Change that back first.`,
  );
}

/** Takes one event of a bath back, with the stock and the charges behind it. */
export const reverseEvent: HandlerFor<'baths.reverse'> = {
  run(ctx, { eventId, reason }) {
    needWorkshop(ctx.db);
    const row = needEvent(ctx, eventId);
    demandTankFor(ctx, needBath(ctx.db, row.bath_id), row);
    const on = correctionDay(ctx, row.on_date);
    demandNothingSince(ctx, row, on);
    writeEvent(ctx, {
      bathId: row.bath_id,
      on,
      kind: 'reversal',
      qtyNl: 0 - row.qty_nl,
      quenches: 0 - row.quenches,
      valueMicro: 0 - row.value_micro,
      reason,
      reversesId: row.id,
    });
    takeBackMovements(ctx, movementsBehind(ctx.db, 'm.bath_event_id', row.id), reason);
    takeBackCharges(ctx, chargesBehind(ctx.db, 'c.bath_event_id', row.id), { on, reason });
    return bathById(ctx, row.bath_id);
  },
};
