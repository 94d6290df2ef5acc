/** What nobody may get or be asked for twice: a knife made for another, a service invoiced, a turn in a draw. Invented data. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop({ now: '2025-03-01' });
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const person = async (name: string, address = ''): Promise<string> =>
  (await shop.call('selling.saveBuyer', { name, address, country: 'US' })).id;

it('a file sells no knife that is made to order or held for another', async () => {
  const [ordered, held] = [await plainKnife(shop), await plainKnife(shop)];
  const order = { buyerId: shop.buyerId, modelId: shop.modelId, wish: '', on: '2025-01-01' };
  const { id } = await shop.call('orders.ask', order);
  await shop.call('orders.link', { id, buildId: ordered, on: '2025-01-01' });
  await shop.call('releases.hold', { buildId: held, buyerId: await person('Petra Gorsewick') });
  const serials = [];
  for (const buildId of [ordered, held])
    serials.push((await shop.call('builds.get', { id: buildId })).serial);
  const lines = serials.map((serial) => `2025-03-01,${serial},Ottoline Fernshaw,150`);
  const text = ['Date,Knife,Buyer,Price', ...lines].join('\n');
  const { mapping } = await shop.call('imports.look', { kind: 'sales', text });
  const { problems } = await shop.call('imports.check', { kind: 'sales', text, mapping });
  expect(problems.map(({ field, message }) => [field, message.split('.')[0]])).toEqual([
    ['knife', `This knife is made to order (O-0001) for Ottoline Fernshaw`],
    ['knife', `${serials[1] ?? ''} is held for Petra Gorsewick until 2025-03-03 12:00`],
  ]);
});

it('a service is invoiced once, whichever way, and nobody who was forgotten is', async () => {
  const done = { receivedOn: '2025-02-02', doneOn: '2025-02-03', knife: 'Old chef', priceMinor: 1500 };
  const service = await shop.call('care.saveService', {
    kind: 'sharpening',
    ...done,
    buyerId: shop.buyerId,
  });
  const line = {
    description: 'Sharpening',
    detail: '',
    qty: 1,
    qtyScale: 0,
    unitPriceMinor: 1500,
    taxed: true,
  };
  const draft = { taxPlaceId: null, lines: [line], note: '' };
  const { id } = await shop.call('billing.saveDraft', {
    ...draft,
    buyerId: shop.buyerId,
    serviceId: service.id,
  });
  await shop.call('care.invoiceService', {
    serviceId: service.id,
    taxPlaceId: null,
    issuedOn: '2025-02-03',
  });
  expect(await shop.fault('billing.issueDraft', { id, issuedOn: '2025-02-04' })).toMatchObject({
    kind: 'refused',
    message: 'This service has its invoice already: 2025-0001.',
  });

  const buyerId = await person('Passing Through');
  const other = await shop.call('billing.saveDraft', { ...draft, buyerId });
  await shop.call('buyers.erase', { id: buyerId });
  for (const [name, input] of [
    ['billing.issueDraft', { id: other.id, issuedOn: '2025-02-04' }],
    ['selling.sell', saleOf(shop, await plainKnife(shop), { buyerId, on: '2025-02-04' })],
    ['orders.ask', { buyerId, modelId: shop.modelId, wish: '', on: '2025-02-04' }],
  ] as const)
    expect(await shop.fault(name, input)).toMatchObject({ kind: 'refused', field: 'buyerId' });
});

it('two entries of one person have one turn in a draw, also when they are put together after it', async () => {
  const buildId = await plainKnife(shop);
  const people = [await person('One'), await person('Two'), await person('Three')];
  const { id } = await shop.call('releases.save', {
    title: 'Spring',
    rule: 'lot',
    leastRank: 0,
    holdMinutes: 60,
    earlyFrom: '2025-03-02T12:00:00.000Z',
    earlyUntil: '2025-03-03T12:00:00.000Z',
    knives: [{ buildId, priceMinor: 15_000, shippingMinor: 0 }],
  });
  await shop.call('releases.move', { id, to: 'set' });
  expect(
    await shop.fault('orders.link', {
      id: (
        await shop.call('orders.ask', {
          buyerId: shop.buyerId,
          modelId: null,
          wish: 'Any',
          on: '2025-03-01',
        })
      ).id,
      buildId,
      on: '2025-03-01',
    }),
  ).toMatchObject({ field: 'buildId' });
  shop.clock.set('2025-03-02');
  for (const buyerId of people) await shop.call('releases.enter', { id, buyerId });
  // One more entry of the third person, in for this knife alone: put together, one name is left.
  const twin = await person('Three too');
  await shop.call('releases.enter', { id, buyerId: twin, buildId });
  await shop.call('buyers.merge', { keepId: people[2] ?? '', otherId: twin, take: [] });
  shop.clock.set('2025-03-03');
  await shop.call('releases.draw', { id, seed: 'agreed' });
  const drawn = (await shop.call('releases.get', { id })).draws[0]?.outcome ?? [];
  expect(drawn).toHaveLength(3);
  const [first = '', middle = '', last = ''] = drawn.map((name) => name.buyerId);
  await shop.call('buyers.merge', { keepId: last, otherId: first, take: [] });
  shop.clock.set('2025-03-04');
  // The kept entry had its turn as the first drawn; the middle one is next, and nobody after it.
  expect((await shop.call('releases.next', { id, buildId }))?.buyerId).toBe(middle);
  shop.clock.set('2025-03-05');
  expect(await shop.call('releases.next', { id, buildId })).toBeNull();
});
