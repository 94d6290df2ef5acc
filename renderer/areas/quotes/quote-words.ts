/** Quotes in a maker's words. */
import type { QuoteReckoning, QuoteSpread, QuoteState } from '../../../electron/api/quotes.ts';
import { count } from '../../lib/format.ts';

interface Standing {
  readonly text: string;
  readonly tone: 'plain' | 'firm' | 'loss' | 'faint';
}

const standings: Readonly<Record<QuoteState, Standing>> = {
  open: { text: 'Holds', tone: 'firm' },
  lapsed: { text: 'Lapsed', tone: 'loss' },
  offered: { text: 'Became an offer', tone: 'plain' },
  closed: { text: 'Laid aside', tone: 'faint' },
};

/** How a quote stands. */
export const standingOf = (state: QuoteState): Standing => standings[state];

/** The four views in their order. */
export const viewNames = {
  floor: 'Floor at your rate',
  line: 'By size, from your own sales',
  base: 'List price and options',
  fetched: 'What the last ones fetched',
} as const satisfies Partial<Record<keyof QuoteReckoning, string>>;

/** The half of some figures around their middle, e.g. `half of 8 knives between 16 h and 17 h`. */
export function spreadText(spread: QuoteSpread | null, write: (value: number) => string): string {
  if (spread === null) return '';
  if (spread.knives < 3)
    return `of ${count(spread.knives, 'knife', 'knives')}; too few to say how they spread`;
  if (spread.low === spread.high) return `the same for at least half of ${String(spread.knives)} knives`;
  return `half of ${String(spread.knives)} knives between ${write(spread.low)} and ${write(spread.high)}`;
}
