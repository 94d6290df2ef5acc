/** How a release went, as lines of a table. */
import type { ReleaseMeasures } from '../../../electron/domain/releases.ts';
import { count, money, percent } from '../../lib/format.ts';
import { spanText } from './words.ts';

export interface MeasureLine {
  readonly label: string;
  readonly text: (measures: ReleaseMeasures) => string;
}

const knives = (n: number): string => count(n, 'knife', 'knives');
const share = (ppm: number | null): string => (ppm === null ? 'nothing to share' : percent(ppm, 0));
const span = (minutes: number | null, without: string): string =>
  minutes === null ? without : spanText(minutes);

export const measureLines: readonly MeasureLine[] = [
  { label: 'Shown', text: (m) => `${knives(m.knives)}, ${money(m.listMinor)}` },
  { label: 'Sold to the early group', text: (m) => `${knives(m.soldEarly)}, ${money(m.soldEarlyMinor)}` },
  { label: 'Sold when open to all', text: (m) => `${knives(m.soldPublic)}, ${money(m.soldPublicMinor)}` },
  { label: 'Left', text: (m) => (m.unsold === 0 ? 'none' : `${knives(m.unsold)}, ${money(m.unsoldMinor)}`) },
  { label: 'Share of knives sold early', text: (m) => share(m.earlyKnivesPpm) },
  { label: 'Share of money sold early', text: (m) => share(m.earlyMoneyPpm) },
  { label: 'First one went after', text: (m) => span(m.firstMinutes, 'none sold yet') },
  { label: 'Half of those sold had gone after', text: (m) => span(m.medianMinutes, 'none sold yet') },
  { label: 'Sold out after', text: (m) => span(m.sellOutMinutes, 'not sold out') },
  {
    label: 'Not sold after 30 days',
    text: (m) =>
      m.unsoldAfter30 === null
        ? 'too early to say'
        : m.unsoldAfter30 === 0
          ? 'none'
          : knives(m.unsoldAfter30),
  },
];
