/** The one door every command passes: nothing is dated in a year that is closed. */
import type { Endpoint } from '../../api/endpoint.ts';
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { closedThrough } from '../../storage/seal/open-books.ts';
import type { Clock } from '../context.ts';
import { dayFields, valuesAt, type Way } from './day-fields.ts';
import { isNotDone } from './not-done.ts';
import { closedSentence } from './sentence.ts';

const kept = new WeakMap<Endpoint, readonly Way[]>();

function waysOf(name: string, endpoint: Endpoint): readonly Way[] {
  const found = kept.get(endpoint);
  if (found !== undefined) return found;
  const ways = dayFields(endpoint.input).filter((way) => !isNotDone(name, way.join('.')));
  kept.set(endpoint, ways);
  return ways;
}

const DAY_LETTERS = 10;

/**
 * @throws FaultError `refused` with the field whose day lies in a closed year
 */
export function demandOpenDays(
  { db, clock }: { readonly db: ReadDb; readonly clock: Clock },
  { name, endpoint, input }: { readonly name: string; readonly endpoint: Endpoint; readonly input: unknown },
): void {
  const through = closedThrough(db);
  if (through === undefined) return;
  for (const way of waysOf(name, endpoint)) {
    for (const [field, value] of valuesAt(input, way)) {
      const day = value.length === DAY_LETTERS ? value : clock.localDay(value);
      if (day <= through) throw refused(closedSentence(through), field);
    }
  }
}
