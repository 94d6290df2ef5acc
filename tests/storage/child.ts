/** Tasks for a process of its own, which the tests may kill: `node child.ts <task> <folder> …`. */
import { FaultError } from '../../electron/api/errors.ts';
import { systemClock } from '../../electron/workshop/core-clock.ts';
import { randomId } from '../../electron/workshop/core-ids.ts';
import { hold } from '../../electron/storage/holder.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { restoreCopy } from '../../electron/storage/restore.ts';
import { smallCore } from './small-core.ts';
import { holder, paperText } from './support-plain.ts';

const [task, folder = '', extra = ''] = process.argv.slice(2);
const say = (value: unknown): boolean => process.stdout.write(`${JSON.stringify(value)}\n`);
const open = () =>
  smallCore(folder, {
    clock: systemClock,
    newId: randomId,
    holderName: `Child ${task ?? ''}`,
    hostKind: 'loopback',
  });

/** Posts commands without end; acknowledges each on the pipe after the core has answered. */
async function post(): Promise<void> {
  const core = await open();
  say({ opened: core.books.seq() });
  for (let n = 0; ; n += 1) {
    const replies = await Promise.all(
      [1, 2, 3].map((k) => core.call('notes.add', { text: `note ${n} ${k} ${'x'.repeat((n * 37) % 900)}` })),
    );
    for (const reply of replies) say(reply);
    // Not in every turn, as papers are slower.
    if (n % 3 > 0) continue;
    say(
      await core.call('papers.keep', {
        name: `paper ${process.pid} ${n}.pdf`,
        text: `${n} ${'p'.repeat((n * 997) % 60_000)}`,
      }),
    );
  }
}

/** Issues a number of papers, then closes. */
async function keepSome(): Promise<void> {
  const core = await open();
  for (let n = 0; n < Number(extra); n += 1)
    say(await core.call('papers.keep', { name: `paper ${n}.pdf`, text: paperText(n) }));
  await core.close();
  say('closed');
}

/** Posts a number of commands, then closes. */
async function postSome(): Promise<void> {
  const core = await open();
  for (let n = 0; n < Number(extra); n += 1)
    say(await core.call('notes.add', { text: `note ${n} ${'y'.repeat(3000)}` }));
  await core.close();
  say('closed');
}

async function openAndClose(): Promise<void> {
  const core = await open();
  say({ seq: core.books.seq(), sound: core.books.checkJournal().sound });
  await core.close();
}

async function keepOpen(): Promise<void> {
  const core = await open();
  say({ opened: core.books.seq() });
  // Nothing refers to the core from here on; its folder must stay held all the same.
  setInterval(() => globalThis.gc?.(), 20);
}

async function copy(): Promise<void> {
  const core = await open();
  say(await core.call('workshop.copyNow', {}));
  await core.close();
}

function restore(): void {
  const held = hold(workshopFolder(folder), holder);
  say(restoreCopy(workshopFolder(folder), extra, { at: '2024-07-07T08:00:00.000Z', newest: 1000 }));
  held.release();
}

const tasks: Record<string, () => void | Promise<void>> = {
  post,
  postSome,
  keepSome,
  openAndClose,
  keepOpen,
  copy,
  restore,
};

try {
  await tasks[task ?? '']?.();
} catch (error) {
  say({ refused: error instanceof FaultError ? error.fault : String(error) });
  process.exitCode = 3;
}
