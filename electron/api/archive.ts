/** Contract of archives: everything taken out of the workshop into one file, looked into, and brought in again. */
import { z } from 'zod';
import { query } from './endpoint.ts';
import type { SealFound } from './seals.ts';

/** An archive that lies in the workshop folder. */
export interface Archive {
  readonly name: string;
  readonly bytes: number;
  /** UTC instant. */
  readonly at: string;
}

/** What an archive says of itself. */
export interface ArchiveHead {
  /** UTC instant. */
  readonly madeAt: string;
  readonly workshop: string;
  readonly currency: string;
  /** Shape of the books inside. */
  readonly shape: number;
  readonly journalSeq: number;
  readonly journalHash: string;
  readonly tables: number;
  readonly rows: number;
  /** Files the books speak of that were not there, or not as they were stored. */
  readonly missing: readonly string[];
}

/** What came of the work on an archive. */
export interface ArchiveOutcome {
  readonly head: ArchiveHead;
  readonly bytes: number;
  /** Brought in: the safety copy that holds its books now; going back to it puts them in place. */
  readonly copy: string | null;
  /** Looked into: every closed year in it, and whether it is still as it was sealed. */
  readonly seals: readonly SealFound[];
}

/** The one piece of work on archives that runs or ran last. */
export interface ArchiveWork {
  readonly number: number;
  readonly what: 'take' | 'check' | 'bring';
  readonly name: string;
  readonly state: 'running' | 'done' | 'failed' | 'cancelled';
  readonly doneBytes: number;
  readonly totalBytes: number;
  /** Why it failed and what to do; empty otherwise. */
  readonly problem: string;
  readonly outcome: ArchiveOutcome | null;
}

export interface Archives {
  readonly archives: readonly Archive[];
  readonly work: ArchiveWork | null;
  /** Null: an archive may be brought in here. Else why not. */
  readonly whyNotBring: string | null;
}

const named = z.strictObject({ name: z.string().min(1, 'Choose an archive.').max(140) });

/**
 * Every call of archives. None of them changes the books, so none is a command: the work runs beside other calls and
 * writes files only.
 */
export const archiveEndpoints = {
  'archive.state': query(z.strictObject({}))<Archives>(),
  /** Begins to take everything out into a new archive. */
  'archive.take': query(z.strictObject({}))<ArchiveWork>(),
  /** Begins to hold an archive against its hashes and its seals. */
  'archive.check': query(named)<ArchiveWork>(),
  /** Begins to bring an archive into this workshop, which must be empty. */
  'archive.bring': query(named)<ArchiveWork>(),
  /** Ends what runs; nothing half is left. */
  'archive.cancel': query(z.strictObject({}))<Archives>(),
  /** Throws an archive away. */
  'archive.drop': query(named)<Archives>(),
} as const;
