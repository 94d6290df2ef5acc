/** The making of the demo workshop, whole or not at all. */
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { generateDemo } from '../demo/generate.ts';
import type { EngineOptions } from '../workshop/engine-messages.ts';
import type { OpenerOptions } from './open-workshop.ts';

const demoThrough = '2025-12-31';
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

/**
 * Makes the demo in a folder of its own and gives it its name only when it is complete.
 * @param engine how the finished demo will be opened
 */
export const makeDemo = async (
  engine: EngineOptions,
  { startEngine, onProgress }: Pick<OpenerOptions, 'startEngine' | 'onProgress'>,
): Promise<void> => {
  const demo = engine.folder;
  await clearLeftovers(demo, Date.now());
  const making = `${demo}.${randomBytes(6).toString('hex')}.making`;
  try {
    const port = await startEngine({ ...engine, folder: making });
    try {
      await generateDemo(port, demoThrough, ({ sentence }) => onProgress?.(sentence));
    } finally {
      await port.close();
    }
    await rename(making, demo);
  } catch (error) {
    await rm(making, { recursive: true, force: true });
    throw error;
  }
};
