/** Oil, gas and current through the real core: what goes in is what knives, makings and overhead pay, and what is left. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input, Output } from '../../electron/api/contract.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { stockAt } from '../../electron/workshop/stock/at.ts';
import { idOf, ONE, openShop, type Shop } from './shop.ts';

let shop: Shop;
let oil: string;
let gas: string;
let knives: readonly string[];

const GALLON = toBase(1, 'gal');
const POUND = toBase(1, 'lb');

/** Oil at 29.60 a gallon and gas at 24.00 a 20-lb fill, as the demo workshop buys them. */
beforeEach(async () => {
  shop = await openShop();
  const make = async (input: Input<'stock.saveItem'>): Promise<string> =>
    (await shop.call('stock.saveItem', input)).id;
  oil = await make({ name: 'Quench oil', kind: 'oil', form: 'volume', unit: 'gal' });
  gas = await make({ name: 'Propane', kind: 'fuel', form: 'weight', unit: 'lb' });
  await shop.call('stock.buy', {
    supplierId: shop.supplierId,
    on: '2024-07-10',
    lines: [
      { itemId: oil, pieces: 1, qtyEach: 6 * GALLON, priceMicro: 177.6 * ONE },
      { itemId: gas, pieces: 1, qtyEach: 20 * POUND, priceMicro: 24 * ONE },
      { itemId: gas, pieces: 1, qtyEach: 20 * POUND, priceMicro: 30 * ONE },
    ],
  });
  knives = ['W01', 'W02', 'W03'].map((serial) => idOf(shop.knives, serial));
});
afterEach(() => shop.close());

const newBath = (more: Partial<Input<'baths.save'>> = {}): Promise<Output<'baths.save'>> =>
  shop.call('baths.save', { name: 'Five-gallon tank', itemId: oil, lifeQuenches: 300, ...more });

async function filledBath(): Promise<string> {
  const { id } = await newBath();
  await shop.call('baths.pour', { bathId: id, kind: 'fill', qty: 5 * GALLON, on: '2024-07-11' });
  return id;
}

const costOf = async (buildId: string): Promise<number> =>
  (await shop.call('builds.get', { id: buildId })).costMicro;
const leftOf = async (itemId: string): Promise<{ qty: number; value: number }> => {
  const { qtyLeft, valueLeftMicro } = await shop.call('stock.item', { id: itemId });
  return { qty: qtyLeft, value: valueLeftMicro };
};

