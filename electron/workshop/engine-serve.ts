/** The worker's side of the engine: opens a core and answers its host's messages. */
import { parentPort } from 'node:worker_threads';
import { FaultError } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';
import { toFault } from './core-faults.ts';
import type { FromEngine, ToEngine } from './engine-messages.ts';

const send = (message: FromEngine): void => parentPort?.postMessage(message);
const log = (line: string): void => {
  console.error(line);
};

function answer(core: WorkshopPort, afterClosing: () => Promise<void>): void {
  const close = async (): Promise<void> => {
    await core.close().catch((error: unknown) => {
      toFault(error, 'closing', log);
    });
    await afterClosing();
    send({ what: 'closed' });
    // With its port closed the thread has nothing left to wait for, and ends.
    parentPort?.close();
  };
  parentPort?.on('message', (message: ToEngine) => {
    if (message.what === 'close') {
      void close();
      return;
    }
    const { id, endpoint, input } = message;
    void core.call(endpoint, input).then((reply) => {
      send({ what: 'reply', id, reply });
    });
  });
}

/**
 * Opens the core and serves it until the host says close. Refusals to open go to the host as a fault.
 * @param open may tell early that the books are open; calls that come before it is done wait for it
 * @param afterClosing what else must end before the thread may
 */
export async function serve(
  open: (opened: () => void) => Promise<WorkshopPort>,
  afterClosing: () => Promise<void>,
): Promise<void> {
  const news = { told: false };
  const opened = (): void => {
    if (!news.told) send({ what: 'opened' });
    news.told = true;
  };
  try {
    answer(await open(opened), afterClosing);
    opened();
  } catch (error) {
    // The host counts on it already: the thread ends, and the host answers every call with that.
    if (news.told) throw error;
    const fault = error instanceof FaultError ? error.fault : toFault(error, 'opening', log);
    send({ what: 'refused', fault });
  }
}
