/** One piece of work on archives at a time: begun, watched, ended early. */
import { StorageTrouble } from '../trouble.ts';
import type { Manifest } from './manifest.ts';
import type { Watch } from './rebuild.ts';

/** What came of a finished piece of work. */
export interface ArchiveResult {
  readonly head: Omit<Manifest, 'files'>;
  /** Size of the archive. */
  readonly bytes: number;
  /** Safety copy the books were brought into. */
  readonly copy: string | null;
  /** What `inspect` found in the books of the archive. */
  readonly found: unknown;
}

/** One piece of work and how far it is. */
export interface ArchiveWork {
  readonly number: number;
  readonly what: 'take' | 'check' | 'bring';
  readonly name: string;
  readonly state: 'running' | 'done' | 'failed' | 'cancelled';
  readonly doneBytes: number;
  readonly totalBytes: number;
  readonly error: unknown;
  readonly result: ArchiveResult | null;
}

/** The work itself. */
export type Todo = (watch: Watch) => Promise<ArchiveResult>;

/** What is to be done with which archive; `totalBytes` is about how much goes through. */
export type WorkOrder = Pick<ArchiveWork, 'what' | 'name' | 'totalBytes'>;

export interface Slot {
  work(): ArchiveWork | null;
  /** @throws StorageTrouble `busy` while another piece runs */
  begin(order: WorkOrder, todo: Todo): ArchiveWork;
  /** Ends what runs; answers when nothing of it is left. */
  cancel(): Promise<void>;
}

/** Makes an empty slot. */
export function oneAtATime(): Slot {
  let work: ArchiveWork | null = null;
  let stop = new AbortController();
  let ended: Promise<void> = Promise.resolve();
  return {
    work: () => work,
    begin(order, todo) {
      if (work?.state === 'running')
        throw new StorageTrouble(
          'busy',
          'An archive is being worked on. Wait until it is done, or cancel it.',
        );
      stop = new AbortController();
      const { signal } = stop;
      const begun: ArchiveWork = {
        ...order,
        number: (work?.number ?? 0) + 1,
        state: 'running',
        doneBytes: 0,
        error: undefined,
        result: null,
      };
      work = begun;
      let doneBytes = 0;
      const onBytes = (bytes: number): void => {
        doneBytes += bytes;
        work = { ...begun, doneBytes: Math.min(doneBytes, order.totalBytes) };
      };
      ended = todo({ signal, onBytes }).then(
        (result) => {
          work = { ...begun, state: 'done', doneBytes: order.totalBytes, result };
        },
        (error: unknown) => {
          work = signal.aborted ? { ...begun, state: 'cancelled' } : { ...begun, state: 'failed', error };
        },
      );
      return begun;
    },
    async cancel() {
      stop.abort();
      await ended;
    },
  };
}
