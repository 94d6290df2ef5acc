/** Quotes through the real core: what they stand on, four views, keeping, and the offer in the order book. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { QuoteAsked } from '../../electron/api/quotes.ts';
import type { Input } from '../../electron/api/contract.ts';
import { makeParing, ONE, openShop, pack, plainKnife, saleOf, siteOf, type Shop } from './shop.ts';
import { wholeBooks } from './rig.ts';

const MM = 1_000_000;

let shop: Shop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(() => shop.close());

type Asked = Partial<QuoteAsked>;
const reckon = (asked: Asked = {}) => shop.call('quotes.reckon', { modelId: shop.modelId, ...asked });
const labels = (parts: readonly { readonly label: string; readonly minor: number }[]) =>
  parts.map((part) => `${part.label}: ${(part.minor / 100).toFixed(2)}`);
const sumOf = (parts: readonly { readonly minor: number }[]): number =>
  parts.reduce((so, part) => so + part.minor, 0);

/** Changes the model and leaves all else of it as it is. */
async function changeModel(more: Partial<Input<'builds.saveModel'>>): Promise<void> {
  const model = await shop.call('builds.model', { id: shop.modelId });
  await shop.call('builds.saveModel', {
    id: model.id,
    code: model.code,
    name: model.name,
    family: model.family,
    stages: model.stages.map(({ code, minutes }) => ({ code, minutes })),
    parts: model.parts.map(({ label, itemId, use, qty, perBar }) => ({ label, itemId, use, qty, perBar })),
    flats: model.flats.map(({ label, use, amountMicro }) => ({ label, use, amountMicro })),
    ...more,
  });
}

const sell = (buildId: string, more: Parameters<typeof saleOf>[2] = {}) =>
  shop.call('selling.sell', saleOf(shop, buildId, { taxPlaceId: null, ...more }));

const quote = (more: Partial<Input<'quotes.keep'>> = {}): Input<'quotes.keep'> => ({
  modelId: shop.modelId,
  buyerId: shop.buyerId,
  on: '2024-12-31',
  validUntil: '2025-01-31',
  priceMinor: 20_000,
  ...more,
});

