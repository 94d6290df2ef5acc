/** The packaging usual for a knife's model that the knife has not taken yet. */
import type { BuildDetail } from '../../../electron/api/builds.ts';
import type { Input } from '../../../electron/api/contract.ts';

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

/** What a sale is asked to take with it; undefined when there is nothing to take, or too little of it. */
export const packagingInput = (knife: BuildDetail | undefined): Input<'selling.sell'>['packaging'] => {
  if (knife === undefined) return undefined;
  const waiting = untaken(knife);
  if (waiting.parts.length + waiting.flats.length === 0 || short(waiting).length > 0) return undefined;
  return {
    partIds: waiting.parts.map((part) => part.id),
    flatIds: waiting.flats.map((flat) => flat.id),
  };
};
