/** Fits the minutes of a batch into evenings and weekends: whole stages in their order, knives of a batch side by side. */
import { addDays, dayOfWeek } from '../domain/calendar.ts';
import { allocate } from '../domain/integers.ts';
import { minutesFor } from './learning.ts';
import type { DemoBatch } from './tables/builds.ts';

export interface PlannedSession {
  readonly on: string;
  readonly stageCode: string;
  readonly shares: readonly { readonly serial: string; readonly minutes: number }[];
}

/** Longest bench time of a day: Tuesday and Thursday evening, Saturday, Sunday. */
const benchDay: Readonly<Record<number, number>> = { 2: 150, 4: 150, 6: 360, 7: 180 };

/** Minutes still free on each day, shared by overlapping batches. */
export type DayBook = Map<string, number>;

const freeOn = (book: DayBook, day: string): number => book.get(day) ?? benchDay[dayOfWeek(day)] ?? 0;

const benchDays = (from: string, to: string): string[] => {
  const days: string[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) {
    if (benchDay[dayOfWeek(day)] !== undefined) days.push(day);
  }
  return days;
};

/** A plain linear congruential generator (modulus 2^31), so that no two days look alike and every run is the same. */
function variation(seed: number): () => number {
  let x = BigInt(seed);
  return () => {
    x = (1_103_515_245n * x + 12_345n) % 2_147_483_648n;
    return Number(x);
  };
}

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

interface Phase {
  readonly stages: readonly string[];
  readonly days: readonly string[];
}

const phasesOf = (batch: DemoBatch): readonly Phase[] => {
  const all = benchDays(batch.start, batch.finished);
  const lastTwo = all.slice(-2);
  const [, last = batch.finished] = lastTwo;
  return [
    { stages: ['DES', 'CUT', 'FRG', 'GR1'], days: benchDays(batch.start, addDays(batch.hardened, -1)) },
    { stages: ['HTA', 'STR'], days: benchDays(batch.hardened, addDays(batch.hardened, 2)) },
    {
      stages: ['GR2', 'BLT', 'HND', 'ETC', 'FIT', 'HDL', 'FIN', 'SHP', 'SHE'],
      days: benchDays(addDays(batch.hardened, 1), addDays(last, -1)),
    },
    { stages: ['PHO', 'LST', 'MSG'], days: lastTwo },
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

/**
 * Plans all sessions of a batch but the packing, which is done on the day of sale.
 * Takes what it uses out of `book`.
 */
export function planBatch(batch: DemoBatch, book: DayBook): readonly PlannedSession[] {
  const minutes = new Map(batch.builds.map((build) => [build.serial, minutesFor(build.variant, build.nth)]));
  const firstNumber = Number(batch.builds[0]?.serial.slice(1) ?? 0);
  const next = variation(20_240_701 + 97 * firstNumber);
  const sessions: PlannedSession[] = [];
  for (const phase of phasesOf(batch)) {
    const tasks = phase.stages
      .map((stageCode): Task => ({
        stageCode,
        left: new Map(
          [...minutes]
            .map(([serial, of]) => [serial, of.get(stageCode) ?? 0] as const)
            .filter(([, m]) => m > 0),
        ),
      }))
      .filter((task) => task.left.size > 0);
    const needed = tasks.reduce((sum, task) => sum + total(task), 0);
    const given = quotas(needed, phase.days, book, next);
    for (const [at, day] of phase.days.entries()) {
      const quota = given[at] ?? 0;
      sessions.push(...workDay(day, quota, tasks));
      book.set(day, freeOn(book, day) - quota);
    }
  }
  return sessions;
}
