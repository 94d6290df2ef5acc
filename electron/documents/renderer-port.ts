/** Papers are drawn in a worker thread of their own, so that a long one never delays a click. */
import fs from 'node:fs';
import { Worker } from 'node:worker_threads';
import type { PaperKind, Papers, Press } from './types.ts';

/** One paper to draw; what travels to the worker. */
export interface PaperOrder<K extends PaperKind = PaperKind> {
  readonly id: number;
  readonly paper: K;
  readonly data: Papers[K];
}

/** What travels back: the finished PDF, or the reason there is none. */
export type PaperResult =
  | { readonly id: number; readonly ok: true; readonly pdf: Uint8Array }
  | { readonly id: number; readonly ok: false; readonly problem: string };

/** Draws papers; `close` ends the worker. */
export interface Documents extends Press {
  close(): Promise<void>;
}

/** Beside this file when bundled; next to this source in development and tests. */
function workerFile(): URL {
  const places = ['./documents-worker.js', '../documents-worker.js', './documents-worker.ts'];
  const found = places.map((place) => new URL(place, import.meta.url)).find((url) => fs.existsSync(url));
  if (!found) throw new Error('The part that draws papers is missing from this installation');
  return found;
}

interface Waiting {
  resolve(pdf: Uint8Array): void;
  reject(error: Error): void;
}

/** One running worker and the papers it still owes. */
class PaperWorker {
  readonly #waiting = new Map<number, Waiting>();
  readonly #worker: Worker;
  #lastId = 0;
  alive = true;

  constructor() {
    this.#worker = new Worker(workerFile());
    this.#worker.on('message', (result: PaperResult) => this.#settle(result));
    this.#worker.on('error', (error: unknown) =>
      this.#die(error instanceof Error ? error : new Error(String(error))),
    );
    this.#worker.on('exit', () => this.#die(new Error('The part that draws papers has stopped')));
    // A worker that waits for orders must not keep the program from ending.
    this.#worker.unref();
  }

  draw<K extends PaperKind>(paper: K, data: Papers[K]): Promise<Uint8Array> {
    this.#lastId += 1;
    const id = this.#lastId;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, paper, data } satisfies PaperOrder<K>);
    });
  }

  async end(): Promise<void> {
    await this.#worker.terminate();
  }

  #settle(result: PaperResult): void {
    const waiting = this.#waiting.get(result.id);
    this.#waiting.delete(result.id);
    if (result.ok) waiting?.resolve(result.pdf);
    else waiting?.reject(new Error(result.problem));
  }

  #die(error: Error): void {
    this.alive = false;
    for (const waiting of this.#waiting.values()) waiting.reject(error);
    this.#waiting.clear();
  }
}

/** Makes ready to draw papers. The worker starts with the first paper, and again after it has died. */
export function startDocuments(): Documents {
  let worker: PaperWorker | undefined;
  const ready = (): PaperWorker => {
    if (!worker?.alive) worker = new PaperWorker();
    return worker;
  };
  return {
    invoice: (data) => ready().draw('invoice', data),
    letter: (data) => ready().draw('letter', data),
    structured: (data) => ready().draw('structured', data),
    costSheet: (data) => ready().draw('costSheet', data),
    cutting: (data) => ready().draw('cutting', data),
    making: (data) => ready().draw('making', data),
    heat: (data) => ready().draw('heat', data),
    labels: (data) => ready().draw('labels', data),
    packingSlip: (data) => ready().draw('packingSlip', data),
    contentList: (data) => ready().draw('contentList', data),
    preview: (data) => ready().draw('preview', data),
    stocktake: (data) => ready().draw('stocktake', data),
    report: (data) => ready().draw('report', data),
    certificate: (data) => ready().draw('certificate', data),
    close: async () => worker?.end(),
  };
}
