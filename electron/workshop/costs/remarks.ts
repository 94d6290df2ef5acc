/** What a cost sheet must say about itself: what is missing, guessed or flat. */
import { minutesText } from '../../domain/durations.ts';
import { formatMinor } from '../../domain/money.ts';
import type { WorkRecord } from '../../storage/queries/costs.ts';
import type { salesTakenBack } from '../../storage/queries/returns.ts';
import { type HourRate, rateOn } from './hour-rates.ts';
import type { Entry } from './working.ts';

export interface RemarkFacts {
  readonly works: readonly WorkRecord[];
  readonly rates: readonly HourRate[];
  readonly minutes: number;
  readonly guessedMinutes: number;
  /** Minutes in material made here. */
  readonly madeMinutes: number;
  readonly materials: number;
  readonly consumables: readonly Entry[];
  readonly takenBack: ReturnType<typeof salesTakenBack>;
  /** ISO 4217 code. */
  readonly currency: string;
}

const withoutRate = (facts: RemarkFacts, kind: HourRate['kind'], words: string): string[] => {
  const days = facts.works
    .filter((work) => work.person_id === null || kind === 'overhead')
    .filter((work) => !rateOn(facts.rates, kind, work))
    .map((work) => work.on_date);
  const first = days.reduce((so, day) => (so === '' || day < so ? day : so), '');
  return first === ''
    ? []
    : [
        `No ${words} was in force on ${first}: those hours count at zero. Enter one with an earlier start in the workshop’s rates.`,
      ];
};

/** Helpers whose hours have no rate, each named once. */
const helpersWithoutRate = ({ works, rates }: RemarkFacts): string[] => {
  const names = works
    .filter((work) => work.person_id !== null && !rateOn(rates, 'labour', work))
    .map((work) => work.person_name ?? '');
  return [...new Set(names)].map(
    (name) =>
      `No rate was in force for some hours of ${name}: they count at zero. Enter one with an earlier start under Workshop, People.`,
  );
};

const aboutHours = (facts: RemarkFacts): string[] => {
  if (facts.minutes === 0)
    return ['No hours are booked on this knife yet, so nothing can be said about the hour.'];
  if (facts.guessedMinutes === 0) return [];
  return [
    `${minutesText(facts.guessedMinutes)} of ${minutesText(facts.minutes)} were entered from memory, not clocked.`,
  ];
};

/** Sales the knife came back from: not on this sheet, but in the margins. */
const cameBack = ({ takenBack, currency }: RemarkFacts): string[] =>
  takenBack.map((sale) => {
    const spent = formatMinor(sale.postage_paid_minor + sale.fee_minor, currency, { symbol: true });
    const kept =
      sale.kept_minor === 0
        ? 'nothing of its price was kept'
        : `${formatMinor(sale.kept_minor, currency, { symbol: true })} of its price was kept`;
    return `It was sold before and came back on ${sale.taken_back_on ?? ''}: ${kept}, ${spent} went into postage and fee. Both stand in the margins, not here.`;
  });

/** Sentences to print under the sheet. */
export const remarksOn = (facts: RemarkFacts): string[] => [
  ...cameBack(facts),
  ...(facts.materials === 0 ? ['No material is booked on this knife yet.'] : []),
  ...aboutHours(facts),
  ...withoutRate(facts, 'labour', 'labour rate'),
  ...helpersWithoutRate(facts),
  ...withoutRate(facts, 'overhead', 'overhead rate'),
  ...(facts.madeMinutes === 0
    ? []
    : [
        `${minutesText(facts.madeMinutes)} of work on its material are not among its hours: earnings per hour count the knife’s own, what is left at the own rate counts both.`,
      ]),
  ...(facts.consumables.some((entry) => entry.working.rung === 1)
    ? ['Some consumables are a flat amount, not what this knife really used.']
    : []),
];