describe('a bath', () => {
  it('takes oil off the rack with its value, and quenched blades pay for it', async () => {
    const bathId = await filledBath();
    expect(await leftOf(oil)).toEqual({ qty: GALLON, value: 29.6 * ONE });
    const bath = await shop.call('baths.quench', { bathId, on: '2024-07-12', buildIds: [...knives] });
    // 148.00 over 300 quenches: 1.48 for three, of which the first carries the odd millionth.
    expect(bath.quenches).toBe(3);
    expect(bath.valueMicro).toBe(146.52 * ONE);
    expect(bath.perQuenchMicro).toBe(493_333);
    for (const id of knives) expect(await costOf(id)).toBe(490_000);
    const sheet = await shop.call('costs.sheet', { buildId: knives[0] ?? '' });
    const [line] = sheet.consumables.working;
    expect(line).toMatchObject({ label: 'Quench oil', exactMicro: 493_334, rung: 3 });
    expect(line?.how).toBe('oil worth 148.00 over 300 quenches left; 3 by 3 knives');
    expect(bath.events[0]?.builds.map((one) => one.serial)).toEqual(['W01', 'W02', 'W03']);
  });

  it('gives everything back when a quench or a fill is taken back, and refuses what others rest on', async () => {
    const bathId = await filledBath();
    const [quenched] = (await shop.call('baths.quench', { bathId, on: '2024-07-12', buildIds: [...knives] }))
      .events;
    const fill = (await shop.call('baths.list', {}))[0]?.events.at(-1);
    const refusal = await shop.fault('baths.reverse', { eventId: fill?.id, reason: 'slip' });
    expect(refusal.message).toContain('Take those entries back first');
    const after = await shop.call('baths.reverse', { eventId: quenched?.id ?? '', reason: 'wrong tank' });
    expect([after.quenches, after.valueMicro]).toEqual([0, 148 * ONE]);
    for (const id of knives) expect(await costOf(id)).toBe(0);
    const again = await shop.fault('baths.reverse', { eventId: quenched?.id, reason: 'slip' });
    expect(again.message).toContain('taken back already');
    const empty = await shop.call('baths.reverse', { eventId: fill?.id ?? '', reason: 'slip' });
    expect([empty.volumeNl, empty.valueMicro, empty.filledOn]).toEqual([0, 0, null]);
    expect(await leftOf(oil)).toEqual({ qty: 6 * GALLON, value: 177.6 * ONE });
  });

  it('counts on each day what was in the tank then, however late it is written down', async () => {
    const { id: bathId } = await newBath({ lifeQuenches: 4 });
    const pour = (kind: 'fill' | 'topUp', gallons: number, on: string) =>
      shop.call('baths.pour', { bathId, kind, qty: gallons * GALLON, on });
    const quench = (on: string, count: number) =>
      shop.call('baths.quench', { bathId, on, buildIds: knives.slice(0, count) });
    await pour('fill', 4, '2024-07-11');
    await pour('topUp', 1, '2024-07-14');
    // 118.40 were in the tank on the 12th, not the 148.00 of the 14th: three of four dips are 88.80, and 59.20 is left.
    const { valueMicro } = await quench('2024-07-12', 3);
    expect(valueMicro).toBe(59.2 * ONE);
    // The fourth takes all; with another gallon the tank is worth 29.60, but on the 15th the first top-up was in it.
    expect((await quench('2024-07-15', 1)).valueMicro).toBe(0);
    const { events } = await pour('topUp', 1, '2024-07-18');
    const topUp = events.find((event) => event.kind === 'topUp' && event.on === '2024-07-14');
    const fault = await shop.fault('baths.reverse', { eventId: topUp?.id, reason: 'slip' });
    expect(fault.message).toContain('quenched or oil was added since');
  });

  it('does not let one knife out of a quench, nor the oil out of the tank, by another way', async () => {
    const bathId = await filledBath();
    await shop.call('baths.quench', { bathId, on: '2024-07-12', buildIds: [...knives] });
    const build = await shop.call('builds.get', { id: knives[0] ?? '' });
    const one = await shop.fault('builds.reverseCharge', { chargeId: build.charges[0]?.id, reason: 'slip' });
    expect(one.message).toContain('share of a quench');
    const { lots } = await shop.call('stock.item', { id: oil });
    const lot = await shop.call('stock.lot', { id: lots[0]?.id ?? '' });
    const poured = lot.movements.find((movement) => movement.kind === 'intoBath');
    const other = await shop.fault('stock.reverse', { movementId: poured?.id, reason: 'slip' });
    expect(other.message).toContain('bath');
  });

  it('speaks of water at once, starts anew when changed, and books what was left as gone', async () => {
    const bathId = await filledBath();
    await shop.call('baths.note', { bathId, kind: 'filter', on: '2024-08-01' });
    const wet = await shop.call('baths.note', {
      bathId,
      kind: 'water',
      on: '2024-08-02',
      reason: 'lid left off',
    });
    expect(wet.due).toContain('change the oil at once');
    const early = await shop.fault('baths.change', { bathId, on: '2024-08-01', reason: 'water' });
    expect(early.message).toContain('was used on 2024-08-02');
    const dry = await shop.call('baths.change', { bathId, on: '2024-08-03', reason: 'water' });
    expect(dry).toMatchObject({ volumeNl: 0, valueMicro: 0, quenches: 0, filledOn: null, due: null });
    expect(dry.events[0]?.valueMicro).toBe(-148 * ONE);
    const empty = await shop.fault('baths.quench', { bathId, on: '2024-08-04', buildIds: [...knives] });
    expect(empty.message).toContain('no oil in');
  });

  it('is due by the quenches and by the days the maker set', async () => {
    const { id: bathId } = await newBath({ lifeQuenches: 4, lifeDays: 90 });
    await shop.call('baths.pour', { bathId, kind: 'fill', qty: 2 * GALLON, on: '2024-10-01' });
    shop.clock.set('2024-10-10');
    const used = await shop.call('baths.quench', {
      bathId,
      on: '2024-10-10',
      buildIds: [...knives],
      times: 2,
    });
    expect(used.quenches).toBe(6);
    expect(used.valueMicro).toBe(0);
    expect(used.due).toContain('Change due: 6 quenches, the limit set is 4');
    // Past its life the next blade pays for all that was poured in since: never for less than one quench left.
    shop.clock.set('2024-10-12');
    await shop.call('baths.pour', { bathId, kind: 'topUp', qty: GALLON, on: '2024-10-11' });
    const late = await shop.call('baths.quench', { bathId, on: '2024-10-12', buildIds: [knives[0] ?? ''] });
    expect(late.valueMicro).toBe(0);
    shop.clock.set('2025-01-15');
    const { id: other } = await newBath({ name: 'Small tank', lifeQuenches: null, lifeDays: 90 });
    await shop.call('baths.pour', { bathId: other, kind: 'fill', qty: GALLON, on: '2024-10-01' });
    const list = await shop.call('baths.list', {});
    expect(list.find((bath) => bath.id === other)?.due).toContain('106 days old');
  });

  it('says in a sentence what does not fit', async () => {
    const bathId = await filledBath();
    const say = async (name: Parameters<Shop['fault']>[0], input: unknown): Promise<string> =>
      (await shop.fault(name, input)).message;
    const pour = { bathId, on: '2024-07-20' };
    expect(await say('baths.pour', { ...pour, kind: 'fill', qty: GALLON })).toContain('Top it up');
    expect(await say('baths.pour', { ...pour, kind: 'topUp', qty: 9 * GALLON })).toContain('Only 1 gal left');
    expect(await say('baths.pour', { ...pour, kind: 'topUp', qty: 1, on: '2024-07-10' })).toContain(
      'was filled on',
    );
    expect(await say('baths.quench', { bathId, on: '2024-07-20', buildIds: [] })).toContain(
      'Choose the knives',
    );
    expect(
      await say('baths.quench', { bathId, on: '2024-07-20', buildIds: [knives[0], knives[0]] }),
    ).toContain('twice');
    expect(await say('baths.save', { name: 'Five-gallon tank', itemId: oil })).toContain('of this name');
    expect(await say('baths.save', { name: 'Gas tank', itemId: gas })).toContain('not kept by volume');
    expect(await say('baths.save', { id: bathId, name: 'Tank', itemId: oil, archived: true })).toContain(
      'oil in the tank',
    );
  });
});

