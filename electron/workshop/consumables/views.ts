/** From rows of the books to openings as the contract answers them. */
import type { Opening, OpeningState } from '../../api/consumables.ts';
import { missing } from '../../api/errors.ts';
import type { GritScale } from '../../api/stock.ts';
import { gritText } from '../../domain/grits.ts';
import { groupBy } from '../../domain/groups.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type OpeningRow,
  openingRows,
  type OpeningShareRow,
  openingShareRows,
} from '../../storage/queries/consumables.ts';
import { tagOf } from '../../storage/queries/lots.ts';

/** An opening. @throws FaultError `missing` for an unknown id */
export function needOpening(db: ReadDb, id: string): OpeningRow {
  const row = openingRows(db, { id })[0];
  if (row === undefined) throw missing('This opening does not exist any more. Reload the list.');
  return row;
}

const toShare = (row: OpeningShareRow): Opening['builds'][number] => ({
  id: row.build_id,
  serial: row.serial,
  weight: row.weight,
  valueMicro: row.value_micro,
});

const toOpening = (row: OpeningRow, shares: readonly OpeningShareRow[]): Opening => ({
  id: row.id,
  itemId: row.item_id,
  itemName: row.item_name,
  grit: gritText({ scale: row.grit_scale as GritScale | null, grit: row.grit, backing: row.backing }),
  lotId: row.lot_id,
  lotTag: row.lot_number === null ? null : tagOf(row.lot_number),
  supplierName: row.supplier_name,
  openedAt: row.opened_at,
  on: row.on_date,
  stageCode: row.stage_code,
  stageName: row.stage_name,
  qty: row.qty,
  valueMicro: row.value_micro,
  state: row.state as OpeningState,
  bluntOn: row.blunt_on,
  endedOn: row.ended_on,
  note: row.note,
  builds: shares.map(toShare),
});

/** Openings with the knives they were shared over, fetched together. */
export function toOpenings(db: ReadDb, rows: readonly OpeningRow[]): Opening[] {
  const shares = groupBy(
    openingShareRows(
      db,
      rows.map((row) => row.id),
    ),
    (share) => share.opening_id,
  );
  return rows.map((row) => toOpening(row, shares.get(row.id) ?? []));
}

/** One opening. @throws FaultError `missing` for an unknown id */
export function readOpening(db: ReadDb, id: string): Opening {
  const opening = toOpenings(db, [needOpening(db, id)])[0];
  if (opening === undefined) throw new Error('An opening was lost on the way to the screen');
  return opening;
}
