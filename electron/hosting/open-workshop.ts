/** Opens the own or the demo workshop; the demo is made the first time, whole or not at all. */
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { HostInfo } from '../api/host.ts';
import type { WorkshopPort } from '../api/port.ts';
import type { EngineOptions } from '../workshop/engine-messages.ts';
import type { WorkshopFolders } from './folders.ts';
import type { WorkshopKind } from './workshop-switch.ts';

export interface OpenerOptions {
  /** The host that asks; a second program on the same folder is told its name. */
  readonly kind: HostInfo['kind'];
  readonly folders: WorkshopFolders;
  readonly startEngine: (options: EngineOptions) => Promise<WorkshopPort>;
  /** Told, in words, how far the making of the demo has come. */
  readonly onProgress?: (sentence: string) => void;
}

const holderNames: Readonly<Record<HostInfo['kind'], string>> = {
  desktop: 'the Knifewright window',
  loopback: 'Knifewright in the browser',
};

const demoThrough = '2024-12-31';
/** The demo's own clock opens a few days after the last thing that happened in it. */
const demoAsOf = '2025-01-04T09:00:00.000Z';

const engineOptions = (options: OpenerOptions, which: WorkshopKind): EngineOptions => ({
  folder: options.folders[which],
  create: true,
  holderName: holderNames[options.kind],
  hostKind: options.kind,
  demo: which === 'demo',
  ...(which === 'demo' ? { demoAsOf } : {}),
});

const hourMs = 3_600_000;

/** Clears away what a making that was cut off has left; one that may still be running is left alone. */
const clearLeftovers = async (demo: string, now: number): Promise<void> => {
  const parent = dirname(demo);
  const ours = (name: string): boolean => name.startsWith(`${basename(demo)}.`) && name.endsWith('.making');
  const names = existsSync(parent) ? await readdir(parent) : [];
  for (const name of names.filter(ours)) {
    const path = join(parent, name);
    if (now - (await stat(path)).mtimeMs > hourMs) await rm(path, { recursive: true, force: true });
  }
};

/** Makes the demo in a folder of its own and gives it its name only when it is complete. */
const makeDemo = async (options: OpenerOptions): Promise<void> => {
  const { demo } = options.folders;
  await clearLeftovers(demo, Date.now());
  const making = `${demo}.${randomBytes(6).toString('hex')}.making`;
  try {
    // Loaded only here: few starts need it.
    const { generateDemo } = await import('../demo/generate.ts');
    const port = await options.startEngine({ ...engineOptions(options, 'demo'), folder: making });
    try {
      await generateDemo(port, demoThrough, ({ sentence }) => options.onProgress?.(sentence));
    } finally {
      await port.close();
    }
    await rename(making, demo);
  } catch (error) {
    await rm(making, { recursive: true, force: true });
    throw error;
  }
};

/** @returns what opens one workshop or the other; it throws a `FaultError` when that cannot be done */
export const createOpener =
  (options: OpenerOptions) =>
  async (which: WorkshopKind): Promise<WorkshopPort> => {
    if (which === 'demo' && !existsSync(options.folders.demo)) await makeDemo(options);
    return options.startEngine(engineOptions(options, which));
  };
