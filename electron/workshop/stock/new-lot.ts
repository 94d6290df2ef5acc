/** Adding a lot: bought, made, or cut off another. Its first movement brings in what it holds. */
import { inserter } from '../../storage/queries/insert.ts';
import { nextCount } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import { averagedItemOf } from '../../storage/queries/lots.ts';
import { type FirstKind, levelItem, type NewMovement, postFirst } from './post.ts';

/** A lot to be. What is left out is empty. */
export interface NewLot {
  readonly itemId: string;
  readonly on: string;
  readonly kind: FirstKind;
  /** Base units of the item's form. */
  readonly qty: number;
  readonly valueMicro: number;
  readonly purchaseLineId?: string | null;
  readonly supplierId?: string | null;
  readonly makingId?: string | null;
  /** The lot it was cut off from. */
  readonly parentId?: string | null;
  readonly heatNumber?: string;
  readonly place?: string;
  readonly note?: string;
  /** Size of a sheet. */
  readonly lengthNm?: number | null;
  readonly widthNm?: number | null;
  readonly species?: string;
  readonly listing?: string;
  readonly origin?: string;
  readonly paperNumber?: string;
  readonly reason?: string;
  /** Taken from whoever numbers many at once; otherwise the next free one. */
  readonly number?: number;
}

export interface AddedLot {
  readonly id: string;
  readonly number: number;
  /** Its first movement. */
  readonly movementId: string;
}

const insertLot = inserter('lots', [
  'id',
  'number',
  'item_id',
  'purchase_line_id',
  'supplier_id',
  'received_on',
  'heat_number',
  'place',
  'note',
  'qty_received',
  'value_received_micro',
  'qty_left',
  'value_left_micro',
  'making_id',
  'length_nm',
  'width_nm',
  'parent_id',
  'species',
  'listing',
  'origin',
  'paper_number',
]);

const writtenOn = (lot: NewLot) => ({
  heat_number: lot.heatNumber ?? '',
  place: lot.place ?? '',
  note: lot.note ?? '',
  species: lot.species ?? '',
  listing: lot.listing ?? '',
  origin: lot.origin ?? '',
  paper_number: lot.paperNumber ?? '',
});

const cameFrom = (lot: NewLot) => ({
  purchase_line_id: lot.purchaseLineId ?? null,
  supplier_id: lot.supplierId ?? null,
  making_id: lot.makingId ?? null,
  parent_id: lot.parentId ?? null,
});

function firstMovement(ctx: CommandContext, lot: NewLot, lotId: string): NewMovement & { kind: FirstKind } {
  const { on, kind, qty, valueMicro, makingId, reason } = lot;
  return {
    id: ctx.newId(),
    lotId,
    on,
    kind,
    qty,
    valueMicro,
    makingId: makingId ?? null,
    reason: reason ?? '',
  };
}

/** Adds a lot and leaves the moving average to the caller, who adds many at once. */
export function addLot(ctx: CommandContext, lot: NewLot): AddedLot {
  const id = ctx.newId();
  const number = lot.number ?? nextCount(ctx.db, 'lots');
  const { qty, valueMicro } = lot;
  const sums = {
    qty_received: qty,
    value_received_micro: valueMicro,
    qty_left: qty,
    value_left_micro: valueMicro,
  };
  const size = { length_nm: lot.lengthNm ?? null, width_nm: lot.widthNm ?? null };
  const row = { id, number, item_id: lot.itemId, received_on: lot.on, ...cameFrom(lot), ...writtenOn(lot) };
  ctx.db.run(insertLot({ ...row, ...sums, ...size }));
  const first = firstMovement(ctx, lot, id);
  postFirst(ctx.db, first);
  return { id, number, movementId: first.id };
}

/** Adds a lot with the movement that brings it in. What goes out elsewhere for it is the caller's to post. */
export function newLot(ctx: CommandContext, lot: NewLot): AddedLot {
  const added = addLot(ctx, lot);
  const averaged = averagedItemOf(ctx.db, added.id);
  if (averaged !== undefined) levelItem(ctx.db, averaged, { key: added.movementId, on: lot.on });
  return added;
}
