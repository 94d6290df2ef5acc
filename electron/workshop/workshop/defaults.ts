/** What a new workshop starts with. All of it can be edited. */
import { roundHalfAway } from '../../domain/integers.ts';

/** Stages of making a knife in the order of work; common practice, no source. The codes are this program's own. */
export const firstStages: readonly (readonly [code: string, name: string])[] = [
  ['DES', 'Design'],
  ['CUT', 'Cut and profile'],
  ['BIL', 'Billet'],
  ['FRG', 'Forge'],
  ['GR1', 'Grind before hardening'],
  ['HTA', 'Harden and temper'],
  ['STR', 'Straighten and check'],
  ['GR2', 'Grind after hardening'],
  ['BLT', 'Belt finish'],
  ['HND', 'Hand finish'],
  ['ETC', 'Etch'],
  ['FIT', 'Fit guard or ferrule'],
  ['HDL', 'Handle prepare and glue'],
  ['FIN', 'Shape and finish handle'],
  ['SHP', 'Sharpen and test'],
  ['SHE', 'Sheath'],
  ['PHO', 'Photos'],
  ['LST', 'Listing'],
  ['PCK', 'Pack and post'],
  ['MSG', 'Messages'],
];

/** Gap between two stages, so that another fits between. */
export const STAGE_STEP = 10;

/** Where knives are sold at first. */
export interface FirstChannel {
  readonly name: string;
  readonly feePpm: number;
  /** Millionths of the currency unit; becomes minor units of the workshop's currency. */
  readonly feeFixedMicro: number;
  readonly abroadExtraPpm: number;
}

/** Fees of card payments on an own site: 2.9 % + 0.30, abroad 1.5 % more; an editable default, common practice, no source. */
export const firstChannels: readonly FirstChannel[] = [
  { name: 'Own website', feePpm: 29_000, feeFixedMicro: 300_000, abroadExtraPpm: 15_000 },
  { name: 'Cash or transfer', feePpm: 0, feeFixedMicro: 0, abroadExtraPpm: 0 },
];

/** A default amount in minor units of a currency. */
export const defaultMinor = (micro: number, decimals: number): number =>
  roundHalfAway(micro, 10 ** (6 - decimals));
