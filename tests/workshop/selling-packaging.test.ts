/** Packaging leaves with the knife: in the same step as the sale, or the sale does not happen. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { wholeBooks } from './rig.ts';
import { idOf, numbersOf, ONE, openShop, PIECE, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
let knife: string;
/** Usual packaging of the model: one box off the rack and a flat amount for tape. */
let packaging: { partIds: string[]; flatIds: string[] };

beforeEach(async () => {
  shop = await openShop();
  const before = await shop.call('builds.model', { id: shop.modelId });
  const model = await shop.call('builds.saveModel', {
    id: shop.modelId,
    code: 'PAR',
    name: 'Tessel paring',
    stages: [],
    parts: [
      ...before.parts.map(({ label, itemId, qty, perBar }) => {
        return { label, itemId, use: 'material' as const, qty, perBar };
      }),
      { label: 'Box', itemId: idOf(shop.items, 'box'), use: 'packaging', qty: PIECE },
    ],
    flats: [{ label: 'Tape', use: 'packaging', amountMicro: 400_000 }],
  });
  packaging = {
    partIds: model.parts.filter((part) => part.use === 'packaging').map((part) => part.id),
    flatIds: model.flats.map((flat) => flat.id),
  };
  knife = await plainKnife(shop);
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const boxesLeft = async (): Promise<number> =>
  (await shop.call('stock.item', { id: idOf(shop.items, 'box') })).qtyLeft / PIECE;

describe('packaging taken with a sale', () => {
  it('is booked on the knife, on the day of the sale, as one entry of the journal', async () => {
    const entries = (await shop.call('workshop.history', {})).total;
    await shop.call('selling.sell', saleOf(shop, knife, { packaging }));
    expect((await shop.call('workshop.history', {})).total).toBe(entries + 1);
    const sheet = await shop.call('costs.sheet', { buildId: knife });
    // 25 boxes for 170.00 are 6.80 each, and 0.40 of tape.
    expect(sheet.packaging.amountMinor).toBe(720);
    expect(sheet.packaging.working.map((row) => row.on)).toEqual(['2024-08-25', '2024-08-25']);
    expect([await boxesLeft(), (await shop.call('builds.get', { id: knife })).costMicro]).toEqual([
      24,
      7.2 * ONE,
    ]);
  });

  it('that cannot be had leaves the knife unsold, the number free and the books as they were', async () => {
    await shop.call('stock.takeOut', {
      lotId: (await shop.call('stock.lots', { itemId: idOf(shop.items, 'box') })).rows[0]?.id ?? '',
      qty: 25 * PIECE,
      kind: 'scrap',
      on: '2024-08-01',
      reason: 'wet',
    });
    const before = wholeBooks(shop.db);
    const fault = await shop.fault('selling.sell', saleOf(shop, knife, { packaging, paidBy: 'card' }));
    expect(fault.field).toBe('packaging');
    expect(fault.message).toMatch(/^Box: .*Nothing was sold; mend that first/);
    expect(wholeBooks(shop.db)).toEqual(before);
    await shop.call('selling.sell', saleOf(shop, knife));
    expect(await numbersOf(shop)).toEqual(['2024-0001']);
  });

  it('is not taken for a sale that is refused', async () => {
    await shop.call('selling.sell', saleOf(shop, knife, { packaging }));
    const before = wholeBooks(shop.db);
    expect((await shop.fault('selling.sell', saleOf(shop, knife, { packaging }))).field).toBe('buildId');
    expect(wholeBooks(shop.db)).toEqual(before);
  });
});
