/** Entry of the loopback host: composition only. */
import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import packageFile from '../../package.json' with { type: 'json' };
import { FaultError } from '../api/errors.ts';
import { parseFlags } from '../hosting/flags.ts';
import type { HostFlags } from '../hosting/flags.ts';
import { workshopFolders } from '../hosting/folders.ts';
import { createOpener } from '../hosting/open-workshop.ts';
import { runtimeProblem } from '../hosting/runtime-check.ts';
import type { WorkshopKind } from '../hosting/workshop-switch.ts';
import { startEngine } from '../workshop/engine.ts';
import { noteFile } from './note-file.ts';

const print = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

const giveUp = (message: string, code: number): never => {
  process.stderr.write(`${message}\n`);
  process.exit(code);
};

/** Tells each sentence once, apart from the line that holds the address. */
const tellOnce = (): ((sentence: string) => void) => {
  let last = '';
  return (sentence) => {
    if (sentence !== last) process.stderr.write(`${sentence}\n`);
    last = sentence;
  };
};

const sentenceOf = (error: unknown): string => {
  if (error instanceof FaultError) return error.fault.message;
  if (error instanceof Error && 'code' in error && error.code === 'EADDRINUSE') {
    return 'That port is taken by another program; choose another one or leave --port out.';
  }
  return `Knifewright could not start: ${error instanceof Error ? error.message : String(error)}`;
};

const start = async (flags: HostFlags): Promise<void> => {
  const around = { platform: process.platform, env: process.env, home: homedir() };
  const folders = workshopFolders(around, flags.data === undefined ? undefined : resolve(flags.data));
  const open = createOpener({ kind: 'loopback', folders, startEngine, onProgress: tellOnce() });
  // The books begin to open, in their own thread, while the server is still being loaded, unless another host may have them.
  const first: WorkshopKind = flags.demo ? 'demo' : 'own';
  let early = existsSync(noteFile(folders[first])) ? undefined : open(first);
  // Whoever asks for it hears of a failure; unheard it must not end the process.
  early?.catch(() => undefined);
  const openWorkshop = (which: WorkshopKind, goBackTo?: string): ReturnType<typeof open> => {
    const begun = which === first && goBackTo === undefined ? early : undefined;
    early = undefined;
    return begun ?? open(which, goBackTo);
  };
  const { runLoopback } = await import('./host.ts');
  const host = await runLoopback({
    flags,
    folders,
    platform: process.platform,
    version: packageFile.version,
    rendererRoot: fileURLToPath(new URL('../renderer/', import.meta.url)),
    print,
    onRunning: (stop) => {
      for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop());
    },
    openWorkshop,
  });
  if (host === undefined) return;
  await host.stopped;
};

const problem = runtimeProblem(process.versions);
if (problem !== undefined) giveUp(problem, 2);
const read = parseFlags(process.argv.slice(2));
if (read.ok) {
  start(read.flags).then(
    () => process.exit(0),
    (error: unknown) => giveUp(sentenceOf(error), 1),
  );
} else {
  giveUp(read.message, 2);
}
