/** What other areas may ask of a making: look it up, and see that work and goods may still go into it. */
import { missing, refused } from '../../api/errors.ts';
import type { ReadDb, WriteDb } from '../../storage/db.ts';
import { makingTagOf } from '../../storage/queries/lots.ts';
import { type MakingRecord, makingRow } from '../../storage/queries/makings.ts';

/** A making. @throws FaultError `missing` for an unknown id */
export function needMaking(db: ReadDb, id: string): MakingRecord {
  const making = makingRow(db, id);
  if (making === undefined) throw missing('This making does not exist any more. Go back to the list.');
  return making;
}

const ended: Readonly<Record<string, string>> = {
  done: 'is finished: its cost lies in what came out of it',
  scrapped: 'was scrapped',
};

/** @throws FaultError `refused` when the making has ended */
export function needOpenMaking(db: ReadDb, id: string): MakingRecord {
  const making = needMaking(db, id);
  const why = ended[making.state];
  if (why !== undefined) {
    throw refused(
      `${makingTagOf(making.number)} ${making.title} ${why}. Take it back to the bench first, if nothing of it has been used.`,
    );
  }
  return making;
}

/** A making that got something before the day it was said to begin began on that day. */
export function touchMaking(db: WriteDb, making: MakingRecord, on: string): void {
  if (on >= making.started_on) return;
  db.run(db.q.updateTable('makings').set({ started_on: on }).where('id', '=', making.id));
}
