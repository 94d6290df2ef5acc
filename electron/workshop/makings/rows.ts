/** Makings as lists show them. */
import type { MakingKind, MakingRow, MakingState } from '../../api/makings.ts';
import { minorToMicro, microToMinor } from '../../domain/money.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { makingTagOf } from '../../storage/queries/lots.ts';
import { lineSums, type MakingRecord, outputsOfMakings } from '../../storage/queries/makings.ts';
import { houseOf } from '../costs/house.ts';
import { yieldWords } from './words.ts';

/** Cost of each making as its own sheet shows it: lines rounded once and added, millionths. */
function shownCosts(db: ReadDb, makingIds: readonly string[]): Map<string, number> {
  const { decimals } = houseOf(db);
  const minor = new Map<string, number>(makingIds.map((id) => [id, 0]));
  for (const line of lineSums(db, makingIds)) {
    minor.set(line.making_id, (minor.get(line.making_id) ?? 0) + microToMinor(line.value_micro, decimals));
  }
  return new Map([...minor].map(([id, amount]) => [id, minorToMicro(amount, decimals)]));
}

/** Rows with what came out of each, fetched together. */
export function makingRows(db: ReadDb, records: readonly MakingRecord[]): MakingRow[] {
  const ids = records.map((record) => record.id);
  const costs = shownCosts(db, ids);
  const outputs = outputsOfMakings(db, ids);
  return records.map((record) => ({
    id: record.id,
    tag: makingTagOf(record.number),
    title: record.title,
    kind: record.kind as MakingKind,
    state: record.state as MakingState,
    startedOn: record.started_on,
    endedOn: record.ended_on,
    minutes: record.minutes,
    costMicro: costs.get(record.id) ?? 0,
    yieldWords: yieldWords(outputs.filter((output) => output.making_id === record.id)),
  }));
}

/** What several makings cost together, exact. */
export const exactCost = (records: readonly MakingRecord[]): number =>
  sumOf(records, (record) => record.cost_micro);
