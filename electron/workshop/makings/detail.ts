/** One making in full. */
import type { MakingDetail, MakingOutput, MakingStep, ShareKey, StepKind } from '../../api/makings.ts';
import { sumOf } from '../../domain/integers.ts';
import { perKilogram } from '../../domain/making-share.ts';
import { followSteps, lastWeight, totalLoss } from '../../domain/making-steps.ts';
import { microToMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { attachmentRows } from '../../storage/queries/attachments.ts';
import { lotRow, makingTagOf, movementRows } from '../../storage/queries/lots.ts';
import {
  makingChargeRows,
  makingInputs,
  makingOutputs,
  type MakingRecord,
  makingSessions,
  makingSteps,
  type OutputRecord,
  type StepRecord,
} from '../../storage/queries/makings.ts';
import { houseOf } from '../costs/house.ts';
import { toAttachment } from '../files/views.ts';
import { toLotRow, toMovement } from '../stock/views.ts';
import { labourOfMaking, type MakingLabour } from './labour.ts';
import { makingLines } from './lines.ts';
import { needMaking } from './need.ts';
import { remarksOn } from './remarks.ts';
import { makingRows } from './rows.ts';

const ALL = { limit: -1, offset: 0 };

/** What the reckoning needs of a step. */
export const said = (step: Pick<StepRecord, 'weight_after_ng' | 'pieces'>) => ({
  weightAfterNg: step.weight_after_ng,
  pieces: step.pieces,
});

function stepsOf(records: readonly StepRecord[], startLayers: number | null): MakingStep[] {
  const found = followSteps(records.map(said), startLayers);
  return records.map((record, at) => ({
    id: record.id,
    position: record.position,
    on: record.on_date,
    kind: record.kind as StepKind,
    label: record.label,
    weightAfterNg: record.weight_after_ng,
    pieces: record.pieces,
    note: record.note,
    lossNg: found[at]?.lossNg ?? null,
    lossPpm: found[at]?.lossPpm ?? null,
    layers: found[at]?.layers ?? null,
  }));
}

/** Weight of all that came out; null unless the cost was shared by weight or all of it is stocked by weight. */
function weightOut(outputs: readonly OutputRecord[], shareKey: string): number | null {
  if (outputs.length === 0) return null;
  if (outputs.every((output) => output.form === 'weight')) return sumOf(outputs, (one) => one.qty_received);
  return shareKey === 'weight' ? sumOf(outputs, (one) => one.share) : null;
}

function outputOf(db: ReadDb, output: OutputRecord, minutes: number, labour: MakingLabour): MakingOutput {
  const lot = lotRow(db, output.lot_id);
  if (lot === undefined) throw new Error(`a lot of the making is missing: ${output.lot_id}`);
  return {
    lot: toLotRow(lot),
    share: output.share,
    valueMicro: output.value_received_micro,
    minutes,
    taken: labour.taken
      .filter(({ taking }) => taking.root_id === output.lot_id)
      .map(({ taking, minutes: carried }) => ({
        movementId: taking.id,
        buildId: taking.build_id,
        makingId: taking.making_id,
        serial: taking.serial ?? (taking.making_number === null ? '' : makingTagOf(taking.making_number)),
        qty: taking.qty,
        valueMicro: taking.value_micro,
        minutes: carried,
      })),
  };
}

function costsOf(db: ReadDb, making: MakingRecord, weightNg: number | null) {
  const house = houseOf(db);
  const inputs = makingInputs(db, making.id);
  const charges = makingChargeRows(db, making.id);
  const lines = makingLines(inputs, charges, house);
  return {
    lines,
    directMinor: sumOf(lines, (line) => line.amountMinor),
    perKgMicro: weightNg === null ? null : perKilogram(making.cost_micro, weightNg),
    charges: charges.map((charge) => ({
      id: charge.id,
      on: charge.on_date,
      label: charge.label,
      amountMicro: charge.amount_micro,
      reversesId: charge.reverses_id,
      reversedById: charge.reversed_by_id,
    })),
  };
}

const sessionsOf = (db: ReadDb, id: string): MakingDetail['sessions'] =>
  makingSessions(db, id).map((session) => ({
    id: session.root_id,
    on: session.on_date,
    minutes: session.minutes,
    stageName: session.stage_name ?? '',
    note: session.note,
  }));

/** @throws FaultError `missing` for an unknown id */
export function makingDetail(db: ReadDb, id: string): MakingDetail {
  const making = needMaking(db, id);
  const [row] = makingRows(db, [making]);
  if (row === undefined) throw new Error('a making without a row');
  const steps = stepsOf(makingSteps(db, id), making.start_layers);
  const records = makingOutputs(db, id);
  const outNg = weightOut(records, making.share_key);
  const loss = totalLoss(steps, outNg);
  const labour = labourOfMaking(db, id);
  const costs = costsOf(db, making, outNg ?? lastWeight(steps));
  const { decimals } = houseOf(db);
  return {
    ...row,
    ...costs,
    shareKey: making.share_key as ShareKey,
    labourOver: making.labour_over as MakingDetail['labourOver'],
    startLayers: making.start_layers,
    layers: steps.at(-1)?.layers ?? making.start_layers,
    note: making.note,
    endReason: making.end_reason,
    steps,
    totalLossNg: loss?.lossNg ?? null,
    totalLossPpm: loss?.lossPpm ?? null,
    labourMinor: microToMinor(labour.valueMicro, decimals),
    sessions: sessionsOf(db, id),
    movements: movementRows(db, { makingId: id }, ALL).map(toMovement),
    outputs: records.map((output, at) => outputOf(db, output, labour.byLot[at] ?? 0, labour)),
    attachments: attachmentRows(db, 'making', id).map(toAttachment),
    remarks: remarksOn({
      ...row,
      steps,
      totalLossPpm: loss?.lossPpm ?? null,
      minutes: labour.minutes,
      inheritedMinutes: labour.inherited.minutes,
      inputs: costs.lines.length,
      outputs: records.length,
    }),
  };
}