const fire = (how: Partial<Input<'fires.gas'>>): Input<'fires.gas'> => ({
  on: '2024-07-20',
  itemId: gas,
  how: 'hours',
  shares: knives.map((buildId) => ({ buildId })),
  ...how,
});

describe('gas', () => {
  it('by fire time is the demo billet’s 4.2 h × 3.2 lb × 1.20 = 16.128, shared over the batch', async () => {
    const burn = await shop.call('fires.gas', fire({ fireMinutes: 252, burnRateNg: (16 * POUND) / 5 }));
    expect(burn.how).toBe('4 h 12 min × 3.2 lb/h');
    expect(burn.amountMicro).toBe(16_128_000);
    expect(burn.builds.map((one) => one.amountMicro)).toEqual([5_376_000, 5_376_000, 5_376_000]);
    for (const id of knives) expect(await costOf(id)).toBe(5_380_000);
    expect((await leftOf(gas)).qty).toBe(40 * POUND - (1344 * POUND) / 100);
  });

  it('by weight crosses from one cylinder into the next and still asks equal money of equal knives', async () => {
    const shares = [
      { buildId: knives[0] ?? '', weight: 1 },
      { buildId: knives[1] ?? '', weight: 1 },
    ];
    const burn = await shop.call(
      'fires.gas',
      fire({ how: 'weight', beforeNg: 51 * POUND, afterNg: 27 * POUND, shares }),
    );
    // 20 lb at 1.20 and 4 lb at 1.50.
    expect(burn.amountMicro).toBe(30 * ONE);
    expect(burn.builds.map((one) => one.amountMicro)).toEqual([15 * ONE, 15 * ONE]);
    expect(burn.how).toBe('51 lb less 27 lb');
  });

  it('follows weights to the last millionth, and returns as it went', async () => {
    const shares = knives.map((buildId, at) => ({ buildId, weight: at + 1 }));
    const burn = await shop.call('fires.gas', fire({ fireMinutes: 61, burnRateNg: POUND, shares }));
    expect(sumOf(burn.builds, (one) => one.amountMicro)).toBe(burn.amountMicro);
    expect(burn.builds[2]?.amountMicro).toBeGreaterThan((burn.builds[0]?.amountMicro ?? 0) * 2.99);
    const back = await shop.call('fires.takeBack', { burnId: burn.id, reason: 'wrong day' });
    expect(back.takenBack).toBe(true);
    expect(await leftOf(gas)).toEqual({ qty: 40 * POUND, value: 54 * ONE });
    for (const id of knives) expect(await costOf(id)).toBe(0);
    expect((await shop.fault('fires.takeBack', { burnId: burn.id, reason: 'x' })).message).toContain(
      'already',
    );
  });

  it('for a making goes into the making', async () => {
    const making = await shop.call('makings.start', { title: 'PW-01', kind: 'billet', on: '2024-07-13' });
    const burn = await shop.call(
      'fires.gas',
      fire({ fireMinutes: 60, burnRateNg: POUND, shares: [], makingId: making.id }),
    );
    expect(burn.makingTag).toBe(making.tag);
    const { costMicro, startedOn } = await shop.call('makings.get', { id: making.id });
    expect([costMicro, startedOn]).toEqual([1.2 * ONE, '2024-07-13']);
    // A fire of a day before it was said to begin begins it: the gas has left the rack and must lie somewhere.
    const early = {
      ...fire({ fireMinutes: 60, burnRateNg: POUND, shares: [] }),
      makingId: making.id,
      on: '2024-07-11',
    };
    const { id: burnId } = await shop.call('fires.gas', early);
    expect((await shop.call('makings.get', { id: making.id })).startedOn).toBe('2024-07-11');
    expect(stockAt(shop.db, '2024-07-11').makings.map((one) => one.valueMicro)).toEqual([1.2 * ONE]);
    await shop.call('fires.takeBack', { burnId, reason: 'slip' });
    await shop.call('fires.takeBack', { burnId: burn.id, reason: 'slip' });
    expect((await shop.call('makings.get', { id: making.id })).costMicro).toBe(0);
  });

  it('says in a sentence what does not fit', async () => {
    const say = async (input: unknown): Promise<string> => (await shop.fault('fires.gas', input)).message;
    expect(await say(fire({ how: 'weight', beforeNg: POUND, afterNg: 2 * POUND }))).toContain(
      'must weigh less',
    );
    expect(await say(fire({ how: 'weight', afterNg: POUND }))).toContain('before the firing');
    expect(await say(fire({ burnRateNg: POUND }))).toContain('how long the fire burnt');
    expect(await say(fire({ fireMinutes: 60 }))).toContain('burns in an hour');
    expect(await say(fire({ fireMinutes: 60, burnRateNg: 99 * POUND }))).toContain('Only 40 lb left');
    expect(await say(fire({ fireMinutes: 60, burnRateNg: POUND, shares: [] }))).toContain(
      'Choose the knives or the making',
    );
    expect(await say(fire({ fireMinutes: 60, burnRateNg: POUND, itemId: oil }))).toContain(
      'not kept by weight',
    );
    expect(await leftOf(gas)).toEqual({ qty: 40 * POUND, value: 54 * ONE });
  });
});

