/** Starts the core in a worker thread of its own and answers its port. */
import fs from 'node:fs';
import { Worker } from 'node:worker_threads';
import { FaultError, type Fault, type Reply } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';
import { failed } from './core-faults.ts';
import type { EngineOptions, FromEngine, ToEngine } from './engine-messages.ts';

export type { EngineOptions } from './engine-messages.ts';

const stopped: Fault = {
  kind: 'storage',
  message:
    'The part that keeps the books has stopped. What you typed is still here; try again, and restart Knifewright if this stays.',
};
const closedFault: Fault = { kind: 'storage', message: 'The workshop is closed. Open it again to go on.' };

/** In the bundle beside its host, or above the piece this was put in; next to this source in development and tests. */
function workerFile(): URL {
  const places = ['./engine-worker.js', '../engine-worker.js', './engine-worker.ts'];
  const found = places.map((place) => new URL(place, import.meta.url)).find((url) => fs.existsSync(url));
  if (!found)
    throw new FaultError({
      kind: 'internal',
      message: 'This installation is not whole. Install Knifewright again.',
    });
  return found;
}

type Answer = (reply: Reply) => void;

/** One running worker thread and the calls it still owes an answer. */
interface Engine {
  readonly alive: boolean;
  call(endpoint: string, input: unknown): Promise<Reply>;
  close(): Promise<void>;
  /** Ends the thread at once; for tests of what happens then. */
  kill(): Promise<unknown>;
}

function engineOn(worker: Worker): Engine {
  const waiting = new Map<number, Answer>();
  let lastId = 0;
  let alive = true;
  const ended = new Promise<void>((resolve) => {
    worker.once('exit', () => {
      alive = false;
      for (const answer of waiting.values()) answer(failed(stopped));
      waiting.clear();
      resolve();
    });
  });
  worker.on('message', (message: FromEngine) => {
    if (message.what !== 'reply') return;
    waiting.get(message.id)?.(message.reply);
    waiting.delete(message.id);
  });
  worker.on('error', (error) => {
    console.error(error);
  });
  const send = (message: ToEngine): void => worker.postMessage(message);
  return {
    get alive() {
      return alive;
    },
    call(endpoint, input) {
      lastId += 1;
      const id = lastId;
      return new Promise((resolve) => {
        waiting.set(id, resolve);
        send({ what: 'call', id, endpoint, input });
      });
    },
    async close() {
      if (alive) send({ what: 'close' });
      await ended;
    },
    kill: () => worker.terminate(),
  };
}

/** @throws FaultError when the workshop cannot be opened */
function launch(options: EngineOptions, file: URL): Promise<Engine> {
  const worker = new Worker(file, { workerData: options });
  return new Promise((resolve, reject) => {
    worker.once('error', (error) => reject(error instanceof Error ? error : new Error(String(error))));
    worker.once('exit', () => reject(new FaultError(stopped)));
    worker.once('message', (message: FromEngine) => {
      if (message.what === 'opened') resolve(engineOn(worker));
      else reject(new FaultError(message.what === 'refused' ? message.fault : stopped));
    });
  });
}

/** Starting again opens what is there: it neither makes a workshop nor goes back to a copy once more. */
function withoutFirstSteps({ goBackTo: _done, ...options }: EngineOptions): EngineOptions {
  return { ...options, create: false };
}

/** A port whose thread can be ended by a test. */
export interface EnginePort extends WorkshopPort {
  /** Ends the thread at once, as a crash would. */
  kill(): Promise<unknown>;
}

/**
 * Opens a workshop in a worker thread. When the thread dies, everything under way is answered with a fault
 * and the next call starts it again, once.
 * @param file the worker's program; tests give their own
 * @throws FaultError of kind `storage` with a sentence that says what to do
 */
export async function startEngine(options: EngineOptions, file: URL = workerFile()): Promise<EnginePort> {
  let engine = await launch(options, file);
  let restart: Promise<Engine> | undefined;
  let closed = false;

  const running = async (): Promise<Engine | undefined> => {
    if (engine.alive) return engine;
    restart ??= launch(withoutFirstSteps(options), file);
    engine = await restart;
    return engine.alive ? engine : undefined;
  };

  return {
    async call(endpoint, input) {
      if (closed) return failed(closedFault);
      try {
        return (await (await running())?.call(endpoint, input)) ?? failed(stopped);
      } catch (error) {
        return failed(error instanceof FaultError ? error.fault : stopped);
      }
    },
    async close() {
      closed = true;
      await engine.close();
    },
    kill: () => engine.kill(),
  };
}
