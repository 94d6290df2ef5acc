/** Words of makings, and what is usual for a kind of them. */
import type { MakingKind, MakingState, ShareKey, StepKind } from '../../../electron/api/makings.ts';
import { mulDiv } from '../../../electron/domain/integers.ts';
import { toBase } from '../../../electron/domain/quantity.ts';
import { weighedText } from '../../../electron/domain/weighing.ts';
import { shop } from '../../lib/shop.svelte.ts';

export const makingKindWords: Readonly<Record<MakingKind, string>> = {
  billet: 'Forge-welded billet',
  scales: 'Sawn scales',
  blanks: 'Blanks from an outside cutter',
  other: 'Something else',
};

export const makingStateWords: Readonly<Record<MakingState, string>> = {
  open: 'Being worked on',
  done: 'Finished',
  scrapped: 'Scrapped',
};

export const shareWords: Readonly<Record<ShareKey, string>> = {
  weight: 'By weight',
  equal: 'Equally, by piece',
  length: 'By length',
  first: 'All on the first ones, the last at zero',
};

export const stepWords: Readonly<Record<StepKind, string>> = {
  stack: 'Stack',
  weld: 'Weld',
  draw: 'Draw out',
  clean: 'Clean faces',
  cut: 'Cut and restack',
  twist: 'Twist',
  grind: 'Grind',
  crop: 'Crop',
  other: 'Something else',
};

/** How the cost of a kind of making is usually shared. */
export const usualShare: Readonly<Record<MakingKind, ShareKey>> = {
  billet: 'weight',
  scales: 'equal',
  blanks: 'equal',
  other: 'equal',
};

/** The stage of the bench whose clock such work runs on. */
export const usualStage: Readonly<Record<MakingKind, string>> = {
  billet: 'BIL',
  scales: 'HDL',
  blanks: 'CUT',
  other: 'CUT',
};

const ounce = toBase(1, 'oz');

/** A weight in the workshop’s habit: `1,240 g`, or `43.74 oz (1,240 g)`. */
export const weighed = (ng: number): string => weighedText(ng, shop.isOunce);

/** A price for each ounce from that for each kilogram, in millionths, for a glance. */
export const perOunce = (perKgMicro: number): number => mulDiv(perKgMicro, ounce, toBase(1000, 'g'));

/** The unit such work is weighed in unless another is written. */
export const weighedIn = (): 'oz' | 'g' => (shop.isOunce ? 'oz' : 'g');

/** A loss to a tenth of a percent: `8.0 %`. */
export const tenth = (ppm: number): string => `${(ppm / 10_000).toFixed(1)} %`;

/** What every caution ends with. */
export const followWords = 'Follow the safety sheet, your local code and a qualified person.';

/**
 * The usual cautions of such work, short. Common practice; the limits of carbon monoxide as smiths' safety notes give
 * them from the published ones.
 */
export const cautionsFor: Readonly<Record<MakingKind, readonly string[]>> = {
  billet: [
    'Hot work: clear what can burn, keep an extinguisher in reach, no galvanised metal in the fire, watch for an hour after.',
    'Flux smokes and spits: air, eye protection, and none of it in the lungs.',
    'Propane: bottle outside and upright, joints tested, shut at the bottle. Burn only with open doors, a fan and a carbon monoxide alarm, in the next room too.',
  ],
  scales: [
    'Dust of resin, shell, horn and many woods harms the lungs: mask, extraction at the saw, change clothes.',
  ],
  blanks: [],
  other: [],
};
