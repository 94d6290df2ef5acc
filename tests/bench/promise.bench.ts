/**
 * The days of sixty open knives, ten thousand runs through the queue, against a bare loop over flat arrays that draws the
 * same chance and divides the same minutes into weeks, without waits, losses, days away or counting by day.
 */
import assert from 'node:assert/strict';
import { forecast, type QueuedKnife, RUNS } from '../../electron/domain/promise.ts';
import { chanceFrom } from '../../electron/domain/random.ts';
import { compare } from './pairs.ts';

const KNIVES = 60;
const SEED = 2024;
const weeks = [500, 600, 420, 0, 700, 650, 580, 300, 610, 640];
const paces = [0.9, 1, 1.1, 1.2, 0.8];
const queue: readonly QueuedKnife[] = Array.from({ length: KNIVES }, (_, at) => ({
  id: String(at),
  minutes: 400 + 7 * at,
  minutesAnew: 700,
  loss: 0.08,
  waitDays: 5,
}));

const ours = (): void => {
  const found = forecast(queue, { weeks, paces }, { today: '2026-01-04', closed: [], seed: SEED });
  assert.ok(found.ok && found.value.length === KNIVES);
};

/** Weeks each knife is done in, summed over all runs. */
const bare = (): void => {
  const chance = chanceFrom(SEED);
  const minutes = Float64Array.from(queue, (knife) => knife.minutes);
  const done = new Float64Array(KNIVES);
  for (let run = 0; run < RUNS; run += 1) {
    let week = chance.below(weeks.length);
    let left = weeks[week] ?? 0;
    for (let at = 0; at < KNIVES; at += 1) {
      let rest = (minutes[at] ?? 0) * (paces[Math.floor(chance.part() * paces.length)] ?? 1);
      if (chance.part() < 0.08) rest += 700;
      while (rest > left) {
        rest -= left;
        week += 1;
        left = weeks[week % weeks.length] ?? 0;
      }
      left -= rest;
      done[at] = (done[at] ?? 0) + week;
    }
  }
  assert.ok((done[KNIVES - 1] ?? 0) > 0);
};

await compare({
  name: `days named for ${String(KNIVES)} open knives, ${RUNS.toLocaleString('en')} runs`,
  limit: 2.5,
  floorIs: 'a bare loop over flat arrays that draws the same chance',
  ours: { run: ours },
  floor: { run: bare },
});
