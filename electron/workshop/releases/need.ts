/** Looking up what a use-case of First look is about, and the moment it is about. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { personRow, type ReleaseRecord, releaseRow } from '../../storage/queries/releases.ts';
import type { Clock } from '../context.ts';

/** @throws FaultError `missing` */
export function needRelease(db: ReadDb, id: string): ReleaseRecord {
  const row = releaseRow(db, id);
  if (!row) throw missing('This release is not in the books. Load the list again.');
  return row;
}

/** A release that is set: neither a draft nor over. @throws FaultError `refused` */
export function needSet(db: ReadDb, id: string): ReleaseRecord {
  const row = needRelease(db, id);
  if (row.state === 'draft') throw refused('This release is a draft. Set it first.');
  if (row.state !== 'set') throw refused('This release is over. Nothing more is given out in it.');
  return row;
}

/** A buyer who is still known by name. @throws FaultError of the field `buyerId` */
export function needPerson(db: ReadDb, id: string): NonNullable<ReturnType<typeof personRow>> {
  const person = personRow(db, id);
  if (!person) throw invalid('This buyer is not in the books. Choose another.', 'buyerId');
  if (person.erased_on !== null || person.merged_into_id !== null)
    throw refused('This buyer was forgotten or merged into another. Choose another.', 'buyerId');
  return person;
}

/** The present, or an earlier instant written down later. @throws FaultError of the field `at` */
export function momentOf(clock: Clock, at: string | undefined): string {
  const now = clock.now();
  if (at === undefined) return now;
  // One form for all instants in the books, so that they compare as they stand.
  const instant = new Date(Date.parse(at)).toISOString();
  if (instant > now)
    throw invalid('This is still to come. Write when it happened, or leave it empty for now.', 'at');
  return instant;
}

/** An instant as a person reads it: local day and time. */
export const instantWords = (clock: Clock, instant: string): string =>
  `${clock.localDay(instant)} ${clock.localTime(instant)}`;
