/**
 * The demo workshop of eighteen months, made once in a run of the tests: whoever asks first makes it,
 * the others wait for it, and each gets books of its own to write in.
 */
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { generateDemo } from '../../electron/demo/generate.ts';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { quickFolder, runFolder } from '../folders.ts';
import { noPress } from '../workshop/no-press.ts';
import { openRig, type Rig, type RigOptions } from '../workshop/rig.ts';

const now = '2026-01-04T12:00:00.000Z';
const longestMs = 280_000;

/** Makes the demo in a folder that gets its name when it is whole. */
const make = async (ready: string): Promise<void> => {
  const making = `${ready}.making`;
  const renderer = noPress('the demo sets invoices only', { invoice: renderInvoice });
  const rig = await openRig({ now, bare: true, renderer, ids: 'demo' });
  await generateDemo(rig.core, '2025-12-31');
  await rig.close({ keep: true });
  fs.cpSync(rig.folder, making, { recursive: true });
  fs.renameSync(making, ready);
};

/** The folder of the made demo, to be copied and never opened. */
export const madeDemo = async (): Promise<string> => {
  const place = runFolder();
  const ready = path.join(place, 'demo');
  const mine = fs.mkdirSync(path.join(place, 'demo.asked'), { recursive: true }) !== undefined;
  if (mine) await make(ready);
  for (let waited = 0; !fs.existsSync(ready); waited += 100) {
    if (waited > longestMs) throw new Error('The demo that another file of tests makes never came.');
    await setTimeout(100);
  }
  return ready;
};

/**
 * Opens a copy of the made demo, its clock at 4 January 2026. Making it may take a minute: ask in `beforeAll`
 * with `madeDemoMs`.
 * @param renderer papers the test itself sets; none unless given
 */
export const openDemo = async (renderer?: RigOptions['renderer']): Promise<Rig> => {
  const folder = path.join(quickFolder('knifewright-test-'), 'shop');
  fs.cpSync(await madeDemo(), folder, { recursive: true });
  return openRig({ now, folder, ids: 'after', ...(renderer === undefined ? {} : { renderer }) });
};

/** How long a file of tests may wait for the demo. */
export const madeDemoMs = 300_000;