describe('current', () => {
  /** E10g: 2.4 kW at 60 % for 6.5 h at 0.1725 = 9.36 kWh = 1.6146. */
  const firing = { on: '2024-08-17', minutes: 390 } as const;
  let oven: string;
  beforeEach(async () => {
    ({ id: oven } = await shop.call('fires.save', {
      name: 'Kiln',
      kind: 'oven',
      watts: 2400,
      dutyPpm: 600_000,
    }));
    await shop.call('fires.setTariff', { from: '2024-07-01', perKwhMicro: 172_500 });
    await shop.call('fires.setTariff', { from: '2025-01-01', perKwhMicro: 190_000, note: 'New year' });
  });

  it('of an oven is its watts by its duty at the price of the day', async () => {
    const shares = knives.map((buildId) => ({ buildId }));
    const burn = await shop.call('fires.current', { ...firing, fireId: oven, shares });
    expect([burn.how, burn.amountMicro]).toEqual(['9.36 kWh × 0.1725', 1_614_600]);
    expect(burn.builds.map((one) => one.amountMicro)).toEqual([538_200, 538_200, 538_200]);
    const sheet = await shop.call('costs.sheet', { buildId: knives[0] ?? '' });
    expect(sheet.energy.working[0]).toMatchObject({
      label: 'Current, Kiln',
      how: '9.36 kWh × 0.1725, shared over 3 knives',
      rung: 3,
    });
    const next = { on: '2025-02-01', wattHours: 1000, shares };
    expect(await shop.fault('fires.current', next)).toMatchObject({ field: 'on' });
    shop.clock.set('2025-02-01');
    const later = await shop.call('fires.current', next);
    expect(later.amountMicro).toBe(190_000);
    const { rows } = await shop.call('fires.burns', { buildId: knives[0] ?? '' });
    expect(rows.map((row) => row.on)).toEqual(['2025-02-01', '2024-08-17']);
  });

  it('can be taken back, and for a making is a charge on it', async () => {
    const making = await shop.call('makings.start', { title: 'PW-01', kind: 'billet', on: '2024-07-13' });
    const burn = await shop.call('fires.current', { ...firing, fireId: oven, makingId: making.id });
    // The sheet of a making rounds each line once, too.
    expect((await shop.call('makings.get', { id: making.id })).costMicro).toBe(1_610_000);
    await shop.call('fires.takeBack', { burnId: burn.id, reason: 'other oven' });
    expect((await shop.call('makings.get', { id: making.id })).costMicro).toBe(0);
    const own = await shop.call('fires.current', {
      ...firing,
      fireId: oven,
      shares: [{ buildId: knives[0] ?? '' }],
    });
    await shop.call('fires.takeBack', { burnId: own.id, reason: 'other oven' });
    expect(await costOf(knives[0] ?? '')).toBe(0);
  });

  it('says in a sentence what does not fit', async () => {
    const shares = [{ buildId: knives[0] }];
    const say = async (input: object): Promise<string> =>
      (await shop.fault('fires.current', { ...firing, shares, ...input })).message;
    expect(await say({ fireId: oven, on: '2024-06-30' })).toContain(
      'No price of current is set for 2024-06-30',
    );
    expect(await say({})).toContain('Choose the oven');
    expect(await say({ fireId: oven, minutes: undefined })).toContain('how long the oven was on');
    const { id } = await shop.call('fires.save', {
      name: 'Forge',
      kind: 'forge',
      burnRateNg: 3 * POUND,
      gasItemId: gas,
    });
    expect(await say({ fireId: id })).toContain('no watts');
    expect((await shop.fault('fires.save', { name: 'Kiln', kind: 'oven' })).message).toContain(
      'of this name',
    );
  });
});

