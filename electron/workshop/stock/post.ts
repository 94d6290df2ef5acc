/**
 * The one place where stock moves: every movement is written here, and with it the running sums of its lot and its
 * knife, so that they cannot drift apart.
 */
import type { MovementKind, Use } from '../../api/stock.ts';
import type { WriteDb } from '../../storage/db.ts';
import { fixedStatement, inserter } from '../../storage/queries/insert.ts';
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

/** Writes the first movement of a lot that was just added: its sums stand already. `newLot` calls it. */
export const postFirst = (db: WriteDb, m: NewMovement & { readonly kind: FirstKind }): void => {
  writeRow(db, m);
};

/** Writes a movement and carries its lot and its knife along. */
export function post(db: WriteDb, m: NewMovement): void {
  writeRow(db, m);
  db.run(moveLotSums(m.qty, m.valueMicro, m.lotId));
  if (m.buildId != null) restateCosts(db, [m.buildId]);
}
