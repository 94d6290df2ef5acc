/** Waits as the contract shows them. */
import type { Wait, WaitKind } from '../../api/waits.ts';
import type { Stretch } from '../../domain/waits.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildsOfWaits, type WaitRecord } from '../../storage/queries/waits.ts';
import { millisecondsBetween, wholeMinutes } from '../hours/instants.ts';

/** From the start until somebody saw to it, or until now. @param now UTC ISO instant */
export const stretchOf = (row: WaitRecord, now: string): Stretch => ({
  from: Date.parse(row.started_at),
  to: Date.parse(row.done_at ?? row.dropped_at ?? now),
});

const MINUTE_MS = 60_000;

/** Waits with their knives, fetched together. */
export function toWaits(db: ReadDb, rows: readonly WaitRecord[], now: string): Wait[] {
  const knives = buildsOfWaits(
    db,
    rows.map((row) => row.id),
  );
  return rows.map((row) => {
    const { from, to } = stretchOf(row, now);
    return {
      id: row.id,
      kind: row.kind as WaitKind,
      label: row.label,
      stageCode: row.stage_code,
      startedAt: row.started_at,
      endsAt: row.ends_at,
      doneAt: row.done_at,
      dropped: row.dropped_at !== null,
      makingId: row.making_id,
      makingTitle: row.making_title,
      builds: knives
        .filter((knife) => knife.wait_id === row.id)
        .map(({ id, serial, title }) => ({ id, serial, title })),
      note: row.note,
      // Rounded up, so that it is over when it is over and not half a minute before.
      minutesLeft: Math.ceil(millisecondsBetween(now, row.ends_at) / MINUTE_MS),
      minutes: wholeMinutes(to - from),
    };
  });
}
