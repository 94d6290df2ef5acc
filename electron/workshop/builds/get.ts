/** Use-cases: the list of knives, and one knife with all that went into it. */
import type { BuildDetail, BuildStage, ModelPart } from '../../api/builds.ts';
import type { Use } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { attachmentRows } from '../../storage/queries/attachments.ts';
import {
  bladeOfBuild,
  buildPage,
  buildStageRows,
  type ChargeRow,
  chargeRows,
  minutesByStage,
  noteRows,
  saleOfBuild,
  takenParts,
} from '../../storage/queries/builds.ts';
import { movementRows } from '../../storage/queries/lots.ts';
import { modelFlatRows, modelPartRows, modelRows } from '../../storage/queries/models.ts';
import { toAttachment } from '../files/views.ts';
import type { HandlerFor } from '../handlers.ts';
import { toMovement } from '../stock/views.ts';
import { needBuild } from './touch.ts';
import { buildAsRow, toBuildRows, toCharge, toModelPart } from './views.ts';

const ALL = { limit: -1, offset: 0 };

/** A page of knives. */
export const list: HandlerFor<'builds.list'> = (ctx, input) => {
  const { rows, total } = buildPage(ctx.db, input);
  return { rows: toBuildRows(ctx.db, rows), total };
};

/** Planned stages with the minutes booked, then stages worked on that were not planned. */
function stagesOf(db: ReadDb, buildId: string): BuildStage[] {
  const worked = minutesByStage(db, buildId);
  const minutes = new Map(worked.map((row) => [row.code, row.minutes]));
  const planned = buildStageRows(db, buildId);
  const codes = new Set(planned.map((row) => row.code));
  const unplanned = worked
    .filter((row) => !codes.has(row.code))
    .map((row) => ({ ...row, usual_minutes: 0, done_on: null }));
  return [...planned, ...unplanned].map((row) => ({
    code: row.code,
    name: row.name,
    attended: row.attended === 1,
    usualMinutes: row.usual_minutes,
    minutes: minutes.get(row.code) ?? 0,
    doneOn: row.done_on,
  }));
}

function partsOf(
  db: ReadDb,
  buildId: string,
  modelId: string,
): (ModelPart & { readonly takenQty: number })[] {
  const taken = takenParts(db, buildId);
  const of = (part: ModelPart): number =>
    taken.find((row) => row.part_label === part.label && row.item_id === part.itemId)?.qty ?? 0;
  return modelPartRows(db, modelId)
    .map(toModelPart)
    .map((part) => ({ ...part, takenQty: of(part) }));
}

function flatsOf(db: ReadDb, modelId: string, charges: readonly ChargeRow[]): BuildDetail['flats'] {
  const standing = charges.filter((row) => row.reversed_by_id === null);
  return modelFlatRows(db, modelId).map((flat) => ({
    id: flat.id,
    label: flat.label,
    use: flat.use_as as Use,
    amountMicro: flat.amount_micro,
    booked: standing.some((row) => row.flat_id === flat.id),
  }));
}

function saleOf(db: ReadDb, buildId: string): BuildDetail['sale'] {
  const sale = saleOfBuild(db, buildId);
  if (sale === undefined) return null;
  return {
    saleId: sale.id,
    on: sale.on_date,
    buyerName: sale.buyer_name,
    priceMinor: sale.price_minor,
    invoiceId: sale.invoice_id,
    invoiceNumber: sale.invoice_number,
  };
}

/** One knife. */
export const get: HandlerFor<'builds.get'> = (ctx, { id }) => {
  const { db } = ctx;
  const build = needBuild(db, id);
  const charges = chargeRows(db, id);
  const blade = bladeOfBuild(db, id);
  const [model] = modelRows(db, { id: build.model_id, on: ctx.clock.today(), includeArchived: true });
  return {
    ...buildAsRow(db, id),
    note: build.note,
    flaw: build.flaw,
    bladeNm: blade?.bladeNm ?? null,
    steel: blade?.steel ?? '',
    finish: blade?.finish ?? '',
    endReason: build.end_reason,
    stages: stagesOf(db, id),
    parts: partsOf(db, id, build.model_id),
    flats: flatsOf(db, build.model_id, charges),
    movements: movementRows(db, { buildId: id }, ALL).map(toMovement),
    charges: charges.map(toCharge),
    notes: noteRows(db, id),
    attachments: attachmentRows(db, 'build', id).map(toAttachment),
    listPriceMinor: model?.price_minor ?? null,
    sale: saleOf(db, id),
  };
};
