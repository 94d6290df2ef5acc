/** From rows of the books to knives as the contract answers them. */
import type { BuildRow, BuildState, Charge, ModelPart, Rung } from '../../api/builds.ts';
import type { ItemForm, Use } from '../../api/stock.ts';
import { effectiveRung } from '../../domain/ladder.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type BuildListRow,
  type ChargeRow,
  firstPhotos,
  stageProgress,
} from '../../storage/queries/builds.ts';
import { stageRows } from '../../storage/queries/workshop.ts';
import type { ModelPartRow } from '../../storage/queries/models.ts';
import { needBuild } from './touch.ts';

/** Rows of the list with progress and photo: two more queries for the whole page, whatever its length. */
export function toBuildRows(db: ReadDb, rows: readonly BuildListRow[]): BuildRow[] {
  const ids = rows.map((row) => row.id);
  const progress = new Map(stageProgress(db, ids).map((row) => [row.build_id, row]));
  const photos = new Map(firstPhotos(db, ids).map((row) => [row.owner_id, row.id]));
  const stageNames = new Map(stageRows(db).map((row) => [row.code, row.name]));
  return rows.map((row) => {
    const along = progress.get(row.id);
    const nextStageCode = along?.next_position == null ? null : along.stage_code;
    return {
      id: row.id,
      serial: row.serial,
      title: row.title,
      modelId: row.model_id,
      modelCode: row.model_code,
      modelName: row.model_name,
      state: row.state as BuildState,
      method: row.method,
      batch: row.batch,
      plannedOn: row.planned_on,
      startedOn: row.started_on,
      finishedOn: row.finished_on,
      stagesDone: along?.stages_done ?? 0,
      stagesAll: along?.stages_all ?? 0,
      nextStageCode,
      nextStageName: nextStageCode === null ? null : (stageNames.get(nextStageCode) ?? null),
      minutes: row.minutes,
      costMicro: row.cost_micro,
      photoId: photos.get(row.id) ?? null,
    };
  });
}

/** One knife as the list shows it. @throws FaultError `missing` for an unknown id */
export function buildAsRow(db: ReadDb, id: string): BuildRow {
  const row = toBuildRows(db, [needBuild(db, id)])[0];
  if (row === undefined) throw new Error('A knife was lost on the way to the screen');
  return row;
}

/** A usual part as the contract answers it. */
export const toModelPart = (row: ModelPartRow): ModelPart => ({
  id: row.id,
  label: row.label,
  itemId: row.item_id,
  itemName: row.item_name,
  form: row.form as ItemForm,
  unit: row.unit,
  pieceWord: row.piece_word,
  use: row.use_as as Use,
  qty: row.qty,
  perBar: row.per_bar,
  stageCode: row.stage_code,
  rung: effectiveRung(row.consumed_by, row.rung),
  qtyLeft: row.qty_left,
});

/** A charge as the contract answers it. */
export const toCharge = (row: ChargeRow): Charge => ({
  id: row.id,
  on: row.on_date,
  label: row.label,
  use: row.use_as as Use,
  amountMicro: row.amount_micro,
  rung: row.rung as Rung,
  reversesId: row.reverses_id,
  reversedById: row.reversed_by_id,
});
