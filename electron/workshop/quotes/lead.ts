/** When a new one could be done. */
import { invalid } from '../../api/errors.ts';
import type { QuoteHours, QuoteReckoning } from '../../api/quotes.ts';
import { minutesText } from '../../domain/durations.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ThreePoints } from '../../domain/triangular.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelStageRows } from '../../storage/queries/models.ts';
import { earliestFor, promisesOf } from '../promises/list.ts';

type Lead = Pick<QuoteReckoning, 'lead' | 'leadHow'>;

/** The hours of the quote where the maker wrote them, or where the model has no usual ones; else the queue's own. */
function minutesFor(db: ReadDb, modelId: string, hours: QuoteHours): number | undefined {
  const usual = sumOf(modelStageRows(db, modelId), (stage) => stage.minutes);
  return hours.from === 'yours' || hours.from === 'guessed' || usual === 0 ? hours.minutes : undefined;
}

/** The guess with what comes on top of it, as the queue draws from it. */
const drawnFrom = ({ guess, extraMinutes }: QuoteHours): ThreePoints | undefined =>
  guess && {
    least: guess.leastMinutes + extraMinutes,
    likely: guess.likelyMinutes + extraMinutes,
    most: guess.mostMinutes + extraMinutes,
  };

const guessWords = ({ guess }: QuoteHours): string =>
  guess === undefined
    ? ''
    : ` This one takes ${minutesText(guess.leastMinutes)} to ${minutesText(guess.mostMinutes)}, as you guess; your pace so far is not put on top.`;

/** Days of a new knife behind all that is open, and the earliest one there could be. */
export function leadOf(db: ReadDb, modelId: string, hours: QuoteHours, today: string): Lead {
  const asked = {
    newModelId: modelId,
    newMinutes: minutesFor(db, modelId, hours),
    newExtraMinutes: hours.extraMinutes,
    newGuess: drawnFrom(hours),
  };
  const found = promisesOf(db, asked, today);
  const row = found.rows.find((one) => one.kind === 'new');
  const earliestOn = earliestFor(db, asked, today);
  if (row === undefined || earliestOn === undefined) return { lead: null, leadHow: found.refusal };
  const before = found.rows.length - 1;
  const queue =
    before === 0
      ? 'Nothing else is open.'
      : `Behind ${String(before)} open ${before === 1 ? 'knife or order' : 'knives and orders'}.`;
  return {
    lead: { earliestOn, halfOn: row.halfOn, likelyOn: row.likelyOn, sayOn: row.sayOn },
    leadHow: `${queue}${guessWords(hours)} ${found.assumed.join(' ')}`,
  };
}

/** What a day that is wished for means. */
export function promiseWarning({ lead }: Lead, promisedOn: string | null): string {
  if (promisedOn === null || lead === null || promisedOn >= lead.likelyOn) return '';
  return promisedOn < lead.halfOn
    ? `It is more likely late than not: half of the runs are done by ${lead.halfOn} only.`
    : `The day is at risk: 85 of 100 runs are done by ${lead.likelyOn}.`;
}

/** @throws FaultError for a day nobody can keep */
export function demandPossible({ lead }: Lead, promisedOn: string | null, on: string): void {
  if (promisedOn === null) return;
  if (promisedOn < on)
    throw invalid(
      `It is quoted on ${on}; it cannot be promised for a day before. Change the date.`,
      'promisedOn',
    );
  if (lead !== null && promisedOn < lead.earliestOn)
    throw invalid(
      `Even if you made nothing else, it would take until ${lead.earliestOn}. Promise that day or a later one; ${lead.sayOn} is the honest one.`,
      'promisedOn',
    );
}