describe('what a quote stands on', () => {
  it('is the model’s usual minutes and the prices paid last where no own knife speaks, and it says so', async () => {
    const found = await reckon();
    expect(found.nearest).toEqual([]);
    expect(found.hours).toMatchObject({ minutes: 70, from: 'usual', booked: null, practised: null });
    expect(found.nearestHow).toContain('usual minutes');
    // A sixth of the bar at 24.00, and the usual cost of gas and current.
    expect(labels(found.direct)).toEqual(['Steel: 4.00', 'Fuel and current: 0.75']);
    expect([found.line.totalMinor, found.base.totalMinor, found.fetched.totalMinor]).toEqual([
      null,
      null,
      null,
    ]);
    expect(found.line.how).toContain('Too few to say');
    expect(found.labour).toMatchObject({ perHourMicro: 35 * ONE, from: '2024-07-01' });
    expect(found.overhead).toMatchObject({ perHourMicro: 8_030_000, from: '2024-07-01' });
    // 4.75 and 70 minutes at 43.03 are 54.95; with the fee of 0.30 and of 2.9 % on price and 6.5 % of tax: 55.25 / 0.969115.
    const { floor } = await reckon({ channelId: siteOf(shop) });
    expect([floor.totalMinor, sumOf(floor.parts)]).toEqual([5701, 5701]);
    expect(found.warnings.join(' ')).toContain('Posting it is reckoned at nothing');
    expect([found.lead, found.leadHow.includes('how many hours a week')]).toEqual([null, true]);
  });

  it('takes a guess of three points by the beta rule, with the floor at both ends and days drawn from it', async () => {
    await shop.call('promises.setWeek', { weekMinutes: 600 });
    // (24 + 4 × 28 + 36) ÷ 6 = 28.67 h, a sixth of 12 h around it.
    const guess = { minutes: 1680, leastMinutes: 1440, mostMinutes: 2160 };
    const found = await reckon(guess);
    expect(found.hours).toMatchObject({ minutes: 1720, from: 'guessed', guess: { sdMinutes: 120 } });
    const at = async (minutes: number) => (await reckon({ minutes })).floor.totalMinor;
    expect(found.floorSpan).toEqual({ leastMinor: await at(1440), mostMinor: await at(2160) });
    expect(found.floor.totalMinor).toBe(await at(1720));
    const plain = await reckon({ minutes: 1720 });
    expect(found.lead?.likelyOn).not.toBe(plain.lead?.likelyOn);
    expect(found.leadHow).toContain('24 h to 36 h, as you guess');
    const wrong = async (asked: Asked) =>
      (await shop.fault('quotes.reckon', { modelId: shop.modelId, ...asked })).field;
    expect([
      await wrong({ ...guess, leastMinutes: 1690 }),
      await wrong({ ...guess, mostMinutes: 1500 }),
      await wrong({ ...guess, mostMinutes: null }),
      await wrong({ ...guess, leastMinutes: null }),
      await wrong({ ...guess, minutes: null }),
    ]).toEqual(['leastMinutes', 'mostMinutes', 'mostMinutes', 'leastMinutes', 'minutes']);
  });

  it('is one past knife without a spread, then the middle of the nearest and not the best', async () => {
    await changeModel({ bladeNm: 90 * MM, steel: 'strip', finish: 'belt' });
    await makeParing(shop, 'W01', 410);
    const one = await reckon();
    expect(one.hours).toMatchObject({ minutes: 410, from: 'booked' });
    expect(one.nearestHow).toContain('Too few to say');
    expect(one.nearest).toMatchObject([
      { serial: 'W01', bladeNm: 90 * MM, near: 'alike in all that is known' },
    ]);
    await makeParing(shop, 'W02', 395);
    await makeParing(shop, 'W03', 300);
    const three = await reckon();
    expect(three.hours.booked).toEqual({ low: 348, middle: 395, high: 403, knives: 3 });
    // A table of practice: the first took 10 % longer than usual, the fourth and all later ones take 10 % less.
    await shop.call('trials.savePractice', {
      modelId: shop.modelId,
      factorsPpm: [1_100_000, 1_000_000, 1_000_000, 900_000],
    });
    const practised = await reckon();
    expect(practised.hours).toMatchObject({ minutes: 335, from: 'practised' });
    expect(practised.hours.practice).toContain('number 4');
    expect(practised.nearest.map((knife) => knife.practisedMinutes).sort()).toEqual([270, 335, 356]);
    expect((await reckon({ hours: 'booked' })).hours).toMatchObject({ minutes: 395, from: 'booked' });
    expect((await reckon({ minutes: 500 })).hours).toMatchObject({ minutes: 500, from: 'yours' });
    const since = await reckon({ since: '2025-01-01' });
    expect(since.hours.from).toBe('usual');
  });

  it('is the last purchase with its freight, whatever the bar in the knives cost', async () => {
    await makeParing(shop, 'W01');
    await shop.call('stock.buy', {
      supplierId: shop.supplierId,
      on: '2024-11-02',
      freightMicro: 6 * ONE,
      freightRule: 'spread',
      lines: [
        { itemId: shop.items['steel'] ?? '', pieces: 1, qtyEach: 48 * 25_400_000, priceMicro: 30 * ONE },
      ],
    });
    const found = await reckon();
    expect(labels(found.direct)[0]).toBe('Steel: 6.00');
    expect(found.direct[0]?.how).toContain('with its freight');
    expect(found.directBefore).toMatchObject({ knives: 1 });
    expect((await reckon({ directMinor: 100 })).directMinor).toBe(100);
  });
});

