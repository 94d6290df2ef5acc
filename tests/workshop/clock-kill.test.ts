import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { openRig } from './rig.ts';

const childFile = fileURLToPath(new URL('clock-child.ts', import.meta.url));
const START = '2024-07-06T00:00:00.000Z';
const ROUNDS = 4;

/** Lets a child switch the clock and kills it at some moment; answers the last start it was told. */
function killed(folder: string, from: string, afterAnswers: number): Promise<string> {
  const child = spawn(process.execPath, [childFile, folder, from], {
    env: { ...process.env, NODE_ENV: 'test', NODE_OPTIONS: '' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  let wrong = '';
  child.stderr.on('data', (part: Buffer) => (wrong += part.toString()));
  child.stdout.on('data', (part: Buffer) => {
    said += part.toString();
    if (said.split('\n').length > afterAnswers) child.kill('SIGKILL');
  });
  return new Promise((resolve, reject) => {
    child.on('close', (_, signal) => {
      // A line the kill cut short was not told.
      const last =
        said
          .slice(0, said.lastIndexOf('\n') + 1)
          .trim()
          .split('\n')
          .at(-1) ?? '';
      if (signal === 'SIGKILL' && last !== '') resolve(last);
      else reject(new Error(`the child ended by itself: ${wrong}`));
    });
  });
}

it(
  'loses no minute of a running clock when the program is killed again and again',
  { timeout: 240_000 },
  async () => {
    const first = await openRig({ now: START });
    const { folder } = first;
    await first.call('hours.start', { workKind: 'cleaning', stageCode: null, buildIds: [] });
    await first.close({ keep: true });
    let told = START;
    for (let round = 1; round <= ROUNDS; round += 1) {
      const last = await killed(folder, told, round * 7);
      const again = await openRig({ folder, now: last });
      const clock = await again.call('hours.clock', {});
      const sessions = await again.call('hours.sessions', { limit: 20_000 });
      const booked = sessions.rows.reduce((so, row) => so + row.minutes, 0);
      const started = clock?.startedAt ?? '';
      // What was told is there; one switch more may have been written and not told.
      expect(started >= last).toBe(true);
      // Every minute since the very first start is in exactly one session or in the running clock.
      expect(booked).toBe((Date.parse(started) - Date.parse(START)) / 60_000);
      expect(booked).toBeGreaterThanOrEqual(round * 7);
      told = started;
      await again.close({ keep: round < ROUNDS });
    }
  },
);
