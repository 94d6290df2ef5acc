/** One week at a glance: bench time and other time by day, by stage and by kind. */
import { type WeekSheet, type WorkKind, workKinds } from '../../api/hours.ts';
import { addDays, dayOfWeek } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import { byDay, coveredMinutes } from '../../domain/waits.ts';
import type { ReadDb } from '../../storage/db.ts';
import { listSessions, minutesByWork, type MinutesByWork } from '../../storage/queries/hours.ts';
import { waitRows } from '../../storage/queries/waits.ts';
import { workshopRow } from '../../storage/queries/workshop.ts';
import type { QueryContext } from '../context.ts';
import { stretchOf } from '../waits/views.ts';
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

/** The maker first, then whoever helped. */
function byPerson(db: ReadDb, rows: readonly MinutesByWork[]): WeekSheet['byPerson'] {
  const people = new Map<string | null, { personId: string | null; name: string; minutes: number }>();
  const maker = workshopRow(db)?.maker ?? '';
  for (const { person_id: personId, person_name: name, minutes } of rows) {
    const so = people.get(personId)?.minutes ?? 0;
    people.set(personId, {
      personId,
      name: name ?? (maker === '' ? 'The maker' : maker),
      minutes: minutes + so,
    });
  }
  return [...people.values()].sort((a, b) =>
    a.personId === null ? -1 : b.personId === null ? 1 : a.name.localeCompare(b.name, 'en'),
  );
}

/** Minutes of each day during which something was left to itself; two waits at once count once. */
function waitsByDay(
  ctx: Pick<QueryContext, 'db' | 'clock'>,
  from: string,
  to: string,
): ReadonlyMap<string, number> {
  const now = ctx.clock.now();
  const dayOf = (at: number): string => ctx.clock.localDay(new Date(at).toISOString());
  // A day further on both sides than asked: the instants of local midnights are not known here.
  const around = { from: `${addDays(from, -1)}T00:00:00.000Z`, to: `${addDays(to, 2)}T00:00:00.000Z` };
  const parts = waitRows(ctx.db, { open: false, ...around })
    .filter((row) => row.dropped_at === null)
    .flatMap((row) => byDay(stretchOf(row, now), dayOf));
  const days = new Map<string, typeof parts>();
  for (const part of parts) days.set(part.on, [...(days.get(part.on) ?? []), part]);
  return new Map([...days].map(([on, own]) => [on, coveredMinutes(own)]));
}

/** The week from Monday to Sunday around a day. */
export function weekSheet(ctx: Pick<QueryContext, 'db' | 'clock'>, on: string): WeekSheet {
  const { db } = ctx;
  const from = addDays(on, 1 - dayOfWeek(on));
  const to = addDays(from, 6);
  const rows = minutesByWork(db, from, to);
  const waits = waitsByDay(ctx, from, to);
  return {
    from,
    days: DAYS.map((n) => {
      const day = addDays(from, n);
      const own = rows.filter((row) => row.on_date === day);
      return {
        on: day,
        benchMinutes: minutesOf(own.filter((row) => row.stage_code !== null)),
        otherMinutes: minutesOf(own.filter((row) => row.stage_code === null)),
        waitMinutes: waits.get(day) ?? 0,
      };
    }),
    byStage: byStage(rows),
    byKind: byKind(rows),
    byPerson: byPerson(db, rows),
    sessions: sessionRows(db, listSessions(db, { from, to }, EVERY, 0)),
  };
}