describe('the four views', () => {
  beforeEach(async () => {
    await changeModel({ bladeNm: 90 * MM, finish: 'belt' });
    await shop.call('builds.setPrice', { modelId: shop.modelId, from: '2024-07-01', priceMinor: 15_000 });
  });

  it('read no blade of 210 inches, which are millimetres without their unit', async () => {
    // Two metres: longer than any knife and most swords; a slip of the unit, not a rule of the trade.
    const asked = { modelId: shop.modelId, bladeNm: 210 * 25.4 * MM };
    expect(await shop.fault('quotes.reckon', asked)).toMatchObject({
      field: 'bladeNm',
      message: expect.stringContaining('Write its unit with it') as string,
    });
    expect((await reckon({ bladeNm: 210 * MM })).bladeNm).toBe(210 * MM);
  });

  it('stand side by side, each adding up: floor, line by size, list and options, what the last ones fetched', async () => {
    for (const [serial, size, price, on] of [
      ['W01', 90, 15_000, '2024-08-13'],
      ['W02', 120, 19_000, '2024-08-23'],
      ['W03', 150, 23_000, '2024-09-02'],
    ] as const) {
      const id = await makeParing(shop, serial);
      await shop.call('builds.update', {
        id,
        serial,
        title: '',
        method: '',
        batch: '',
        note: '',
        bladeNm: size * MM,
      });
      await pack(shop, id);
      await sell(id, { priceMinor: price, on, postagePaidMinor: 1205 });
      expect((await shop.call('builds.get', { id })).bladeNm).toBe(size * MM);
    }
    const option = { optionId: null, name: 'Guard', priceMinor: 2500 };
    const found = await reckon({
      bladeNm: 105 * MM,
      options: [option],
      specialMinor: 1000,
      taxPlaceId: null,
    });
    // 400 / 3 of a cent a millimetre through all three: 150.00 at 90, so 170.00 at 105.
    // An inch is 25.4 of them: 33.87; and 150.00 less 90 × 1.3333 leaves 30.00 for no blade at all.
    expect(found.line).toMatchObject({ priceMinor: 17_000, totalMinor: 20_500 });
    expect(found.line.how).toContain('$30.00 and $33.87 for each inch of blade on top.');
    expect(labels(found.line.parts)).toEqual([
      'A blade of 105 mm (4.1 in): 170.00',
      'Guard: 25.00',
      'Special material: 10.00',
    ]);
    expect(found.base).toMatchObject({ priceMinor: 15_000, totalMinor: 18_500 });
    expect(found.fetched).toMatchObject({
      priceMinor: 19_000,
      totalMinor: 22_500,
      spread: { low: 17_000, middle: 19_000, high: 21_000, knives: 3 },
      days: { low: 15, middle: 20, high: 25, knives: 3 },
    });
    expect([found.shippingMinor, found.postageMinor]).toEqual([1200, 1205]);
    expect(sumOf(found.floor.parts)).toBe(found.floor.totalMinor);
    expect(found.floor.priceMinor).toBe((found.floor.totalMinor ?? 0) - 3500);
    const far = await reckon({ bladeNm: 300 * MM });
    expect(far.line.how).toContain('a guess');
    expect((await reckon({ postageMinor: 2000, shippingMinor: 0 })).postageHow).toBe('as you wrote');
  });

  it('follow the rates: more hours never lower the floor, a rate of nothing is said, a price tells its hour', async () => {
    const rates = { labourPerHourMicro: 60 * ONE, overheadPerHourMicro: 0 };
    const place = (
      await shop.call('workshop.saveTaxPlace', {
        name: 'Away',
        label: 'Tax',
        ratePpm: 0,
        onShipping: false,
        inclusive: false,
        rounding: 'invoice',
        note: '',
      })
    ).id;
    const fixed = {
      ...rates,
      taxPlaceId: place,
      channelId: siteOf(shop),
      directMinor: 1000,
      postageMinor: 0,
    };
    const floors: (number | null)[] = [];
    for (const minutes of [1, 60, 61, 600])
      floors.push((await reckon({ ...fixed, minutes })).floor.totalMinor);
    expect(floors).toEqual([...floors].sort((a, b) => (a ?? 0) - (b ?? 0)));
    // (10.00 + 60.00 + 0.30) / 0.971 = 72.40.
    expect(floors[1]).toBe(7240);
    const named = await reckon({ ...fixed, minutes: 60, priceMinor: 7240 });
    expect(named.named).toMatchObject({
      leftMinor: 6000,
      perHourMinor: 6000,
      feeMinor: 240,
      grossMinor: 7240,
    });
    const low = await reckon({ ...fixed, minutes: 60, priceMinor: 4000 });
    expect(low.warnings.join(' ')).toContain('an hour brings');
    const nothing = await reckon({ ...fixed, labourPerHourMicro: 0 });
    expect(nothing.warnings.join(' ')).toContain('Your own rate is nothing');
    const greedy = await shop.call('workshop.saveChannel', {
      name: 'Keeps all',
      feePpm: 1_000_000,
      feeFixedMinor: 0,
      abroadExtraPpm: 0,
    });
    const all = await reckon({ ...fixed, channelId: greedy.id });
    expect([all.floor.totalMinor, all.floor.how.includes('Choose another way')]).toEqual([null, true]);
    expect((await shop.fault('quotes.reckon', { modelId: 'gone' })).field).toBe('modelId');
  });

  it('add tax where prices hold it, and stay whole in money without decimals', async () => {
    const inside = (
      await shop.call('workshop.saveTaxPlace', {
        name: 'Inside',
        label: 'VAT',
        ratePpm: 200_000,
        onShipping: true,
        inclusive: true,
        rounding: 'invoice',
        note: '',
      })
    ).id;
    const found = await reckon({ taxPlaceId: inside, shippingMinor: 1200, postageMinor: 1000 });
    expect(sumOf(found.floor.parts)).toBe(found.floor.totalMinor);
    expect(labels(found.floor.parts).join()).toContain('VAT in the price');
    const yen = await openShop({ currency: 'JPY' });
    const asked = { modelId: yen.modelId, directMinor: 1000, minutes: 60, overheadPerHourMicro: 0 };
    const plain = await yen.call('quotes.reckon', { ...asked, labourPerHourMicro: 2000 * ONE });
    expect(plain.floor.parts.map((part) => part.minor).every(Number.isInteger)).toBe(true);
    expect(plain.floor.parts.slice(0, 2).map((part) => part.minor)).toEqual([1000, 2000]);
    await yen.close();
  });
});

