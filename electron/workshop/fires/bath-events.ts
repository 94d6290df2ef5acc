/** Use-cases: oil poured in, noted on and changed. Every event keeps the bath's own ledger. */
import type { BathEventKind } from '../../api/fires.ts';
import { refused } from '../../api/errors.ts';
import type { BathState } from '../../domain/baths.ts';
import { sumOf } from '../../domain/integers.ts';
import { bathEventRows, type BathRow } from '../../storage/queries/fires.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem, pickFromRack } from '../stock/draw.ts';
import { post } from '../stock/post.ts';
import { needWorkshop } from '../workshop/need.ts';
import { bathById, needBath } from './baths.ts';
import { standing, stateOf } from './views.ts';

/** What an event of a bath says. */
export interface NewBathEvent {
  readonly bathId: string;
  readonly on: string;
  readonly kind: BathEventKind;
  readonly qtyNl?: number;
  readonly quenches?: number;
  readonly valueMicro?: number;
  readonly heatId?: string | null;
  readonly reason?: string;
  readonly reversesId?: string | null;
}

/** Writes an event. @returns its id */
export function writeEvent(ctx: CommandContext, event: NewBathEvent): string {
  const id = ctx.newId();
  const row = {
    id,
    bath_id: event.bathId,
    on_date: event.on,
    kind: event.kind,
    qty_nl: event.qtyNl ?? 0,
    quenches: event.quenches ?? 0,
    value_micro: event.valueMicro ?? 0,
    heat_id: event.heatId ?? null,
    reason: event.reason ?? '',
    reverses_id: event.reversesId ?? null,
  };
  ctx.db.run(ctx.db.q.insertInto('bath_events').values(row));
  return id;
}

/** A bath that is in use, with what is in it. */
export interface OpenBath {
  readonly bath: BathRow;
  readonly state: BathState;
}

/**
 * A bath something happens to on a day.
 * @throws FaultError when the day has not come yet, it is put away, or the day lies before the oil in it came or the tank was last emptied
 */
export function openBath(ctx: CommandContext, bathId: string, on: string): OpenBath {
  needWorkshop(ctx.db);
  demandCome(ctx.clock.today(), on);
  const bath = needBath(ctx.db, bathId);
  if (bath.archived === 1) throw refused(`${bath.name} is put away. Take it back into use first.`);
  const rows = bathEventRows(ctx.db, [bathId]);
  const state = stateOf(rows);
  const turned = standing(rows)
    .filter((row) => row.kind === 'fill' || row.kind === 'change')
    .at(-1);
  if (turned !== undefined && on < turned.on_date)
    throw refused(
      `${bath.name} was ${turned.kind === 'fill' ? 'filled' : 'changed'} on ${turned.on_date}, after ${on}. Change the date.`,
      'on',
    );
  return { bath, state };
}

/** @throws FaultError `refused` for an empty tank */
export function demandOilIn({ bath, state }: OpenBath): void {
  if (state.volumeNl === 0) throw refused(`There is no oil in ${bath.name}. Fill it first.`);
}

function demandRightWord({ bath, state }: OpenBath, kind: 'fill' | 'topUp'): void {
  if (kind === 'topUp') demandOilIn({ bath, state });
  else if (state.volumeNl > 0)
    throw refused(`There is oil in ${bath.name} already. Top it up, or change the oil first.`, 'kind');
}

/** Oil from the rack into the tank, with the value it has there. */
export const pour: HandlerFor<'baths.pour'> = {
  run(ctx, { bathId, kind, lotId, qty, on }) {
    const open = openBath(ctx, bathId, on);
    demandRightWord(open, kind);
    const item = needItem(ctx.db, open.bath.item_id);
    const { draws } = pickFromRack(ctx, item, { lotId, qty, on });
    const valueMicro = sumOf(draws, (draw) => draw.valueMicro);
    const bathEventId = writeEvent(ctx, { bathId, on, kind, qtyNl: qty, valueMicro });
    for (const draw of draws) {
      post(ctx.db, {
        id: ctx.newId(),
        lotId: draw.lotId,
        on,
        kind: 'intoBath',
        qty: -draw.qty,
        valueMicro: -draw.valueMicro,
        reason: open.bath.name,
        bathEventId,
      });
    }
    return bathById(ctx, bathId);
  },
};

/** The oil was filtered, or water is suspected in it. */
export const noteBath: HandlerFor<'baths.note'> = {
  run(ctx, { bathId, kind, on, reason }) {
    demandOilIn(openBath(ctx, bathId, on));
    writeEvent(ctx, { bathId, on, kind, reason });
    return bathById(ctx, bathId);
  },
};

/** The old oil goes out; what it was still worth is overhead, and the count of quenches starts anew. */
export const changeOil: HandlerFor<'baths.change'> = {
  run(ctx, { bathId, on, reason }) {
    const open = openBath(ctx, bathId, on);
    demandOilIn(open);
    const last = standing(bathEventRows(ctx.db, [bathId])).reduce(
      (so, row) => (row.on_date > so ? row.on_date : so),
      '',
    );
    if (on < last)
      throw refused(`${open.bath.name} was used on ${last}, after ${on}. Change the date.`, 'on');
    writeEvent(ctx, {
      bathId,
      on,
      kind: 'change',
      qtyNl: 0 - open.state.volumeNl,
      quenches: 0 - open.state.quenches,
      valueMicro: 0 - open.state.valueMicro,
      reason,
    });
    return bathById(ctx, bathId);
  },
};
