/** Quotes of the demo workshop: a smaller petty somebody waits for, and a chef's knife with options. */
import { amount, cents } from './amounts.ts';
import type { Ask } from './desk.ts';
import type { House } from './set-up.ts';

const on = '2025-12-31';
const validUntil = '2026-01-31';

/** Keeps both quotes; neither became an offer yet. */
export async function quoteSome(ask: Ask, house: House): Promise<void> {
  const common = { on, validUntil, taxPlaceId: house.places.away, channelId: house.channelId };
  await ask('quotes.keep', {
    ...common,
    buyerId: house.buyers.C14,
    modelId: house.models.PET.id,
    bladeNm: amount('120', 'mm'),
    wish: 'A smaller one for the camp kitchen.',
    priceMinor: cents('275.00'),
  });
  const [guard, initials] = house.models.CHF.options;
  await ask('quotes.keep', {
    ...common,
    buyerId: house.buyers.C09,
    modelId: house.models.CHF.id,
    wish: 'One more like the first, for a friend who cooks.',
    options: [guard, initials].flatMap((option) =>
      option === undefined ? [] : [{ optionId: option.id, name: option.name, priceMinor: option.priceMinor }],
    ),
    priceMinor: cents('690.00'),
    note: 'Asked whether it could be ready for June.',
  });
}