describe('a quote that is kept', () => {
  it('keeps its figures, is refused for impossible days, and becomes an offer with price and day', async () => {
    await shop.call('promises.setWeek', { weekMinutes: 300 });
    const { lead } = await reckon();
    if (lead === null) throw new Error('no day was named');
    expect([
      lead.earliestOn <= lead.halfOn,
      lead.halfOn <= lead.likelyOn,
      lead.likelyOn <= lead.sayOn,
    ]).toEqual([true, true, true]);
    const before = wholeBooks(shop.db);
    for (const [more, field] of [
      [{ validUntil: '2024-12-30' }, 'validUntil'],
      [{ priceMinor: null }, 'priceMinor'],
      [{ priceMinor: 0 }, 'priceMinor'],
      [{ promisedOn: '2024-12-30' }, 'promisedOn'],
      [{ promisedOn: '2024-12-31' }, 'promisedOn'],
      [{ on: '2025-01-02' }, 'on'],
      [{ options: [{ name: 'Off', priceMinor: -30_000 }] }, 'priceMinor'],
    ] as const)
      expect((await shop.fault('quotes.keep', quote(more as object))).field, JSON.stringify(more)).toBe(
        field,
      );
    expect(wholeBooks(shop.db)).toEqual(before);

    const kept = await shop.call('quotes.keep', {
      ...quote({
        promisedOn: lead.sayOn,
        specialMinor: 500,
        options: [{ name: 'Guard', priceMinor: 2500 }],
        wish: 'For small hands',
        bladeNm: 80 * MM,
        steel: 'W2',
        shippingMinor: 1200,
      }),
    });
    expect(kept).toMatchObject({ tag: 'Q-0001', state: 'open', totalMinor: 23_000, orderId: null });
    expect(kept.working).toEqual(await reckon(kept.asked));
    await shop.call('builds.setPrice', { modelId: shop.modelId, from: '2024-07-01', priceMinor: 99_900 });
    expect((await shop.call('quotes.get', { id: kept.id })).working.base.totalMinor).toBe(null);

    const { orderId, orderTag } = await shop.call('quotes.offer', { id: kept.id, on: '2024-12-31' });
    const order = await shop.call('orders.get', { id: orderId });
    expect(order).toMatchObject({
      tag: orderTag,
      state: 'offered',
      priceMinor: 20_000,
      specialMinor: 500,
      shippingMinor: 1200,
      totalMinor: 23_000,
      promisedOn: lead.sayOn,
      answerBy: '2025-01-31',
      wish: 'For small hands\nblade 80 mm (3.1 in), W2',
      modelId: shop.modelId,
    });
    expect(order.options).toEqual([{ optionId: null, name: 'Guard', priceMinor: 2500 }]);
    expect(await shop.call('quotes.get', { id: kept.id })).toMatchObject({ state: 'offered', orderTag });
    expect((await shop.fault('quotes.offer', { id: kept.id, on: '2024-12-31' })).message).toContain(orderTag);
  });

  it('puts options on top of what the knife alone went for, and names days from the hours it says', async () => {
    await shop.call('promises.setWeek', { weekMinutes: 70 });
    const options = [{ optionId: null, name: 'Guard', priceMinor: 2500 }];
    const { id } = await shop.call('orders.ask', {
      buyerId: shop.buyerId,
      modelId: shop.modelId,
      on: '2024-08-01',
    });
    const named = { modelId: shop.modelId, priceMinor: 20_000, channelId: siteOf(shop), taxPlaceId: null };
    await shop.call('orders.offer', { id, on: '2024-08-01', ...named, options, specialMinor: 500 });
    await shop.call('orders.agree', { id, on: '2024-08-01', policyId: null });
    await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2024-08-02' });
    await shop.call('orders.deliver', { id, on: '2024-08-20' });
    // It went for 230.00: 200.00, the guard and 5.00 of special material.
    const { fetched } = await reckon({ options });
    expect([fetched.priceMinor, fetched.totalMinor]).toEqual([20_000, 22_500]);
    // 700 minutes at 70 a week: at four fifths of the usual, the best that is supposed, they still are eight weeks.
    const { lead } = await reckon({ minutes: 700 });
    expect((lead?.earliestOn ?? '') > '2025-02-24').toBe(true);
    expect(((await reckon()).lead?.earliestOn ?? '~') < '2025-01-15').toBe(true);
  });

  it('answers a wish that waits, lapses by itself, and can be laid aside with its reason', async () => {
    const wish = await shop.call('orders.ask', {
      buyerId: shop.buyerId,
      modelId: shop.modelId,
      on: '2024-12-30',
    });
    const other = await shop.call('selling.saveBuyer', { name: 'Somebody else' });
    expect((await shop.fault('quotes.keep', quote({ buyerId: other.id, orderId: wish.id }))).field).toBe(
      'buyerId',
    );
    const first = await shop.call('quotes.keep', quote({ orderId: wish.id }));
    const second = await shop.call('quotes.keep', quote());
    expect([first.tag, second.tag]).toEqual(['Q-0001', 'Q-0002']);
    const shown = async (show: 'open' | 'lapsed' | 'offered' | 'closed') =>
      (await shop.call('quotes.list', { show })).rows.map((row) => row.tag);
    expect(await shown('open')).toEqual(['Q-0002', 'Q-0001']);
    expect((await shop.call('quotes.offer', { id: first.id, on: '2024-12-31' })).orderId).toBe(wish.id);
    shop.clock.set('2025-02-01');
    expect([await shown('lapsed'), await shown('offered')]).toEqual([['Q-0002'], ['Q-0001']]);
    expect((await shop.fault('quotes.offer', { id: second.id, on: '2025-02-01' })).message).toContain(
      'held until',
    );
    await shop.call('quotes.close', { id: second.id, on: '2025-02-01', reason: 'too dear' });
    expect(await shown('closed')).toEqual(['Q-0002']);
    expect((await shop.call('quotes.list', { text: 'q-0002' })).rows).toHaveLength(1);
    for (const text of ['q2', 'Q-0002', 'ottoline'])
      expect(await shop.call('find.anything', { text })).toContainEqual({
        kind: 'quote',
        id: second.id,
        title: 'Q-0002',
        detail: 'Ottoline Fernshaw · Tessel paring',
      });
    expect((await shop.call('quotes.list', { orderId: wish.id })).rows.map((row) => row.tag)).toEqual([
      'Q-0001',
    ]);
    const history = (await shop.call('workshop.history', {})).rows.map((row) => row.summary.split(':')[0]);
    expect(history.slice(0, 2)).toEqual(['Laid a quote aside', 'Made an offer of a quote']);
  });

  it('is printed without any of its working, in the buyer’s language', async () => {
    await changeModel({ bladeNm: 90 * MM, steel: 'stainless strip', finish: 'belt' });
    const german = await shop.call('selling.saveBuyer', { name: 'Anna Muster', language: 'de' });
    const kept = await shop.call(
      'quotes.keep',
      quote({ buyerId: german.id, promisedOn: '2025-06-06', options: [{ name: 'Guard', priceMinor: 2500 }] }),
    );
    const file = await shop.call('quotes.pdf', { id: kept.id });
    expect(file.name).toBe('Quote Q-0001.pdf');
    const paper = shop.press.invoices.at(-1);
    expect(paper).toMatchObject({ title: 'Preisangebot', number: 'Q-0001', draftMark: null, payment: null });
    expect(paper?.facts.map((fact) => fact.text)).toEqual(['31.12.2024', '31.01.2025', '06.06.2025']);
    expect(JSON.stringify(paper)).toContain('Stahl stainless strip');
    expect(JSON.stringify(paper)).not.toContain('35.00');
    expect(paper?.notes.join(' ')).toContain('Der Preis gilt bis 31.01.2025');
  });
});
