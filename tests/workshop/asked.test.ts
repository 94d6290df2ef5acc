/** What to make next and the answers under Ask on small books: nothing yet, one of each, and an order noted or not. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRig } from './rig.ts';
import { makeParing, openShop, plainKnife, saleOf, type Shop, siteOf } from './shop.ts';

describe('books without anything in them', () => {
  it('answer every question with nothing, and a yen workshop too', async () => {
    const rig = await openRig({ currency: 'JPY' });
    expect(await rig.call('next.list', {})).toEqual([]);
    expect(await rig.call('next.prices', {})).toEqual({ changes: [], models: [], told: [] });
    expect(await rig.call('asked.hours', {})).toEqual([]);
    expect(await rig.call('asked.batches', {})).toEqual([]);
    expect(await rig.call('asked.supporters', {})).toEqual([]);
    expect(await rig.call('asked.postage', {})).toEqual([]);
    expect(await rig.call('asked.again', {})).toEqual({ buyers: [], wishes: [] });
    expect(await rig.call('asked.failures', { from: '2024-01-01', to: '2024-12-31' })).toMatchObject({
      ...{ knives: [], stages: [], ended: 0, costMinor: 0, minutes: 0, hoursWorthMinor: 0 },
    });
    expect(await rig.call('asked.heat', { feeMinor: 900, postageMinor: 1000, blades: 4 })).toMatchObject({
      ...{ blades: 0, ownMinor: 0, outMinor: 1150, evenFeeMinor: 0 },
    });
    expect((await rig.fault('next.model', { modelId: 'nobody' })).kind).toBe('missing');
    await rig.close();
  });
});

describe('a small workshop', () => {
  let shop: Shop;
  beforeEach(async () => {
    shop = await openShop({ now: '2025-06-30' });
  });
  afterEach(() => shop.close());

  const wanted = async (agreedOn: string): Promise<string> => {
    const { id } = await shop.call('orders.ask', {
      ...{ buyerId: shop.buyerId, modelId: shop.modelId, wish: 'Walnut', on: '2024-08-01' },
    });
    const spec = { modelId: shop.modelId, priceMinor: 42_000, channelId: siteOf(shop) };
    await shop.call('orders.offer', {
      id,
      on: '2024-08-01',
      taxPlaceId: shop.places[0]?.id ?? null,
      ...spec,
    });
    await shop.call('orders.agree', { id, policyId: null, on: agreedOn });
    return id;
  };
  const noted = (): number => shop.db.all(shop.db.q.selectFrom('promise_notes').selectAll()).length;

  it('notes the days of an order when it is agreed, but not of one entered after later work', async () => {
    await shop.call('promises.setWeek', { weekMinutes: 300 });
    await wanted('2024-08-05');
    expect(noted()).toBe(1);
    const buildId = await makeParing(shop, 'W01');
    const shares = [{ buildId, weight: 1 }];
    await shop.call('hours.book', { on: '2024-09-10', minutes: 5, stageCode: 'MSG', workKind: null, shares });
    await wanted('2024-09-09');
    expect(noted()).toBe(1);
    await wanted('2024-09-10');
    expect(noted()).toBe(2);
  });

  it('lists an agreed order without a knife as promised, and the knife made for it no longer as free', async () => {
    const id = await wanted('2024-08-05');
    const row = async () => (await shop.call('next.list', {})).find((one) => one.modelId === shop.modelId);
    expect(await row()).toMatchObject({ standing: 'promised', promised: 1, sold: 0, perHourMinor: null });
    const buildId = await makeParing(shop, 'W01');
    expect(await row()).toMatchObject({ standing: 'promised', unsold: 1 });
    await shop.call('orders.link', { id, buildId, on: '2024-10-26' });
    expect(await row()).toMatchObject({ standing: 'tooFew', promised: 0, unsold: 0, days: null });
    const detail = await shop.call('next.model', { modelId: shop.modelId });
    expect(detail.knives.map((knife) => [knife.serial, knife.forOrder])).toEqual([['W01', true]]);
  });

  it('counts quotes that hold beside the wishes, and offers no knife that is kept for somebody', async () => {
    const { id: orderId } = await shop.call('orders.ask', {
      ...{ buyerId: shop.buyerId, modelId: shop.modelId, wish: 'Walnut', on: '2025-06-01' },
    });
    const row = async () => (await shop.call('next.list', {})).find((one) => one.modelId === shop.modelId);
    const other = (await shop.call('selling.saveBuyer', { name: 'Bram Larkspindle', country: 'US' })).id;
    const quote = { modelId: shop.modelId, on: '2025-06-02', validUntil: '2025-07-01', priceMinor: 20_000 };
    // The one who wished is counted by the wish, the other once for two quotes.
    await shop.call('quotes.keep', { ...quote, buyerId: shop.buyerId });
    await shop.call('quotes.keep', { ...quote, buyerId: shop.buyerId, orderId });
    expect(await row()).toMatchObject({ asked: 1, quoted: 0 });
    await shop.call('quotes.keep', { ...quote, buyerId: other });
    await shop.call('quotes.keep', { ...quote, buyerId: other, priceMinor: 21_000 });
    expect(await row()).toMatchObject({ asked: 1, quoted: 1, unsold: 0 });
    const buildId = await makeParing(shop, 'W01');
    shop.clock.set('2025-07-02');
    expect(await row()).toMatchObject({ asked: 1, quoted: 0, unsold: 1 });

    const free = async () => (await shop.call('asked.again', {})).wishes[0]?.knives.map((one) => one.serial);
    expect(await free()).toEqual(['W01']);
    await shop.call('releases.hold', { buildId, buyerId: shop.buyerId, minutes: 60 });
    expect(await free()).toEqual([]);
    shop.clock.set('2025-07-03');
    expect(await free()).toEqual(['W01']);
  });

  it('counts a lost knife at what had gone into it, and leaves it out of what is offered', async () => {
    const buildId = await makeParing(shop, 'W01');
    const { costMicro, minutes } = await shop.call('builds.get', { id: buildId });
    await shop.call('builds.reopen', { id: buildId, reason: 'A crack showed' });
    await shop.call('builds.end', { id: buildId, as: 'scrapped', on: '2025-01-10', reason: 'Cracked' });
    const found = await shop.call('asked.failures', { from: '2025-01-01', to: '2025-12-31' });
    expect([found.costMinor, found.minutes, found.ended]).toEqual([
      Math.round(costMicro / 10_000),
      minutes,
      1,
    ]);
    expect(found.knives[0]).toMatchObject({
      serial: 'W01',
      reason: 'Cracked',
      orderTag: null,
      lateDays: null,
    });
    expect((await shop.call('next.model', { modelId: shop.modelId })).knives).toEqual([]);
  });

  it('counts overhead as the year does, hours by knives that have some, and no days a knife was with a buyer', async () => {
    const spend = (categoryId: string, costOn: string, amountMinor: number) =>
      shop.call('money.addExpense', { categoryId, payee: 'Hobnail', costOn, paidOn: costOn, amountMinor });
    await spend('cat-rent', '2024-02-01', 12_000);
    await spend('cat-supplies', '2024-08-01', 3000);
    const worked = await makeParing(shop, 'W01');
    const plain = await plainKnife(shop);
    await shop.call('selling.sell', saleOf(shop, worked));
    const handed = { shippingMinor: 0, postagePaidMinor: 0 };
    await shop.call('selling.sell', saleOf(shop, plain, { on: '2024-09-01', ...handed }));
    // One was posted, the other handed over.
    expect((await shop.call('asked.postage', {}))[0]).toMatchObject({ parcels: 1, lostMinor: 5 });
    const service = { kind: 'repair', knife: 'Of another hand', receivedOn: '2024-10-01' } as const;
    await shop.call('care.saveService', { ...service, sentOn: '2025-01-04', postagePaidMinor: 1240 });
    expect((await shop.call('asked.postage', {}))[0]).toEqual({
      ...{ year: '2025', where: 'service', parcels: 1, chargedMinor: 0, paidMinor: 1240, lostMinor: 0 },
    });

    const hours = (await shop.call('asked.hours', { by: 'year' })).find((row) => row.name === '2024');
    const { overhead } = await shop.call('year.report', { from: '2024-01-01', to: '2024-12-31' });
    // Rent of February, before the first knife, and supplies.
    expect([hours?.overheadMinor, overhead.total.value]).toEqual([15_000, 15_000]);

    const row = async () => (await shop.call('next.list', {})).find((one) => one.modelId === shop.modelId);
    const both = await row();
    expect(both?.minutes?.middle).toBe(410);
    // Overhead is 8.03 an hour; the knife without hours is in neither figure.
    const between = (both?.perHourMinor ?? 0) - (both?.afterOverheadMinor ?? 0);
    expect(Math.abs(between - 803)).toBeLessThanOrEqual(1);

    const [sale] = (await shop.call('selling.sales', {})).rows;
    const back = { saleId: sale?.id ?? '', condition: 'unused', knife: 'shelf' } as const;
    await shop.call('care.takeBack', { ...back, on: '2024-12-01' });
    // 359 days from 2024-07-06 to 2025-06-30, less 91 with the buyer.
    expect((await row())?.unsoldDays).toBe(268);
  });
});
