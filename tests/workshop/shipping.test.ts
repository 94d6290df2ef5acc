/** Where the workshop ships, through the real core. The rules are invented: the tool asserts no law. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { wholeBooks } from './rig.ts';
import { idOf, makeParing, openShop, PIECE, type Shop, siteOf } from './shop.ts';

let shop: Shop;
let abroad: string;
beforeEach(async () => {
  shop = await openShop({ now: '2025-06-15' });
  const input = { name: 'Katya Ferrowind', city: 'Ferrowind', region: 'Sandmark', country: 'GB' };
  abroad = (await shop.call('selling.saveBuyer', input)).id;
});
afterEach(() => shop.close());

const keys = async (input: { buyerId: string; addressId?: string; buildId?: string; abroad?: boolean }) =>
  (await shop.call('shipping.reminders', input)).map(({ key, blocks }) => [key, blocks]);

describe('the table of places', () => {
  it('marks what was checked more than twelve months ago and refuses days to come', async () => {
    const rule = { country: 'gb', answer: 'ask', what: 'Ask the carrier.' } as const;
    const { id } = await shop.call('shipping.saveRule', { ...rule, checkedOn: '2024-06-15' });
    expect(await shop.call('shipping.rules', {})).toMatchObject([{ country: 'GB', stale: false }]);
    shop.clock.set('2025-06-16');
    expect(await shop.call('shipping.rules', {})).toMatchObject([{ stale: true }]);
    const faults = [
      [{ ...rule, checkedOn: '2025-06-17' }, 'checkedOn'],
      [{ ...rule, country: '', checkedOn: '2025-06-15' }, 'country'],
      [{ ...rule, checkedOn: 'soon' }, 'checkedOn'],
    ] as const;
    for (const [input, field] of faults)
      expect(await shop.fault('shipping.saveRule', input)).toMatchObject({ field });
    await shop.call('shipping.saveRule', { ...rule, id, checkedOn: '2025-06-16', archived: true });
    expect(await shop.call('shipping.rules', {})).toEqual([]);
    expect(await keys({ buyerId: abroad })).toEqual([
      ['law', true],
      ['age', true],
    ]);
  });
});

describe('what to look at before a knife leaves', () => {
  it('is nothing at home, law and age abroad, and the maker’s own rule by country and region', async () => {
    expect(await keys({ buyerId: shop.buyerId })).toEqual([]);
    expect(await keys({ buyerId: shop.buyerId, abroad: true })).toHaveLength(2);
    const at = { country: 'GB', checkedOn: '2025-01-01' } as const;
    const here = await shop.call('shipping.saveRule', { ...at, region: 'SANDMARK ', answer: 'no' });
    await shop.call('shipping.saveRule', { ...at, region: 'Elsewhere', answer: 'ask' });
    expect((await keys({ buyerId: abroad }))[0]).toEqual([`rule:${here.id}`, true]);
    expect(await keys({ buyerId: abroad })).toHaveLength(3);
    // A parcel that goes home after all.
    const given = { buyerId: abroad, label: 'Aunt', city: 'Meresbank', country: 'US' };
    const { id: addressId } = await shop.call('buyers.saveAddress', given);
    expect(await keys({ buyerId: abroad, addressId })).toEqual([]);
    expect(await shop.fault('shipping.reminders', { buyerId: shop.buyerId, addressId })).toMatchObject({
      field: 'addressId',
    });
    // No region is written: either may be meant.
    const nowhere = await shop.call('selling.saveBuyer', { name: 'N. N.', country: 'GB' });
    expect(await keys({ buyerId: nowhere.id })).toHaveLength(4);
    for (const { text } of await shop.call('shipping.reminders', { buyerId: abroad }))
      expect(text).toMatch(/Check the rule in force\.$/);
  });

  it('names the lots in the knife that may need wildlife papers, and blocks with them at a border', async () => {
    const buildId = idOf(shop.knives, 'W01');
    const items = { itemId: idOf(shop.items, 'walnut'), onlyLeft: true };
    const [lot] = (await shop.call('stock.lots', items)).rows;
    const lotId = lot?.id ?? '';
    const known = { lotId, place: '', heatNumber: '', note: '' };
    await shop.call('stock.moveLot', { ...known, species: 'Dalbergia nigra', listing: 'Appendix I' });
    const draw = { itemId: items.itemId, lotId, buildId, qty: PIECE, use: 'material' } as const;
    await shop.call('stock.draw', { ...draw, on: '2025-06-15' });
    expect(await keys({ buyerId: shop.buyerId, buildId })).toEqual([[`wildlife:${lotId}`, false]]);
    expect((await keys({ buyerId: abroad, buildId })).at(-1)).toEqual([`wildlife:${lotId}`, true]);
    // Sawn of it before its listing was written down, the scales have no papers of their own.
    const on = '2025-06-15';
    const { id: makingId } = await shop.call('makings.start', { title: 'Scales', kind: 'scales', on });
    await shop.call('makings.take', { makingId, itemId: items.itemId, lotId, qty: PIECE, on });
    const sawn = { name: 'Thin scales', kind: 'handle', form: 'pair', unit: 'pair' } as const;
    const itemId = (await shop.call('stock.saveItem', sawn)).id;
    await shop.call('stock.moveLot', { ...known, species: '', listing: '' });
    const outputs = [{ itemId, qty: PIECE, share: 1_000_000_000 }];
    await shop.call('makings.finish', { makingId, on, outputs });
    await shop.call('stock.moveLot', { ...known, species: 'Dalbergia nigra', listing: 'Appendix I' });
    const other = idOf(shop.knives, 'W02');
    await shop.call('stock.draw', { itemId, buildId: other, qty: PIECE, use: 'material', on });
    expect(await keys({ buyerId: shop.buyerId, buildId: other })).toEqual([[`wildlife:${lotId}`, false]]);
  });

  it('holds a sale until all of it is ticked, and keeps the words that were ticked', async () => {
    const buildId = await makeParing(shop, 'W01');
    const reminders = await shop.call('shipping.reminders', { buyerId: abroad, buildId });
    const sale = {
      buildId,
      buyerId: abroad,
      channelId: siteOf(shop),
      taxPlaceId: null,
      priceMinor: 15_000,
      shippingMinor: 4800,
      on: '2025-06-15',
    };
    const before = wholeBooks(shop.db);
    expect(await shop.fault('selling.sell', { ...sale, ticks: ['law'] })).toMatchObject({
      field: 'ticks',
      message: `Before it leaves, look at this and tick it: ${reminders[1]?.text ?? ''}`,
    });
    expect(wholeBooks(shop.db)).toEqual(before);
    const { saleId } = await shop.call('selling.sell', { ...sale, ticks: ['age', 'law', 'stranger'] });
    expect(await shop.call('shipping.ticked', { kind: 'sale', subjectId: saleId })).toEqual(
      reminders.map(({ key, text }) => ({ key, text, at: shop.clock.now() })),
    );
  });
});
