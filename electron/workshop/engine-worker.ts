/** The thread the core runs in: composition only. */
import { workerData } from 'node:worker_threads';
import { startDocuments } from '../documents/renderer-port.ts';
import { createCore } from './core.ts';
import { demoClock, systemClock } from './core-clock.ts';
import { randomId } from './core-ids.ts';
import type { EngineOptions } from './engine-messages.ts';
import { serve } from './engine-serve.ts';

const options = workerData as EngineOptions;
const documents = startDocuments();

await serve(
  (opened) =>
    createCore({
      ...options,
      heldSince: systemClock.now(),
      clock: options.demoAsOf === undefined ? systemClock : demoClock(options.demoAsOf),
      newId: randomId,
      renderer: documents,
      onOpen: opened,
      handlers: async () => (await import('./index.ts')).handlers,
    }),
  () => documents.close(),
);
