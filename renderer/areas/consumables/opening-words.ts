/** How an opening stands, in words. */
import type { Opening } from '../../../electron/api/consumables.ts';
import { day } from '../../lib/format.ts';

/** E.g. `in use`, `in use, second life`, `dull since 3 Nov 2024`. */
export const standing = ({ state, bluntOn, endedOn }: Opening): string => {
  switch (state) {
    case 'inUse':
      return bluntOn === null ? 'in use' : 'in use, second life';
    case 'dull':
      return bluntOn === null ? 'dull' : `dull since ${day(bluntOn)}`;
    case 'gone':
      return endedOn === null ? 'gone' : `gone on ${day(endedOn)}`;
    case 'takenBack':
      return 'taken back';
  }
};

/** Left the rack for knives not named yet. What falls by use cost nothing when it was put on and waits for nobody. */
export const waitsToBeShared = ({ state, builds, valueMicro }: Opening): boolean =>
  builds.length === 0 && valueMicro !== 0 && state !== 'takenBack';

const digits = new Intl.NumberFormat('en', { maximumFractionDigits: 1, minimumFractionDigits: 1 });

/** A mean of knives for reading, one decimal: `3.5`. */
export const knivesText = (knives: number): string => digits.format(knives);

/** Mean and spread of knives, e.g. `3.5 ± 0.8`; without a spread below two. */
export const lifeText = (life: {
  readonly n: number;
  readonly mean: number;
  readonly sd: number | null;
}): string => `${knivesText(life.mean)}${life.sd === null ? '' : ` ± ${knivesText(life.sd)}`}`;
