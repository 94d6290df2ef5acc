/** What the maker decided at the two doubtful knives of the demo: the chipped chef's knife and the petty with a gap. */
import type { Input } from '../api/contract.ts';
import { idOf, type Step } from './ledger.ts';

const HUNDREDTH_MM = 10_000;
/** No chance at all. */
const NONE = 0;
/** One in four: it was worked over once already. */
const SLIGHT = 250_000;

type Decided = Omit<Input<'ways.decide'>, 'buildId' | 'on'>;

const decide = (serial: string, on: string, order: number, decided: Decided): Step => ({
  on,
  order,
  run: async (ledger) => {
    await ledger.ask('ways.decide', { ...decided, buildId: idOf(ledger, serial), on });
  },
});

const gapOn = '2025-08-09';

/** The check that raised the doubt about the petty. */
const gap: Step = {
  on: gapOn,
  order: 3.8,
  run: async (ledger) => {
    await ledger.ask('gates.check', {
      measure: 'fit',
      on: gapOn,
      knives: [
        {
          buildId: idOf(ledger, 'W34'),
          readings: [{ value: 30 * HUNDREDTH_MM }],
          verdict: 'rework',
          note: 'A gap of 0.3 mm shows at the ferrule after it was worked over once.',
        },
      ],
    });
  },
};

export const decidingSteps = (): readonly Step[] => [
  // After the check at the rod, before the knife is scrapped that day.
  decide('W28', '2025-05-10', 5.5, {
    chosen: 'scrap',
    reason: 'The crack runs on from the chip; too deep, and too near the heel to shorten.',
    known: [
      { way: 'rework', chancePpm: NONE },
      { way: 'shorten', chancePpm: NONE },
    ],
  }),
  gap,
  decide('W34', gapOn, 3.9, {
    chosen: 'second',
    reason: 'Sound blade; the gap does not close without a new handle.',
    known: [{ way: 'rework', chancePpm: SLIGHT }],
  }),
];
