import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRig, wholeBooks } from './rig.ts';
import { idOf, openShop, type Shop } from './shop.ts';

let shop: Shop;
const knife = (serial: string): string => idOf(shop.knives, serial);

beforeEach(async () => {
  shop = await openShop({ now: '2024-12-31T08:00:00.000Z' });
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const glue = (more: object = {}) =>
  shop.call('waits.start', {
    kind: 'glue',
    stageCode: 'HDL',
    buildIds: [knife('W02'), knife('W01')],
    minutes: 16 * 60,
    ...more,
  });

describe('a wait', () => {
  it('runs to its end, is over until somebody sees to it, and then is done', async () => {
    const wait = await glue();
    expect(wait).toMatchObject({
      kind: 'glue',
      endsAt: '2025-01-01T00:00:00.000Z',
      minutesLeft: 960,
      minutes: 0,
      doneAt: null,
    });
    expect(wait.builds.map((build) => build.serial)).toEqual(['W01', 'W02']);
    shop.clock.set('2025-01-01T00:10:00.000Z');
    expect(await shop.call('waits.list', {})).toMatchObject([
      { id: wait.id, minutesLeft: -10, minutes: 970 },
    ]);
    const done = await shop.call('waits.done', { id: wait.id });
    expect(done).toMatchObject({ doneAt: '2025-01-01T00:10:00.000Z', minutes: 970 });
    expect(await shop.call('waits.list', {})).toEqual([]);
    expect(await shop.fault('waits.done', { id: wait.id })).toMatchObject({ kind: 'refused' });
    expect(await shop.fault('waits.change', { id: wait.id, minutes: 5 })).toMatchObject({ kind: 'refused' });
  });

  it('never touches a minute of labour, nor what a knife cost', async () => {
    const before = await shop.call('costs.sheet', { buildId: knife('W01') });
    const { id } = await glue();
    shop.clock.set('2025-01-01T08:00:00.000Z');
    await shop.call('waits.done', { id });
    const after = await shop.call('costs.sheet', { buildId: knife('W01') });
    expect({ ...after, asOf: '' }).toEqual({ ...before, asOf: '' });
    expect((await shop.call('hours.sessions', {})).total).toBe(0);
    expect((await shop.call('builds.get', { id: knife('W01') })).minutes).toBe(0);
  });

  it('is given longer, or less, counted from its start', async () => {
    const { id } = await glue();
    expect(await shop.call('waits.change', { id, minutes: 1200 })).toMatchObject({ minutesLeft: 1200 });
    expect(await shop.call('waits.change', { id, minutes: 60 })).toMatchObject({
      endsAt: '2024-12-31T09:00:00.000Z',
    });
  });

  it('is dropped with its reason and counts nowhere', async () => {
    const { id } = await glue();
    shop.clock.set('2024-12-31T12:00:00.000Z');
    await shop.call('waits.drop', { id, reason: 'never mixed' });
    expect(await shop.call('waits.list', {})).toEqual([]);
    expect(await shop.call('waits.list', { open: false })).toMatchObject([
      { dropped: true, note: 'Dropped: never mixed' },
    ]);
    expect((await shop.call('hours.elapsed', { buildId: knife('W01') })).waitMinutes).toBe(0);
    expect(await shop.fault('waits.done', { id })).toMatchObject({ kind: 'refused' });
  });

  it('that ended while the program was closed is there at the next start', async () => {
    await glue({ minutes: 30 });
    await shop.close({ keep: true });
    const again = await openRig({ folder: shop.folder, now: '2025-01-02T08:00:00.000Z' });
    expect((await again.call('bench.today', {})).waits).toMatchObject([{ minutesLeft: 30 - 48 * 60 }]);
    await again.close();
    shop = await openShop({ now: '2024-12-31T08:00:00.000Z' });
  });

  it('does not end before it began when the machine’s clock was set back', async () => {
    const { id } = await glue();
    shop.clock.set('2024-12-31T06:00:00.000Z');
    expect(await shop.call('waits.list', {})).toMatchObject([{ minutes: 0 }]);
    expect(await shop.call('waits.done', { id })).toMatchObject({ minutes: 0 });
  });

  it('comes on the bench, the one that ends first on top', async () => {
    await glue();
    await shop.call('waits.start', { kind: 'etch', minutes: 45, buildIds: [knife('W03')] });
    expect((await shop.call('bench.today', {})).waits.map((wait) => wait.kind)).toEqual(['etch', 'glue']);
  });
});

describe('a wait that cannot be', () => {
  it.each([
    ['no time', { minutes: 0 }, 'minutes', /At least one minute/],
    ['too long', { minutes: 60 * 24 * 61 }, 'minutes', /Sixty days/],
    ['a start to come', { startedAt: '2025-01-01T00:00:00.000Z' }, 'startedAt', /in the future/],
    ['an unknown knife', { buildIds: ['nobody'] }, 'buildIds', /not in the books/],
    ['an unknown making', { makingId: 'none' }, 'makingId', /not in the books/],
    ['an unknown heat', { heatId: 'none' }, 'heatId', /not in the books/],
    ['an unknown stage', { stageCode: 'ZZZ' }, 'stageCode', /no stage ZZZ/],
    ['something else without a word', { kind: 'other' }, 'label', /what it waits for/],
  ])('refuses %s and leaves the books alone', async (_, wrong, field, message) => {
    const before = wholeBooks(shop.db);
    const fault = await shop.fault('waits.start', { kind: 'glue', minutes: 60, ...wrong });
    expect(fault).toMatchObject({ kind: 'invalid', field });
    expect(fault.message).toMatch(message);
    expect(wholeBooks(shop.db)).toEqual(before);
    expect(await shop.call('waits.list', { open: false })).toEqual([]);
  });

  it('refuses to be seen to before it began or in the future', async () => {
    const { id } = await glue();
    shop.clock.set('2024-12-31T09:00:00.000Z');
    expect(await shop.fault('waits.done', { id, at: '2024-12-31T07:00:00.000Z' })).toMatchObject({
      field: 'at',
    });
    expect(await shop.fault('waits.done', { id, at: '2024-12-31T10:00:00.000Z' })).toMatchObject({
      field: 'at',
    });
    expect(await shop.call('waits.done', { id, at: '2024-12-31T08:30:00.000Z' })).toMatchObject({
      minutes: 30,
    });
    expect(await shop.fault('waits.done', { id: 'none' })).toMatchObject({ kind: 'missing' });
  });
});

describe('two clocks', () => {
  it('keep what was worked apart from what went by', async () => {
    const id = knife('W01');
    expect(await shop.call('hours.elapsed', { buildId: id })).toEqual({
      attendedMinutes: 0,
      waitMinutes: 0,
      firstOn: null,
      lastOn: null,
      days: 0,
    });
    const work = { stageCode: 'HDL', workKind: null, shares: [{ buildId: id }] };
    await shop.call('hours.book', { ...work, on: '2024-12-28', minutes: 50 });
    const first = await glue({ startedAt: '2024-12-29T20:00:00.000Z', minutes: 960 });
    await shop.call('waits.done', { id: first.id, at: '2024-12-30T12:00:00.000Z' });
    // Both at once: an oil coat dries while the glue cures.
    const second = await glue({ kind: 'oilCoat', startedAt: '2024-12-30T10:00:00.000Z', minutes: 240 });
    await shop.call('waits.done', { id: second.id, at: '2024-12-30T14:00:00.000Z' });
    expect(await shop.call('hours.elapsed', { buildId: id })).toEqual({
      attendedMinutes: 50,
      waitMinutes: 18 * 60,
      firstOn: '2024-12-28',
      lastOn: '2024-12-30',
      days: 3,
    });
    const week = await shop.call('hours.week', { on: '2024-12-30' });
    expect(week.days.slice(0, 2).map(({ benchMinutes, waitMinutes }) => [benchMinutes, waitMinutes])).toEqual(
      [
        [0, 14 * 60],
        [0, 0],
      ],
    );
    const before = await shop.call('hours.week', { on: '2024-12-29' });
    expect(before.days.slice(5).map(({ benchMinutes, waitMinutes }) => [benchMinutes, waitMinutes])).toEqual([
      [50, 0],
      [0, 4 * 60],
    ]);
    expect(await shop.call('waits.list', { open: false, from: '2024-12-30', to: '2024-12-30' })).toHaveLength(
      2,
    );
    expect(await shop.call('waits.list', { open: false, from: '2024-12-31' })).toHaveLength(0);
    expect(await shop.fault('hours.elapsed', { buildId: 'none' })).toMatchObject({ kind: 'missing' });
  });
});
