/** One week at a glance: bench time and other time by day, by stage and by kind. */
import { type WeekSheet, type WorkKind, workKinds } from '../../api/hours.ts';
import { addDays, dayOfWeek } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { listSessions, minutesByWork, type MinutesByWork } from '../../storage/queries/hours.ts';
import { sessionRows } from './rows.ts';

const DAYS = [0, 1, 2, 3, 4, 5, 6];
/** More than a week can hold at one minute each day and night. */
const EVERY = 20_000;

const minutesOf = (rows: readonly MinutesByWork[]): number => sumOf(rows, (row) => row.minutes);

const byStage = (rows: readonly MinutesByWork[]): WeekSheet['byStage'] => {
  const stages = new Map<string, { code: string; name: string; minutes: number }>();
  for (const { stage_code: code, stage_name: name, minutes } of rows) {
    if (code === null) continue;
    stages.set(code, { code, name: name ?? code, minutes: minutes + (stages.get(code)?.minutes ?? 0) });
  }
  return [...stages.values()];
};

const byKind = (rows: readonly MinutesByWork[]): { kind: WorkKind; minutes: number }[] =>
  workKinds
    .map((kind) => ({ kind, minutes: minutesOf(rows.filter((row) => row.work_kind === kind)) }))
    .filter((row) => row.minutes > 0);

/** The week from Monday to Sunday around a day. */
export function weekSheet(db: ReadDb, on: string): WeekSheet {
  const from = addDays(on, 1 - dayOfWeek(on));
  const to = addDays(from, 6);
  const rows = minutesByWork(db, from, to);
  return {
    from,
    days: DAYS.map((n) => {
      const day = addDays(from, n);
      const own = rows.filter((row) => row.on_date === day);
      return {
        on: day,
        benchMinutes: minutesOf(own.filter((row) => row.stage_code !== null)),
        otherMinutes: minutesOf(own.filter((row) => row.stage_code === null)),
      };
    }),
    byStage: byStage(rows),
    byKind: byKind(rows),
    sessions: sessionRows(db, listSessions(db, { from, to }, EVERY, 0)),
  };
}
