/** The fairness log: who was offered what, when, by which rule. Lines are added and never changed. */
import type { LogWhat } from '../../api/releases.ts';
import { insertLogLine } from '../../storage/queries/releases.ts';
import type { CommandContext } from '../context.ts';

interface LogEntry {
  readonly releaseId: string;
  /** When it happened, which may be earlier than when it is written down. */
  readonly at: string;
  readonly what: LogWhat;
  readonly buildId?: string | null;
  readonly buyerId?: string | null;
  readonly detail?: string;
}

/** Adds a line to the log of a release. */
export function writeLog(ctx: CommandContext, entry: LogEntry): void {
  insertLogLine(ctx.db, {
    release_id: entry.releaseId,
    at: entry.at,
    what: entry.what,
    build_id: entry.buildId ?? null,
    buyer_id: entry.buyerId ?? null,
    detail: entry.detail ?? '',
  });
}
