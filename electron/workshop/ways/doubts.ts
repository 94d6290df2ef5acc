/** What a knife did not pass and has not passed since. */
import { measureWords } from '../../domain/gates.ts';
import type { Measure } from '../../api/gates.ts';
import type { ReadDb } from '../../storage/db.ts';
import { checkRows } from '../../storage/queries/gates.ts';
import type { Doubt } from './chances.ts';

/** The newest standing check of each gate that is not passed. */
export function doubtsOf(db: ReadDb, buildId: string): Doubt[] {
  const newest = new Map<string, ReturnType<typeof checkRows>[number]>();
  for (const row of checkRows(db, { buildId })) {
    if (row.voided_reason === null && !newest.has(row.measure)) newest.set(row.measure, row);
  }
  return [...newest.values()]
    .filter((row) => row.verdict !== 'pass')
    .map((row) => {
      const measure = row.measure as Measure;
      const verdict = row.verdict === 'fail' ? 'fail' : 'rework';
      const said = verdict === 'fail' ? 'failed' : 'needs rework';
      const why = row.note === '' ? '' : `: ${row.note}`;
      return { measure, verdict, words: `${measureWords[measure]} ${said} on ${row.on_date}${why}` };
    });
}
