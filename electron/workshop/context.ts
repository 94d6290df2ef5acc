/** What a use-case is given: handles, clock and ids come in as arguments so that every run can be repeated. */
import type { SafetyCopy } from '../api/workshop.ts';
import type { ArchiveKeeper } from '../storage/archive/keeper.ts';
import type { ReadDb, WriteDb } from '../storage/db.ts';

/** The workshop's clock. Instants are UTC ISO text; dates are the workshop's own local calendar days. */
export interface Clock {
  /** The present instant, e.g. `2024-07-06T09:30:00.000Z`. */
  now(): string;
  /** The present local calendar day, e.g. `2024-07-06`. */
  today(): string;
  /** The local calendar day on which an instant (UTC ISO text) falls. */
  localDay(instant: string): string;
  /** The local time of an instant (UTC ISO text), hours and minutes, e.g. `18:00`. */
  localTime(instant: string): string;
}

/** Content-addressed store for pictures, scans and issued papers. */
export interface FileStore {
  /** Writes a picture or a scan durably (temp, fsync, rename, fsync directory) and answers its SHA-256 in hex. */
  put(name: string, bytes: Uint8Array): { sha256: string; path: string };
  /** Keeps a paper with the transaction that issues it; its file follows once that stands. */
  keep(db: WriteDb, name: string, bytes: Uint8Array): { sha256: string; path: string };
  /** Reads bytes back and checks them against the hash in the books; throws a `storage` fault when they differ. */
  get(path: string, sha256: string): Uint8Array;
}

/** Turns prepared data into a PDF, in a worker of its own where there is one. */
export type Renderer = import('../documents/types.ts').Press;

/** What the core knows about the open workshop beside its books. */
export interface House {
  /** True for the invented demo workshop. */
  readonly demo: boolean;
  /** Every safety copy that was read back and is whole, newest first. */
  copies(): readonly SafetyCopy[];
  /** Makes a safety copy of the books as they stand and reads it back. Only from a command's `prepare`. */
  copyNow(): Promise<SafetyCopy>;
  /** The archives in the workshop folder and the work on them. */
  archives(): Promise<ArchiveKeeper>;
}

export interface QueryContext {
  readonly db: ReadDb;
  readonly clock: Clock;
  readonly files: FileStore;
  readonly renderer: Renderer;
  readonly house: House;
}

export interface CommandContext {
  readonly db: WriteDb;
  readonly clock: Clock;
  readonly files: FileStore;
  readonly renderer: Renderer;
  readonly house: House;
  /** A fresh identifier, unique in the books. */
  newId(): string;
}

/** A command handler may do slow or asynchronous work first (`prepare`: no writes), then writes in one synchronous transaction (`run`). */
export interface CommandHandler<I, O, P = unknown> {
  prepare?(ctx: CommandContext, input: I): Promise<P>;
  run(ctx: CommandContext, input: I, prepared: P): O;
}
export type QueryHandler<I, O> = (ctx: QueryContext, input: I) => O | Promise<O>;
