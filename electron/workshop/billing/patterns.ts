/** Numbers of papers that do not run with the plain invoices. */
import { numberedKinds, type NumberPattern } from '../../api/billing.ts';
import type { Parsed } from '../../api/contract.ts';
import { validatePattern } from '../../domain/numbering.ts';
import type { ReadDb } from '../../storage/db.ts';
import { patternRows, putPattern } from '../../storage/queries/billing.ts';
import { valueOrInvalid } from '../answers.ts';
import type { CommandContext } from '../context.ts';

/** The pattern of every kind; empty where it runs with the plain invoices. */
export function patterns(db: ReadDb): readonly NumberPattern[] {
  const rows = patternRows(db);
  return numberedKinds.map((kind) => ({
    kind,
    pattern: rows.find((row) => row.kind === kind)?.pattern ?? '',
  }));
}

/** Sets one. A change counts for later papers; a series begun before goes on where it stood. @throws FaultError */
export function setPattern(ctx: CommandContext, { kind, pattern }: Parsed<'billing.setPattern'>) {
  if (pattern !== '') valueOrInvalid(validatePattern(pattern), 'pattern');
  putPattern(ctx.db, kind, pattern);
  return patterns(ctx.db);
}
