/** The packaging usual for a knife's model that the knife has not taken yet. */
import type { BuildDetail } from '../../../electron/api/builds.ts';
import { shop } from '../../lib/shop.svelte.ts';

type Part = BuildDetail['parts'][number];
type Flat = BuildDetail['flats'][number];

export interface Untaken {
  readonly parts: readonly Part[];
  readonly flats: readonly Flat[];
}

/** Usual packaging, parts and flat costs, that is still to be booked. */
export const untaken = (knife: BuildDetail): Untaken => ({
  parts: knife.parts.filter((part) => part.use === 'packaging' && part.takenQty === 0),
  flats: knife.flats.filter((flat) => flat.use === 'packaging' && !flat.booked),
});

/** Parts the rack has too little of. */
export const short = (waiting: Untaken): readonly Part[] =>
  waiting.parts.filter((part) => part.qtyLeft < part.qty);

/** Takes the packaging for a knife. @throws FaultError when it cannot be had */
export const takePackaging = async (knife: BuildDetail, on: string): Promise<void> => {
  const waiting = untaken(knife);
  const parts = waiting.parts.map((part) => ({ partId: part.id }));
  await shop.call('builds.takeUsual', {
    id: knife.id,
    on,
    parts,
    flatIds: waiting.flats.map((flat) => flat.id),
  });
};
