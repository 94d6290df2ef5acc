/** The engine's thread around the small core. */
import { workerData } from 'node:worker_threads';
import type { EngineOptions } from '../../electron/workshop/engine-messages.ts';
import { systemClock } from '../../electron/workshop/core-clock.ts';
import { randomId } from '../../electron/workshop/core-ids.ts';
import { serve } from '../../electron/workshop/engine-serve.ts';
import { smallCore } from './small-core.ts';

const options = workerData as EngineOptions;

await serve(
  () => smallCore(options.folder, { ...options, clock: systemClock, newId: randomId }),
  () => Promise.resolve(),
);
