/** From rows of the books to knives as the contract answers them. */
import type { BuildRow, BuildState, Charge, ModelPart, Rung } from '../../api/builds.ts';
import type { ItemForm, Use } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type BuildListRow,
  type ChargeRow,
  firstPhotos,
  nextStages,
  stageProgress,
} from '../../storage/queries/builds.ts';
import type { ModelPartRow } from '../../storage/queries/models.ts';
import { needBuild } from './touch.ts';

const byId = <R>(rows: readonly R[], idOf: (row: R) => string): ReadonlyMap<string, R> =>
  new Map(rows.map((row) => [idOf(row), row]));

/** Rows of the list with progress and photo; three more queries for the whole page, whatever its length. */
export function toBuildRows(db: ReadDb, rows: readonly BuildListRow[]): BuildRow[] {
  const ids = rows.map((row) => row.id);
  const progress = byId(stageProgress(db, ids), (row) => row.build_id);
  const next = byId(nextStages(db, ids), (row) => row.build_id);
  const photos = byId(firstPhotos(db, ids), (row) => row.owner_id);
  return rows.map((row) => ({
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
    stagesDone: progress.get(row.id)?.stages_done ?? 0,
    stagesAll: progress.get(row.id)?.stages_all ?? 0,
    nextStageCode: next.get(row.id)?.code ?? null,
    nextStageName: next.get(row.id)?.name ?? null,
    minutes: row.minutes,
    costMicro: row.cost_micro,
    photoId: photos.get(row.id)?.id ?? null,
  }));
}

/** One knife as the list shows it. @throws FaultError `missing` for an unknown id */
export function buildAsRow(db: ReadDb, id: string): BuildRow {
  const row = toBuildRows(db, [needBuild(db, id)])[0];
  if (row === undefined) throw new Error('A knife was lost on the way to the screen');
  return row;
}

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
  qtyLeft: row.qty_left,
});

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
