/**
 * The one place where stock moves: every movement is written here, and with it the running sums of its lot and its
 * knife, so that they cannot drift apart.
 */
import type { MovementKind, Use } from '../../api/stock.ts';
import type { WriteDb } from '../../storage/db.ts';
import { refused } from '../../api/errors.ts';
import { sumOf } from '../../domain/integers.ts';
import { type Draw, levelLots } from '../../domain/stock.ts';
import { fixedStatement, inserter } from '../../storage/queries/insert.ts';
import { averagedItemOf, lotSums } from '../../storage/queries/lots.ts';
import { restateCosts } from '../costs/restate.ts';

/** What a movement says. Quantity and value are signed: in is positive, out is negative. */
export interface NewMovement {
  readonly id: string;
  readonly lotId: string;
  readonly on: string;
  readonly kind: MovementKind;
  /** Base units of the item's form. */
  readonly qty: number;
  readonly valueMicro: number;
  readonly use?: Use | null;
  readonly buildId?: string | null;
  readonly stageCode?: string | null;
  readonly partLabel?: string;
  readonly netQty?: number | null;
  readonly reason?: string;
  readonly reversesId?: string | null;
  /** The making it came out of or went into. */
  readonly makingId?: string | null;
  /** The opening, the burn or the event of a bath it stands for. */
  readonly openingId?: string | null;
  readonly burnId?: string | null;
  readonly bathEventId?: string | null;
  /** Step of the ladder the figure stands on; null for material. */
  readonly rung?: 1 | 2 | 3 | 4 | null;
}

/** How the first movement of a lot brings it in. */
export type FirstKind = Extract<MovementKind, 'receipt' | 'made' | 'split'>;

const insertMovement = inserter('movements', [
  'id',
  'lot_id',
  'on_date',
  'kind',
  'qty',
  'value_micro',
  'use_as',
  'build_id',
  'stage_code',
  'part_label',
  'net_qty',
  'reason',
  'reverses_id',
  'making_id',
  'opening_id',
  'burn_id',
  'bath_event_id',
  'rung',
]);

const moveLotSums = fixedStatement(
  'UPDATE lots SET qty_left = qty_left + ?, value_left_micro = value_left_micro + ? WHERE id = ?',
);

function writeRow(db: WriteDb, m: NewMovement): void {
  const row = {
    id: m.id,
    lot_id: m.lotId,
    on_date: m.on,
    kind: m.kind,
    qty: m.qty,
    value_micro: m.valueMicro,
    use_as: m.use ?? null,
    build_id: m.buildId ?? null,
    stage_code: m.stageCode ?? null,
    part_label: m.partLabel ?? '',
    net_qty: m.netQty ?? null,
    reason: m.reason ?? '',
    reverses_id: m.reversesId ?? null,
    making_id: m.makingId ?? null,
    opening_id: m.openingId ?? null,
    burn_id: m.burnId ?? null,
    bath_event_id: m.bathEventId ?? null,
    rung: m.rung ?? null,
  };
  db.run(insertMovement(row));
}

/** When and why values are drawn level. `key` makes the movements' ids: the id of what called for it. */
export interface LevelOccasion {
  readonly key: string;
  readonly on: string;
  readonly reason?: string;
}

const lotsOf = (db: WriteDb, itemId: string) =>
  lotSums(db, itemId).map((lot) => ({
    id: lot.id,
    qtyLeft: lot.qty_left,
    valueLeftMicro: lot.value_left_micro,
  }));

function shift(db: WriteDb, deltas: ReturnType<typeof levelLots>, { key, on, reason }: LevelOccasion): void {
  // What rises comes first: no lot may stand below nothing in between.
  const inOrder = [...deltas].sort((a, b) => b.deltaMicro - a.deltaMicro);
  for (const [at, { lotId, deltaMicro }] of inOrder.entries()) {
    const id = `${key}~${at + 1}`;
    writeRow(db, { id, lotId, on, kind: 'evenOut', qty: 0, valueMicro: deltaMicro, reason: reason ?? '' });
    db.run(moveLotSums(0, deltaMicro, lotId));
  }
}

/** Draws all lots of an item level: a unit of each is then worth the moving average. */
export function levelItem(db: WriteDb, itemId: string, occasion: LevelOccasion): void {
  shift(db, levelLots(lotsOf(db, itemId)), occasion);
}

/**
 * Before something that came in at its own price leaves again: its lot may by now hold less value than that, because it
 * was shared with the others. Brings all lots to where they are level once it has left.
 * @throws FaultError `refused` when the item has not that much value left
 */
function makeRoom(db: WriteDb, itemId: string, m: NewMovement): void {
  const lots = lotsOf(db, itemId);
  const value = sumOf(lots, (lot) => lot.valueLeftMicro) + m.valueMicro;
  const qty = sumOf(lots, (lot) => lot.qtyLeft) + m.qty;
  if (value < 0 || qty < 0 || (qty === 0 && value !== 0)) {
    throw refused(
      'Too much of this was used since at the moving average. Take the later movements back first, or count the lot.',
    );
  }
  const leaving = [{ lotId: m.lotId, qty: -m.qty, valueMicro: -m.valueMicro }];
  makeRoomFor(db, itemId, leaving, { key: `${m.id}~`, on: m.on });
}

/** Brings the lots of an item to where they are level once something has left them at a value of its own. */
export function makeRoomFor(
  db: WriteDb,
  itemId: string,
  leaving: readonly Draw[],
  occasion: LevelOccasion,
): void {
  const after = lotsOf(db, itemId).map((lot) => {
    const own = leaving.filter((draw) => draw.lotId === lot.id);
    const qtyLeft = lot.qtyLeft - sumOf(own, (draw) => draw.qty);
    return { ...lot, qtyLeft, valueLeftMicro: lot.valueLeftMicro - sumOf(own, (draw) => draw.valueMicro) };
  });
  shift(db, levelLots(after), occasion);
}

/** Writes the first movement of a lot that was just added: its sums stand already. `newLot` calls it. */
export const postFirst = (db: WriteDb, m: NewMovement & { readonly kind: FirstKind }): void => {
  writeRow(db, m);
};

/**
 * Writes a movement and carries its lot and its knife along. Whatever comes in of an item valued at the moving average
 * draws its lots level again.
 */
export function post(db: WriteDb, m: NewMovement): void {
  const cameIn = m.qty > 0 || m.kind === 'reversal';
  const averaged = cameIn ? averagedItemOf(db, m.lotId) : undefined;
  if (averaged !== undefined && m.qty < 0) makeRoom(db, averaged, m);
  writeRow(db, m);
  db.run(moveLotSums(m.qty, m.valueMicro, m.lotId));
  if (averaged !== undefined) levelItem(db, averaged, { key: m.id, on: m.on });
  if (m.buildId != null) restateCosts(db, [m.buildId]);
}
