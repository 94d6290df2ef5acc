/** Recipes and records of heat treatment through the real core. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { roundedSpreadOf } from '../../electron/domain/spread.ts';
import { idOf, ONE, openShop, type Shop } from './shop.ts';

let shop: Shop;
let knives: readonly string[];
beforeEach(async () => {
  shop = await openShop();
  knives = ['W01', 'W02', 'W03'].map((serial) => idOf(shop.knives, serial));
});
afterEach(() => shop.close());

type Steps = Input<'heats.save'>['steps'];

/** 1,500 °F, oil at 125 °F, twice two hours at 400 °F; thousandths of a degree Celsius. */
const steps: Steps = [
  { kind: 'soak', tempMilliC: 815_556, minutes: 10 },
  { kind: 'quench', tempMilliC: 51_667, minutes: 0 },
  { kind: 'temper', tempMilliC: 204_444, minutes: 120 },
  { kind: 'temper', tempMilliC: 204_444, minutes: 120 },
];

const newRecipe = (more: Partial<Input<'heats.saveRecipe'>> = {}): Promise<{ id: string }> =>
  shop.call('heats.saveRecipe', {
    name: 'Thin kitchen',
    steelItemId: idOf(shop.items, 'steel'),
    steps,
    ...more,
  });
const newHeat = (more: Partial<Input<'heats.save'>> = {}) =>
  shop.call('heats.save', { on: '2024-07-20', buildIds: [...knives], steps, ...more });

const hardness = (buildId: string, ...points: readonly number[]) =>
  shop.call('gates.check', {
    measure: 'hardness',
    on: '2024-07-21',
    knives: [
      { buildId, verdict: 'pass', readings: points.map((hrc) => ({ value: Math.round(hrc * 1000) })) },
    ],
  });

describe('a recipe', () => {
  it('belongs to a steel, or to one bar of it, and tells the bar’s heat number', async () => {
    const steelItemId = idOf(shop.items, 'steel');
    const [bar] = (await shop.call('stock.item', { id: steelItemId })).lots;
    await shop.call('stock.moveLot', { lotId: bar?.id ?? '', place: '', heatNumber: 'GF-771', note: '' });
    await newRecipe({ steelItemId: null, lotId: bar?.id ?? '' });
    const [recipe] = await shop.call('heats.recipes', {});
    expect(recipe).toMatchObject({
      steelItemId,
      lotTag: bar?.tag,
      heatNumber: 'GF-771',
      used: 0,
      hardness: null,
    });
    expect(recipe?.steps.map((step) => step.kind)).toEqual(['soak', 'quench', 'temper', 'temper']);
  });

  it('keeps the hardness it gave: how many, mean and spread', async () => {
    const { id: recipeId } = await newRecipe();
    await newHeat({ recipeId });
    const points = [61.2, 60.4, 61];
    for (const [at, id] of knives.entries())
      await hardness(id, (points[at] ?? 0) - 0.2, (points[at] ?? 0) + 0.2);
    const [recipe] = await shop.call('heats.recipes', {});
    // Mean 60.866…, sample standard deviation 0.4163… (worked by hand from the three points).
    expect(recipe?.used).toBe(1);
    expect(recipe?.hardness).toEqual({ n: 3, meanMilliHrc: 60_867, sdMilliHrc: 416 });
  });

  it('leaves a voided check out, and knows no spread of one', async () => {
    const { id: recipeId } = await newRecipe();
    await newHeat({ recipeId });
    await hardness(knives[0] ?? '', 61);
    const [wrong] = await hardness(knives[1] ?? '', 31);
    await shop.call('gates.void', { checkId: wrong?.id ?? '', reason: 'turned round' });
    const [recipe] = await shop.call('heats.recipes', {});
    expect(recipe?.hardness).toEqual({ n: 1, meanMilliHrc: 61_000, sdMilliHrc: null });
  });

  it('says in a sentence what does not fit', async () => {
    await newRecipe();
    const say = async (more: object): Promise<string> =>
      (await shop.fault('heats.saveRecipe', { name: 'Other', steps, ...more })).message;
    expect(await say({ name: 'Thin kitchen' })).toContain('of this name');
    expect(await say({ steps: [] })).toContain('at least one step');
    expect(await say({ steps: [{ kind: 'temper', tempMilliC: 800_000, minutes: 60 }] })).toContain(
      '°C or °F',
    );
    expect(await say({ steps: [{ kind: 'soak', tempMilliC: 2_000_000, minutes: 60 }] })).toContain(
      'check the unit',
    );
    const [walnut] = (await shop.call('stock.item', { id: idOf(shop.items, 'walnut') })).lots;
    expect(await say({ steelItemId: idOf(shop.items, 'steel'), lotId: walnut?.id })).toContain('own steel');
  });
});