const step = fc.record({
  do: fc.constantFrom('fill', 'topUp', 'quench', 'quench', 'change', 'gas', 'current', 'back', 'backBurn'),
  at: fc.nat({ max: 9999 }),
});

/** Money that is somewhere: in lots, in the tank, on knives, or gone with oil that was changed. */
async function books(bathId: string): Promise<{ came: number; there: number; current: number }> {
  const { q } = shop.db;
  const all = shop.db.all(q.selectFrom('movements').select(['kind', 'value_micro', 'reverses_id']));
  const came = sumOf(
    all.filter((row) => row.kind === 'receipt'),
    (row) => row.value_micro,
  );
  const onRack = sumOf(
    shop.db.all(q.selectFrom('lots').select('value_left_micro')),
    (row) => row.value_left_micro,
  );
  const drawn = shop.db.all(
    q.selectFrom('movements').select('value_micro').where('build_id', 'is not', null),
  );
  const charges = shop.db.all(q.selectFrom('charges').select(['amount_micro', 'label']));
  const oilPaid = sumOf(
    charges.filter((row) => row.label === 'Quench oil'),
    (row) => row.amount_micro,
  );
  const events = shop.db.all(
    q.selectFrom('bath_events').select(['id', 'kind', 'value_micro', 'reverses_id']),
  );
  const taken = new Set(events.map((row) => row.reverses_id));
  const gone = sumOf(
    events.filter((row) => row.kind === 'change' && !taken.has(row.id)),
    (row) => -row.value_micro,
  );
  const bath = (await shop.call('baths.list', {})).find((one) => one.id === bathId);
  return {
    came,
    there: onRack - sumOf(drawn, (row) => row.value_micro) + oilPaid + gone + (bath?.valueMicro ?? 0),
    current: sumOf(
      charges.filter((row) => row.label.startsWith('Current')),
      (row) => row.amount_micro,
    ),
  };
}

