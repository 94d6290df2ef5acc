/** Around the knife itself: who keeps a fee, which tax it is, what posting it is charged and costs. */
import { invalid, refused } from '../../api/errors.ts';
import type { QuoteAsked } from '../../api/quotes.ts';
import type { FloorTerms } from '../../domain/floor-price.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastPosting } from '../../storage/queries/quotes.ts';
import { channelRecord } from '../../storage/queries/selling.ts';
import { usualChannel } from '../../storage/queries/ways.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import { needWorkshop } from '../workshop/need.ts';

export interface Charges {
  readonly channel: NonNullable<ReturnType<typeof channelRecord>>;
  readonly channelHow: string;
  readonly place: NonNullable<ReturnType<typeof taxPlaceRow>>;
  readonly shippingMinor: number;
  readonly shippingHow: string;
  readonly postageMinor: number;
  readonly postageHow: string;
  /** Terms of a price, the spending left out. */
  readonly terms: Omit<FloorTerms, 'spentMinor'>;
}

function channelOf(db: ReadDb, channelId: string | null): Pick<Charges, 'channel' | 'channelHow'> {
  if (channelId !== null) {
    const channel = channelRecord(db, channelId);
    if (channel === undefined)
      throw invalid('This way of selling is not in the books. Choose another.', 'channelId');
    return { channel, channelHow: 'as you chose' };
  }
  const channel = usualChannel(db);
  if (channel === undefined)
    throw refused('There is no way of being paid in the books. Add a channel in the workshop first.');
  const channelHow =
    channel.sold > 0
      ? 'the one most was sold through'
      : 'nothing is sold yet, so the one that keeps most of a price';
  return { channel, channelHow };
}

function placeOf(db: ReadDb, taxPlaceId: string | null): Charges['place'] {
  const place = taxPlaceRow(db, taxPlaceId ?? needWorkshop(db).homeTaxPlaceId);
  if (place === undefined) throw invalid('This tax place is not in the books. Choose another.', 'taxPlaceId');
  return place;
}

function postingOf(db: ReadDb, asked: QuoteAsked) {
  const last = lastPosting(db, asked.modelId, asked.abroad);
  const like =
    last === undefined
      ? `no knife was sent ${asked.abroad ? 'abroad' : 'out'} yet; write what it will be`
      : `as for ${last.serial} on ${last.on_date}${last.model_id === asked.modelId ? ', the last of this model' : ', another model'}`;
  const yours = 'as you wrote';
  return {
    shippingMinor: asked.shippingMinor ?? last?.shipping_minor ?? 0,
    shippingHow: asked.shippingMinor === null ? like : yours,
    postageMinor: asked.postageMinor ?? last?.postage_paid_minor ?? 0,
    postageHow: asked.postageMinor === null ? like : yours,
  };
}

/** @throws FaultError for a channel or tax place that is not in the books */
export function chargesOf(db: ReadDb, asked: QuoteAsked): Charges {
  const { channel, channelHow } = channelOf(db, asked.channelId);
  const place = placeOf(db, asked.taxPlaceId);
  const posting = postingOf(db, asked);
  return {
    channel,
    channelHow,
    place,
    ...posting,
    terms: {
      shippingMinor: posting.shippingMinor,
      postageMinor: posting.postageMinor,
      abroad: asked.abroad,
      fee: {
        percentPpm: channel.fee_ppm,
        fixedMinor: channel.fee_fixed_minor,
        abroadExtraPpm: channel.abroad_extra_ppm,
      },
      tax: {
        ratePpm: place.rate_ppm,
        onPrice: true,
        onShipping: place.on_shipping === 1,
        rounding: place.rounding === 'line' ? 'line' : 'invoice',
        inclusive: place.inclusive === 1,
      },
    },
  };
}
