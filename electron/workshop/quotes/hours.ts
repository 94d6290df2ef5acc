/** Hours for the next one: the middle of the nearest own knives, or the usual minutes, or what the maker wrote. */
import type { QuoteAsked, QuoteHours, QuoteRate } from '../../api/quotes.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelStageRows } from '../../storage/queries/models.ts';
import { hourRates } from '../costs/hour-rates.ts';
import { type Past, spreadIn } from './past.ts';

function chosenOf(db: ReadDb, asked: QuoteAsked, spreads: Pick<QuoteHours, 'booked' | 'practised'>) {
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
