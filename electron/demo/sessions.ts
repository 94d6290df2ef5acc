/** Fits the minutes of a batch into evenings and weekends: whole stages in their order, knives of a batch side by side. */
import { addDays, dayOfWeek } from '../domain/calendar.ts';
import { allocate } from '../domain/integers.ts';
import { chance, seedOf } from './chance.ts';
import { minutesFor } from './learning.ts';
import type { DemoBatch, DemoBuild } from './tables/builds.ts';

export interface PlannedSession {
  readonly on: string;
  readonly stageCode: string;
  readonly shares: readonly { readonly serial: string; readonly minutes: number }[];
}

/** Longest bench time of a day: Tuesday and Thursday evening, Saturday, Sunday. */
const benchDay: Readonly<Record<number, number>> = { 2: 150, 4: 150, 6: 360, 7: 180 };

/** Minutes still free on each day, shared by overlapping batches. */
type DayBook = Map<string, number>;

const freeOn = (book: DayBook, day: string): number => book.get(day) ?? benchDay[dayOfWeek(day)] ?? 0;

const benchDays = (from: string, to: string): string[] => {
  const days: string[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) {
    if (benchDay[dayOfWeek(day)] !== undefined) days.push(day);
  }
  return days;
};

/** Shares out a phase's minutes over its days, in fives, never more than a day has left. */
function quotas(total: number, days: readonly string[], book: DayBook, next: () => number): number[] {
  const free = days.map((day) => Math.floor(freeOn(book, day) / 5) * 5);
  const room = free.reduce((sum, minutes) => sum + minutes, 0);
  if (room < total)
    throw new RangeError(`${total} minutes do not fit between ${days[0] ?? '?'} and ${days.at(-1) ?? '?'}`);
  const weights = free.map((minutes) => minutes * (60 + (Math.floor(next() / 65_536) % 81)));
  const wished = total === 0 ? free.map(() => 0) : allocate(total / 5, weights).map((fives) => fives * 5);
  const given = wished.map((minutes, at) => Math.min(minutes, free[at] ?? 0));
  let left = total - given.reduce((sum, minutes) => sum + minutes, 0);
  for (const [at, minutes] of given.entries()) {
    const more = Math.min(left, (free[at] ?? 0) - minutes);
    given[at] = minutes + more;
    left -= more;
  }
  return given;
}

/** Knives of a batch that end on the same day, planned together. */
interface Crew {
  readonly batch: DemoBatch;
  readonly builds: readonly DemoBuild[];
  readonly until: string;
}

interface Phase {
  readonly crew: Crew;
  readonly stages: readonly string[];
  readonly days: readonly string[];
  /** Planned first where the days are few. */
  readonly tight: boolean;
}

const crewsOf = (batch: DemoBatch, asOf: string): readonly Crew[] => {
  const ends = [...new Set(batch.builds.map((build) => build.until ?? batch.finished ?? asOf))];
  return ends.map((until) => ({
    batch,
    until,
    builds: batch.builds.filter((build) => (build.until ?? batch.finished ?? asOf) === until),
  }));
};

const phasesOf = (crew: Crew): readonly Phase[] => {
  const { batch, until } = crew;
  const lastTwo = benchDays(batch.start, until).slice(-2);
  const [, last = until] = lastTwo;
  return [
    {
      crew,
      tight: true,
      stages: ['DES', 'CUT', 'FRG', 'GR1'],
      days: benchDays(batch.start, addDays(batch.hardened, -1)),
    },
    {
      crew,
      tight: true,
      stages: ['HTA', 'STR'],
      days: benchDays(batch.hardened, addDays(batch.hardened, 2)),
    },
    {
      crew,
      tight: false,
      stages: ['GR2', 'BLT', 'HND', 'ETC', 'FIT', 'HDL', 'FIN', 'SHP', 'SHE'],
      days: benchDays(addDays(batch.hardened, 1), addDays(last, -1)),
    },
    { crew, tight: true, stages: ['PHO', 'LST', 'MSG'], days: lastTwo },
  ];
};

/** What one stage still needs, knife by knife. */
interface Task {
  readonly stageCode: string;
  readonly left: Map<string, number>;
}

const total = (task: Task): number => [...task.left.values()].reduce((sum, minutes) => sum + minutes, 0);

/** Works off the head of the tasks for one day. */
function workDay(on: string, quota: number, tasks: Task[]): PlannedSession[] {
  const sessions: PlannedSession[] = [];
  let left = quota;
  while (left > 0) {
    const [task] = tasks;
    if (task === undefined) break;
    const open = total(task);
    const now = Math.min(left, open);
    const serials = [...task.left.keys()];
    const parts = allocate(now, [...task.left.values()]);
    const shares = serials
      .map((serial, at) => ({ serial, minutes: parts[at] ?? 0 }))
      .filter(({ minutes }) => minutes > 0);
    for (const { serial, minutes } of shares) task.left.set(serial, (task.left.get(serial) ?? 0) - minutes);
    sessions.push({ on, stageCode: task.stageCode, shares });
    left -= now;
    if (now === open) tasks.shift();
  }
  return sessions;
}

function tasksOf({ crew, stages }: Phase): Task[] {
  const minutes = crew.builds.map((build) => [build.serial, minutesFor(crew.batch, build)] as const);
  return stages
    .map((stageCode): Task => ({
      stageCode,
      left: new Map(
        minutes
          .map(([serial, of]) => [serial, of.get(stageCode) ?? 0] as const)
          .filter(([, most]) => most > 0),
      ),
    }))
    .filter((task) => task.left.size > 0);
}

function planPhase(phase: Phase, book: DayBook, next: () => number): PlannedSession[] {
  const tasks = tasksOf(phase);
  const needed = tasks.reduce((sum, task) => sum + total(task), 0);
  const given = quotas(needed, phase.days, book, next);
  return phase.days.flatMap((day, at) => {
    const quota = given[at] ?? 0;
    book.set(day, freeOn(book, day) - quota);
    return workDay(day, quota, tasks);
  });
}

/**
 * Plans all sessions of the batches but the packing, which is done on the day of sale. Phases with few days to do them
 * in are given theirs first, so that a batch that still takes its time leaves room for the next one's hardening.
 * @param asOf the day up to which work in progress has gone
 */
export function planBatches(
  batches: readonly DemoBatch[],
  asOf: string,
): ReadonlyMap<DemoBatch, readonly PlannedSession[]> {
  const book: DayBook = new Map();
  const chances = new Map(batches.map((batch) => [batch, chance(seedOf(batch.builds[0]?.serial ?? 'W0'))]));
  const phases = batches.flatMap((batch) => crewsOf(batch, asOf).flatMap(phasesOf));
  const planned = new Map<DemoBatch, PlannedSession[]>(batches.map((batch) => [batch, []]));
  for (const phase of [...phases.filter((each) => each.tight), ...phases.filter((each) => !each.tight)]) {
    const { batch } = phase.crew;
    const next = chances.get(batch) ?? chance(1);
    planned.get(batch)?.push(...planPhase(phase, book, next));
  }
  for (const sessions of planned.values())
    sessions.sort((a, b) => (a.on === b.on ? 0 : a.on < b.on ? -1 : 1));
  return planned;
}