describe('a record', () => {
  it('is numbered, starts planned knives, and reckons the tempering parameter in hours', async () => {
    const heat = await newHeat();
    expect(heat.tag).toBe('H-0001');
    expect(heat.builds.map((one) => one.serial)).toEqual(['W01', 'W02', 'W03']);
    expect((await shop.call('builds.get', { id: knives[0] ?? '' })).state).toBe('inWork');
    // (204.444 + 273.15) · (20 + log10 4) ÷ 1000 = 9.8394
    expect(heat.temperParameterMilli).toBe(9839);
    expect((await newHeat()).tag).toBe('H-0002');
  });

  it('is found by tag, serial, recipe or knife, and goes on being written', async () => {
    const { id: recipeId } = await newRecipe();
    const heat = await newHeat({ recipeId, buildIds: [knives[0] ?? ''] });
    await newHeat({ buildIds: [knives[1] ?? ''] });
    const found = async (text: string): Promise<number> => (await shop.call('heats.list', { text })).total;
    expect([await found('h-1'), await found('W01'), await found('thin'), await found('')]).toEqual([
      1, 1, 1, 2,
    ]);
    expect((await shop.call('heats.list', { buildId: knives[1] ?? '' })).total).toBe(1);
    const changed = await shop.call('heats.save', {
      id: heat.id,
      on: '2024-07-20',
      recipeId,
      buildIds: [knives[0] ?? ''],
      steps: steps.slice(0, 2),
    });
    expect([changed.tag, changed.steps.length, changed.temperParameterMilli]).toEqual(['H-0001', 2, null]);
  });

  it('starts its waits, books its quench and lists its checks', async () => {
    const oil = await shop.call('stock.saveItem', {
      name: 'Quench oil',
      kind: 'oil',
      form: 'volume',
      unit: 'gal',
    });
    const qtyEach = toBase(5, 'gal');
    const line = { itemId: oil.id, pieces: 1, qtyEach, priceMicro: 148 * ONE };
    await shop.call('stock.buy', { supplierId: shop.supplierId, on: '2024-07-10', lines: [line] });
    const bath = await shop.call('baths.save', {
      name: 'Tank',
      itemId: oil.id,
      lifeQuenches: 300,
      flashMilliC: 180_000,
    });
    await shop.call('baths.pour', { bathId: bath.id, kind: 'fill', qty: qtyEach, on: '2024-07-11' });
    const { id } = await newHeat({ bathId: bath.id });
    await shop.call('waits.start', { kind: 'temper', minutes: 120, buildIds: [...knives], heatId: id });
    await shop.call('baths.quench', { bathId: bath.id, on: '2024-07-20', buildIds: [...knives], heatId: id });
    await hardness(knives[0] ?? '', 61);
    const heat = await shop.call('heats.get', { id });
    expect(heat.waits.map((wait) => wait.kind)).toEqual(['temper']);
    expect(heat.checks.map((check) => check.serial)).toEqual(['W01']);
    expect(heat.meanMilliHrc).toBe(61_000);
    expect(heat.quenched).toBe(3);
    expect(heat.cautions.join(' ')).toContain('flash point of 180 °C (356 °F)');
  });

  it('warns when the oil was within 28 °C of its flash point', async () => {
    const oil = await shop.call('stock.saveItem', {
      name: 'Quench oil',
      kind: 'oil',
      form: 'volume',
      unit: 'gal',
    });
    const bath = await shop.call('baths.save', { name: 'Tank', itemId: oil.id, flashMilliC: 180_000 });
    const hot = (tempMilliC: number) =>
      newHeat({ bathId: bath.id, steps: [{ kind: 'quench', tempMilliC, minutes: 0 }] });
    expect((await hot(152_000)).cautions[0]).not.toContain('Let it cool');
    expect((await hot(153_000)).cautions[0]).toContain('within 28 °C (50 °F) of its flash point');
  });

  it('says in a sentence what does not fit', async () => {
    const say = async (more: object): Promise<string> =>
      (await shop.fault('heats.save', { on: '2024-07-20', buildIds: [...knives], steps, ...more })).message;
    expect(await say({ buildIds: [] })).toContain('Choose the knives');
    expect(await say({ buildIds: [knives[0], knives[0]] })).toContain('twice');
    expect(await say({ steps: [] })).toContain('at least one step');
    expect(await say({ recipeId: 'none' })).toContain('recipe does not exist');
    expect(await say({ on: '20.7.2024' })).toContain('year-month-day');
  });
});

describe('spread', () => {
  it('is that of a textbook: 2, 4, 4, 4, 5, 5, 7, 9 have mean 5 and sample deviation √(32/7)', () => {
    expect(roundedSpreadOf([2, 4, 4, 4, 5, 5, 7, 9].map((x) => x * 1000))).toEqual({
      n: 8,
      mean: 5000,
      sd: 2138,
    });
    expect(roundedSpreadOf([])).toBeNull();
  });
});
