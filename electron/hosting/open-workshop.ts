/** Opens the own or the demo workshop; the demo is made the first time, whole or not at all. */
import { existsSync } from 'node:fs';
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

/** The demo's own clock opens a few days after the last thing that happened in it. */
const demoAsOf = '2026-01-04T09:00:00.000Z';

const engineOptions = (options: OpenerOptions, which: WorkshopKind, goBackTo?: string): EngineOptions => ({
  folder: options.folders[which],
  create: true,
  holderName: holderNames[options.kind],
  hostKind: options.kind,
  demo: which === 'demo',
  ...(which === 'demo' ? { demoAsOf } : {}),
  ...(goBackTo === undefined ? {} : { goBackTo }),
});

/** @returns what opens one workshop or the other; it throws a `FaultError` when that cannot be done */
export const createOpener =
  (options: OpenerOptions) =>
  async (which: WorkshopKind, goBackTo?: string): Promise<WorkshopPort> => {
    const engine = engineOptions(options, which, goBackTo);
    if (which === 'demo' && !existsSync(engine.folder)) {
      // Loaded only here: few starts need it.
      const { makeDemo } = await import('./make-demo.ts');
      await makeDemo(engine, options);
    }
    return options.startEngine(engine);
  };
