/** The thread the core runs in: composition only. */
import { parentPort, workerData } from 'node:worker_threads';
import { FaultError } from '../api/errors.ts';
import { startDocuments } from '../documents/renderer-port.ts';
import { createCore } from './core.ts';
import { demoClock, systemClock } from './core-clock.ts';
import { toFault } from './core-faults.ts';
import { randomId } from './core-ids.ts';
import type { EngineOptions, FromEngine, ToEngine } from './engine-messages.ts';
import { handlers } from './index.ts';

const options = workerData as EngineOptions;
const port = parentPort;
const send = (message: FromEngine): void => port?.postMessage(message);
const documents = startDocuments();

try {
  const core = await createCore({
    ...options,
    clock: options.demoAsOf === undefined ? systemClock : demoClock(options.demoAsOf),
    newId: randomId,
    renderer: documents,
    handlers,
  });
  const close = async (): Promise<void> => {
    await core.close().catch((error: unknown) => console.error(error));
    await documents.close();
    send({ what: 'closed' });
    port?.close();
  };
  port?.on('message', (message: ToEngine) => {
    if (message.what === 'close') return void close();
    const { id, endpoint, input } = message;
    void core.call(endpoint, input).then((reply) => send({ what: 'reply', id, reply }));
  });
  send({ what: 'opened' });
} catch (error) {
  const fault =
    error instanceof FaultError ? error.fault : toFault(error, 'opening', (line) => console.error(line));
  send({ what: 'refused', fault });
}