describe('through any row of pouring, quenching, changing, firing and taking back', () => {
  it('not a millionth is made or lost, and every knife’s cost is what its sheet says', async () => {
    const { id: bathId } = await newBath({ lifeQuenches: 7 });
    await shop.call('fires.setTariff', { from: '2024-01-01', perKwhMicro: 172_500 });
    const doOne = async ({ do: what, at }: { do: string; at: number }): Promise<void> => {
      const on = '2024-11-01';
      const buildIds = knives.slice(0, 1 + (at % 3));
      const shares = buildIds.map((buildId, i) => ({ buildId, weight: 1 + ((at + i) % 4) }));
      if (what === 'fill' || what === 'topUp')
        await shop.core.call('baths.pour', { bathId, kind: what, qty: 1 + at * 50_000, on });
      else if (what === 'quench')
        await shop.core.call('baths.quench', { bathId, on, buildIds, times: 1 + (at % 2) });
      else if (what === 'change') await shop.core.call('baths.change', { bathId, on, reason: 'old' });
      else if (what === 'gas')
        await shop.core.call('fires.gas', {
          on,
          itemId: gas,
          how: 'hours',
          shares,
          fireMinutes: 1 + (at % 90),
          burnRateNg: POUND,
        });
      else if (what === 'current') await shop.core.call('fires.current', { on, wattHours: 1 + at, shares });
      else if (what === 'back') {
        const events = (await shop.call('baths.list', {}))[0]?.events ?? [];
        await shop.core.call('baths.reverse', {
          eventId: events[at % Math.max(1, events.length)]?.id ?? 'none',
          reason: 'slip',
        });
      } else {
        const { rows } = await shop.call('fires.burns', {});
        await shop.core.call('fires.takeBack', {
          burnId: rows[at % Math.max(1, rows.length)]?.id ?? 'none',
          reason: 'slip',
        });
      }
    };
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 3, maxLength: 10 }), async (steps) => {
        for (const one of steps) await doOne(one);
        const { came, there } = await books(bathId);
        expect(there).toBe(came);
        const [bath] = await shop.call('baths.list', {});
        expect(bath?.valueMicro).toBeGreaterThanOrEqual(0);
        expect(bath?.volumeNl).toBeGreaterThanOrEqual(0);
        expect(bath?.quenches).toBeGreaterThanOrEqual(0);
        if (bath?.volumeNl === 0) expect(bath.valueMicro).toBe(0);
        for (const id of knives) {
          const sheet = await shop.call('costs.sheet', { buildId: id });
          expect(await costOf(id)).toBe(sheet.directMinor * 10_000);
        }
      }),
      { numRuns: 25 },
    );
    expect((await books(bathId)).current).toBeGreaterThanOrEqual(0);
    expect(shop.log).toEqual([]);
  }, 60_000);
});
