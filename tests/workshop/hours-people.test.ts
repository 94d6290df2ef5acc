import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { nextWorks } from '../../renderer/areas/hours/next-works.ts';
import { idOf, ONE, openShop, type Shop } from './shop.ts';
import { wholeBooks } from './rig.ts';

let shop: Shop;
const knife = (serial: string): string => idOf(shop.knives, serial);
const bench = { stageCode: 'GR2', workKind: null } as const;
const other = { stageCode: null, workKind: 'cleaning' } as const;

beforeEach(async () => {
  shop = await openShop({ now: '2024-12-31T08:00:00.000Z' });
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const minutesOf = async (serial: string): Promise<number> =>
  (await shop.call('builds.get', { id: knife(serial) })).minutes;

describe('the clock of a batch', () => {
  it('tells the set-up apart once, equally for all, and the rest by weight', async () => {
    await shop.call('hours.start', {
      ...bench,
      buildIds: [knife('W01'), knife('W02'), knife('W03')],
      weights: [4, 2, 1],
    });
    shop.clock.set('2024-12-31T08:30:00.000Z');
    expect(await shop.call('hours.setUpDone', {})).toMatchObject({ setupMinutes: 30, minutes: 30 });
    expect(await shop.fault('hours.setUpDone', {})).toMatchObject({ kind: 'refused' });
    shop.clock.set('2024-12-31T10:00:00.000Z');
    const row = await shop.call('hours.stop', {});
    expect(row).toMatchObject({ minutes: 120, setupMinutes: 30 });
    // By hand: 10 min of set-up each, and 90 min by 4 : 2 : 1.
    expect(row?.shares.map(({ minutes, weight }) => [minutes, weight])).toEqual([
      [61, 4],
      [36, 2],
      [23, 1],
    ]);
    expect([await minutesOf('W01'), await minutesOf('W02'), await minutesOf('W03')]).toEqual([61, 36, 23]);
  });

  it('wants a weight for each knife or for none', async () => {
    const input = { ...bench, buildIds: [knife('W01'), knife('W02')], weights: [1] };
    expect(await shop.fault('hours.start', input)).toMatchObject({ kind: 'invalid', field: 'weights' });
  });

  it('starts planned knives with a note, and plans them again when it was a wrong touch', async () => {
    await shop.call('hours.start', { ...bench, buildIds: [knife('W01')] });
    const started = await shop.call('builds.get', { id: knife('W01') });
    expect(started).toMatchObject({ state: 'inWork', startedOn: '2024-12-31' });
    expect(started.notes.map((note) => note.text)).toEqual([
      'Started with the clock: Grind after hardening.',
    ]);
    await shop.call('hours.dropClock', {});
    expect(await shop.call('builds.get', { id: knife('W01') })).toMatchObject({
      state: 'planned',
      startedOn: null,
      notes: [],
    });
  });

  it('leaves a knife in work that something went into meanwhile', async () => {
    await shop.call('hours.start', { ...bench, buildIds: [knife('W01')] });
    await shop.call('hours.book', {
      ...bench,
      on: '2024-12-30',
      minutes: 5,
      shares: [{ buildId: knife('W01') }],
    });
    await shop.call('hours.dropClock', {});
    expect(await shop.call('builds.get', { id: knife('W01') })).toMatchObject({
      state: 'inWork',
      minutes: 5,
    });
  });
});

describe('a clock of a machine that cannot be trusted', () => {
  it('sees that it was set back although the start is still behind it', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T11:00:00.000Z');
    await shop.call('builds.addNote', { id: knife('W01'), text: 'any later command' });
    shop.clock.set('2024-12-31T09:00:00.000Z');
    expect((await shop.call('hours.clock', {}))?.doubt).toMatch(/set back/);
    expect(await shop.fault('hours.stop', {})).toMatchObject({ kind: 'refused', field: 'minutes' });
    expect(await shop.fault('hours.switch', { ...other, buildIds: [] })).toMatchObject({ field: 'minutes' });
    expect(await shop.call('hours.stop', { minutes: 180 })).toMatchObject({ minutes: 180, startedAt: null });
  });

  it('does not doubt for ever because the books once saw a day to come', async () => {
    shop.clock.set('2031-01-01T08:00:00.000Z');
    await shop.call('builds.addNote', { id: knife('W01'), text: 'the machine’s battery was flat' });
    shop.clock.set('2024-12-31T08:00:00.000Z');
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T09:00:00.000Z');
    expect(await shop.call('hours.clock', {})).toMatchObject({ minutes: 60, doubt: null });
  });

  it('books on the present day when the start lies on a day to come', async () => {
    shop.clock.set('2025-06-01T08:00:00.000Z');
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T09:00:00.000Z');
    expect(await shop.call('hours.clock', {})).toMatchObject({ minutes: 0 });
    expect(await shop.call('hours.stop', { minutes: 30 })).toMatchObject({ on: '2024-12-31', minutes: 30 });
  });

  it('asks after a night', async () => {
    shop.clock.set('2024-12-30T20:00:00.000Z');
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T07:00:00.000Z');
    expect((await shop.call('hours.clock', {}))?.doubt).toMatch(/overnight/);
    expect(await shop.call('hours.stop', { minutes: 40 })).toMatchObject({ on: '2024-12-30', minutes: 40 });
  });
});

const helper = async (): Promise<string> =>
  (await shop.call('hours.savePerson', { name: 'Pim Thornapple' })).id;

describe('a second pair of hands', () => {
  it('has a clock of its own beside the maker’s', async () => {
    const personId = await helper();
    await shop.call('hours.start', { ...bench, buildIds: [knife('W01')] });
    await shop.call('hours.start', { ...bench, personId, buildIds: [knife('W01')] });
    shop.clock.set('2024-12-31T09:00:00.000Z');
    expect((await shop.call('hours.clocks', {})).map((clock) => clock.personName)).toEqual([
      null,
      'Pim Thornapple',
    ]);
    const theirs = await shop.call('hours.stop', { personId });
    expect(theirs).toMatchObject({ personName: 'Pim Thornapple', minutes: 60 });
    expect(await shop.call('hours.clock', {})).toMatchObject({ personId: null, minutes: 60 });
    await shop.call('hours.stop', {});
    expect(await minutesOf('W01')).toBe(120);
    const week = await shop.call('hours.week', { on: '2024-12-31' });
    expect(week.byPerson).toEqual([
      { personId: null, name: 'Jorun Sedgewarren', minutes: 60 },
      { personId, name: 'Pim Thornapple', minutes: 60 },
    ]);
  });

  it('may work at the same time as the maker, but not at two things', async () => {
    const personId = await helper();
    const at = { ...bench, on: '2024-12-30', minutes: 60, startedAt: '2024-12-30T09:00:00.000Z' };
    const shares = [{ buildId: knife('W01') }];
    await shop.call('hours.book', { ...at, shares });
    await shop.call('hours.book', { ...at, shares, personId });
    expect(await shop.fault('hours.book', { ...at, shares, personId })).toMatchObject({ field: 'startedAt' });
    expect(await minutesOf('W01')).toBe(120);
  });

  it('costs its own rate in force, and says so where there is none', async () => {
    const personId = await helper();
    const shares = [{ buildId: knife('W01') }];
    await shop.call('hours.book', { ...bench, on: '2024-12-20', minutes: 60, shares });
    await shop.call('hours.book', { ...bench, on: '2024-12-20', minutes: 30, shares, personId });
    const before = await shop.call('costs.sheet', { buildId: knife('W01') });
    expect(before.labour.amountMinor).toBe(3500);
    expect(before.remarks.join(' ')).toMatch(/No rate was in force for some hours of Pim Thornapple/);
    await shop.call('hours.setPersonRate', { personId, from: '2024-12-01', perHourMicro: 18 * ONE });
    await shop.call('hours.setPersonRate', { personId, from: '2024-12-21', perHourMicro: 20 * ONE });
    await shop.call('hours.book', { ...bench, on: '2024-12-22', minutes: 30, shares, personId });
    const sheet = await shop.call('costs.sheet', { buildId: knife('W01') });
    // 1 h at 35.00, half an hour at 18.00, half an hour at 20.00; overhead for all two hours at 8.03.
    expect(sheet.labour.amountMinor).toBe(3500 + 900 + 1000);
    expect(sheet.overhead.amountMinor).toBe(1606);
    expect(sheet.remarks.join(' ')).not.toMatch(/Pim/);
    const rows = sheet.stages[0]?.working.map(({ label, how }) => [label, how]);
    expect(rows).toEqual([
      ['Grind after hardening', '60 min × 35.00/h'],
      ['Grind after hardening (Pim Thornapple)', '30 min × 18.00/h'],
      ['Grind after hardening (Pim Thornapple)', '30 min × 20.00/h'],
    ]);
    const parts = sheet.labour.working.map(({ exactMicro }) => exactMicro);
    expect(parts.reduce((so, part) => so + part, 0)).toBe(sheet.labour.exactMicro);
  });

  it('keeps its name once, cannot leave with the clock running, and starts no more after that', async () => {
    const personId = await helper();
    expect(await shop.fault('hours.savePerson', { name: 'pim thornapple' })).toMatchObject({ field: 'name' });
    await shop.call('hours.start', { ...other, personId, buildIds: [] });
    const leave = { id: personId, name: 'Pim Thornapple', archived: true };
    expect(await shop.fault('hours.savePerson', leave)).toMatchObject({ kind: 'refused' });
    await shop.call('hours.dropClock', { personId });
    await shop.call('hours.savePerson', leave);
    expect(await shop.call('hours.people', {})).toEqual([]);
    expect(await shop.call('hours.people', { includeArchived: true })).toHaveLength(1);
    expect(await shop.fault('hours.start', { ...other, personId, buildIds: [] })).toMatchObject({
      kind: 'refused',
      message: 'Pim Thornapple no longer helps here. Take the name up again under Workshop, People.',
    });
    expect(await shop.fault('hours.start', { ...other, personId: 'nobody', buildIds: [] })).toMatchObject({
      field: 'personId',
    });
  });
});

describe('a session that cannot be', () => {
  it.each([
    [
      'an end in the future',
      { startedAt: '2024-12-31T07:30:00.000Z', minutes: 60 },
      'minutes',
      /in the future/,
    ],
    ['a set-up longer than the session', { setupMinutes: 31 }, 'setupMinutes', /longer than the whole/],
    ['an unknown person', { personId: 'nobody' }, 'personId', /not in the books/],
    ['an unknown making', { makingId: 'none', shares: [] }, 'makingId', /not in the books/],
    ['a making and knives', { makingId: 'none' }, 'shares', /either to a making or to knives/],
    [
      'a making without a stage',
      { makingId: 'none', shares: [], stageCode: null, workKind: 'other' },
      'stageCode',
      /needs a stage/,
    ],
  ])('refuses %s and leaves the books alone', async (_, wrong, field, message) => {
    const before = wholeBooks(shop.db);
    const good = { ...bench, on: '2024-12-31', minutes: 30, shares: [{ buildId: knife('W01') }] };
    const fault = await shop.fault('hours.book', { ...good, ...wrong });
    expect(fault).toMatchObject({ kind: 'invalid', field });
    expect(fault.message).toMatch(message);
    expect(wholeBooks(shop.db)).toEqual(before);
  });

  it('refuses more than a day holds, person by person', async () => {
    const personId = await helper();
    const day = { ...other, on: '2024-12-30', shares: [] };
    await shop.call('hours.book', { ...day, minutes: 1000 });
    expect(await shop.fault('hours.book', { ...day, minutes: 500 })).toEqual({
      kind: 'refused',
      field: 'minutes',
      message: 'That would make 25 h on one day for one person. Check the day and the length.',
    });
    await shop.call('hours.book', { ...day, minutes: 500, personId });
  });
});

describe('work on a making', () => {
  it('is clocked on it, and on no knife', async () => {
    const making = await shop.call('makings.start', {
      kind: 'billet',
      title: 'Twist 7',
      on: '2024-12-31',
    });
    const work = { stageCode: 'BIL', workKind: null, makingId: making.id } as const;
    expect(await shop.fault('hours.start', { ...work, buildIds: [knife('W01')] })).toMatchObject({
      field: 'buildIds',
    });
    await shop.call('hours.start', { ...work, buildIds: [] });
    shop.clock.set('2024-12-31T09:30:00.000Z');
    expect(await shop.call('hours.clock', {})).toMatchObject({ makingTitle: 'Twist 7', minutes: 90 });
    expect(await shop.call('hours.stop', {})).toMatchObject({ makingId: making.id, minutes: 90, shares: [] });
    expect((await shop.call('hours.sessions', { text: 'twist' })).total).toBe(1);
  });
});

describe('batches', () => {
  it('list their open knives with what most of them wait for, the one worked on last first', async () => {
    const plan = { modelId: shop.modelId, on: '2024-12-01' };
    const a = await shop.call('builds.plan', { ...plan, count: 3, batch: 'A' });
    const b = await shop.call('builds.plan', { ...plan, count: 1, batch: 'B' });
    expect((await shop.call('builds.batches', {})).map((row) => row.batch)).toEqual(['A', 'B']);
    await shop.call('hours.book', {
      ...bench,
      on: '2024-12-30',
      minutes: 9,
      shares: [{ buildId: b.ids[0] ?? '' }],
    });
    await shop.call('builds.stage', { id: a.ids[0] ?? '', code: 'GR2', done: true, on: '2024-12-02' });
    const rows = await shop.call('builds.batches', {});
    expect(rows.map(({ batch, nextStageCode, minutes }) => [batch, nextStageCode, minutes])).toEqual([
      ['B', 'GR2', 9],
      ['A', 'GR2', 0],
    ]);
    expect(rows[1]?.builds.map((build) => build.nextStageCode)).toEqual(['HND', 'GR2', 'GR2']);
    // One touch each at the bench: what most wait for, then what the others are at.
    const touches = nextWorks(undefined, undefined, rows, []);
    expect(touches.map(({ work }) => [work.stageCode, work.buildIds])).toEqual([
      ['GR2', b.ids],
      ['GR2', a.ids.slice(1)],
      ['HND', a.ids.slice(0, 1)],
    ]);
    await shop.call('builds.start', { id: a.ids[1] ?? '', on: '2024-12-03' });
    await shop.call('builds.finish', { id: a.ids[1] ?? '', on: '2024-12-04' });
    expect((await shop.call('builds.batches', {}))[1]?.builds).toHaveLength(2);
  });
});
