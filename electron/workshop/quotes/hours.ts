/** Hours for the next one: the middle of the nearest own knives, or the usual minutes, or what the maker wrote. */
import { invalid } from '../../api/errors.ts';
import type { QuoteAsked, QuoteHours, QuoteRate } from '../../api/quotes.ts';
import { guessMean, guessSd } from '../../domain/beta-guess.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ThreePoints } from '../../domain/triangular.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelStageRows } from '../../storage/queries/models.ts';
import { hourRates } from '../costs/hour-rates.ts';
import { type Past, spreadIn } from './past.ts';

/**
 * The guess of the hours, in minutes; undefined where the maker named one figure or none.
 * @throws FaultError for a guess that lacks a point, or whose points stand in the wrong order
 */
function guessOf({ leastMinutes, minutes, mostMinutes }: QuoteAsked): ThreePoints | undefined {
  if (leastMinutes === null && mostMinutes === null) return undefined;
  if (minutes === null)
    throw invalid('Write what is most likely too, between the best and the worst.', 'minutes');
  if (leastMinutes === null)
    throw invalid('Write how long it takes at best too, or leave out the worst.', 'leastMinutes');
  if (mostMinutes === null)
    throw invalid('Write how long it takes at worst too, or leave out the best.', 'mostMinutes');
  if (leastMinutes > minutes)
    throw invalid('At best it takes no longer than most likely. Change one of the two.', 'leastMinutes');
  if (mostMinutes < minutes)
    throw invalid('At worst it takes no less than most likely. Change one of the two.', 'mostMinutes');
  return { least: leastMinutes, likely: minutes, most: mostMinutes };
}

/** The guess as the quote shows it. */
const shownGuess = (guess: ThreePoints): NonNullable<QuoteHours['guess']> => ({
  leastMinutes: guess.least,
  likelyMinutes: guess.likely,
  mostMinutes: guess.most,
  sdMinutes: Math.round(guessSd(guess)),
});

function chosenOf(db: ReadDb, asked: QuoteAsked, spreads: Pick<QuoteHours, 'booked' | 'practised'>) {
  const guess = guessOf(asked);
  if (guess !== undefined)
    return {
      minutes: Math.round(guessMean(guess)),
      from: 'guessed',
      how: 'The mean of your guess: the best, four times the most likely and the worst, divided by six.',
      guess: shownGuess(guess),
    } as const;
  if (asked.minutes !== null) return { minutes: asked.minutes, from: 'yours', how: 'As you wrote.' } as const;
  const { booked, practised } = spreads;
  if (booked === null)
    return {
      minutes: sumOf(modelStageRows(db, asked.modelId), (stage) => stage.minutes),
      from: 'usual',
      how: 'The model’s usual minutes, stage by stage; no own knife speaks for it yet.',
    } as const;
  if (asked.hours === 'practised' && practised !== null)
    return {
      minutes: practised.middle,
      from: 'practised',
      how: 'The middle of the own knives below, at the place of the next one.',
    } as const;
  return {
    minutes: booked.middle,
    from: 'booked',
    how: 'The middle of the own knives below, as booked.',
  } as const;
}

/** Hours and how they spread. */
export function hoursOf(db: ReadDb, asked: QuoteAsked, past: Past): QuoteHours {
  const booked = spreadIn(past.knives.map((knife) => knife.minutes));
  const practised = past.practised ? spreadIn(past.knives.map((knife) => knife.practisedMinutes)) : null;
  return {
    ...chosenOf(db, asked, { booked, practised }),
    booked,
    practised,
    practice: past.practice,
    extraMinutes: asked.extraMinutes,
  };
}

/** What an hour is reckoned at: written here, else in force on the day. */
export function rateFor(
  db: ReadDb,
  kind: 'labour' | 'overhead',
  written: number | null,
  today: string,
): QuoteRate {
  if (written !== null) return { perHourMicro: written, from: null, how: 'as you wrote here' };
  const rate = hourRates(db).find(
    (one) => one.kind === kind && one.personId === null && one.from_date <= today,
  );
  if (rate === undefined) return { perHourMicro: 0, from: null, how: 'none is set in the workshop' };
  return {
    perHourMicro: rate.per_hour_micro,
    from: rate.from_date,
    how: `the workshop’s, in force since ${rate.from_date}`,
  };
}
