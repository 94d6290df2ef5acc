import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openRig } from './rig.ts';
import { idOf, openShop, type Shop } from './shop.ts';

let shop: Shop;
const knife = (serial: string): string => idOf(shop.knives, serial);
const minutesOf = async (serial: string): Promise<number> =>
  (await shop.call('builds.get', { id: knife(serial) })).minutes;

const open = async (): Promise<void> => {
  shop = await openShop({ now: '2024-12-31T08:00:00.000Z' });
};
const close = async (): Promise<void> => {
  expect(shop.log).toEqual([]);
  await shop.close();
};
/** A workshop for each test. */
const ownShop = (): void => {
  beforeEach(open);
  afterEach(close);
};
/** One workshop for tests that leave it as it was. */
const sharedShop = (): void => {
  beforeAll(open);
  afterAll(close);
};

const bench = { stageCode: 'GR2', workKind: null } as const;
const other = { stageCode: null, workKind: 'cleaning' } as const;

describe('the clock', () => {
  ownShop();

  it('books whole minutes, halves up, on the day it was started and splits them over the knives', async () => {
    await shop.call('hours.start', {
      ...bench,
      buildIds: [knife('W01'), knife('W02'), knife('W03')],
      note: 'second pass',
    });
    shop.clock.set('2024-12-31T09:40:30.000Z');
    expect(await shop.call('hours.clock', {})).toEqual({
      personId: null,
      personName: null,
      makingId: null,
      makingTitle: null,
      setupMinutes: 0,
      startedAt: '2024-12-31T08:00:00.000Z',
      stageCode: 'GR2',
      stageName: 'Grind after hardening',
      workKind: null,
      builds: ['W01', 'W02', 'W03'].map((serial) => ({
        id: knife(serial),
        serial,
        title: expect.any(String) as string,
        weight: 1,
      })),
      note: 'second pass',
      minutes: 101,
      doubt: null,
    });
    const row = await shop.call('hours.stop', {});
    expect(row).toMatchObject({
      on: '2024-12-31',
      startedAt: '2024-12-31T08:00:00.000Z',
      endedAt: '2024-12-31T09:41:00.000Z',
      minutes: 101,
      source: 'clock',
      note: 'second pass',
      corrections: 0,
    });
    expect(row?.shares.map((share) => [share.serial, share.minutes])).toEqual([
      ['W01', 34],
      ['W02', 34],
      ['W03', 33],
    ]);
    expect(await shop.call('hours.clock', {})).toBeNull();
  });

  it('keeps running over a restart of the program', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    await shop.close({ keep: true });
    const again = await openRig({ folder: shop.folder, now: '2024-12-31T08:00:00.000Z' });
    again.clock.set('2024-12-31T08:20:00.000Z');
    expect(await again.call('hours.stop', {})).toMatchObject({
      minutes: 20,
      workKind: 'cleaning',
      shares: [],
    });
    await again.close();
    shop = await openShop({ now: '2024-12-31T08:00:00.000Z' });
  });

  it('starts a planned knife with the first booked work', async () => {
    await shop.call('hours.start', { ...bench, buildIds: [knife('W01')] });
    shop.clock.set('2024-12-31T08:05:00.000Z');
    await shop.call('hours.stop', {});
    expect(await shop.call('builds.get', { id: knife('W01') })).toMatchObject({
      state: 'inWork',
      startedOn: '2024-12-31',
      minutes: 5,
    });
  });

  it('books nothing for less than half a minute', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T08:00:29.000Z');
    expect(await shop.call('hours.stop', {})).toBeNull();
    expect((await shop.call('hours.sessions', {})).total).toBe(0);
  });

  it('refuses a second start and offers to switch', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    expect(await shop.fault('hours.start', { ...other, buildIds: [] })).toEqual({
      kind: 'refused',
      message: 'The clock is running already. Switch it to the next work, or stop it first.',
    });
  });

  it('switches in one step: books what has run and starts the next', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T08:30:00.000Z');
    const { booked, clock } = await shop.call('hours.switch', { ...bench, buildIds: [knife('W02')] });
    expect(booked).toMatchObject({ minutes: 30, workKind: 'cleaning' });
    expect(clock).toMatchObject({ startedAt: '2024-12-31T08:30:00.000Z', stageCode: 'GR2', minutes: 0 });
  });

  it('leaves the clock running when the next work of a switch makes no sense', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T08:30:00.000Z');
    expect(await shop.fault('hours.switch', { ...bench, buildIds: [] })).toMatchObject({ field: 'buildIds' });
    expect(await shop.call('hours.clock', {})).toMatchObject({ workKind: 'cleaning', minutes: 30 });
    expect((await shop.call('hours.sessions', {})).total).toBe(0);
  });

  it('never counts below zero when the machine’s clock was set back, and asks how long it was', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T07:00:00.000Z');
    const clock = await shop.call('hours.clock', {});
    expect(clock?.minutes).toBe(0);
    expect(clock?.doubt).toMatch(/set back/);
    expect(await shop.fault('hours.stop', {})).toMatchObject({
      kind: 'refused',
      field: 'minutes',
      message: clock?.doubt,
    });
    expect(await shop.call('hours.stop', { minutes: 45 })).toMatchObject({ minutes: 45, on: '2024-12-31' });
  });

  it('asks how long it was after a night of running', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2025-01-01T00:01:00.000Z');
    expect((await shop.call('hours.clock', {}))?.doubt).toMatch(/more than 16 hours/);
    expect(await shop.fault('hours.stop', {})).toMatchObject({ field: 'minutes' });
    expect(await shop.call('hours.stop', { minutes: 90, note: 'forgot' })).toMatchObject({
      minutes: 90,
      note: 'forgot',
      on: '2024-12-31',
    });
  });

  it('can be thrown away', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    await shop.call('hours.dropClock', {});
    expect(await shop.call('hours.clock', {})).toBeNull();
    expect(await shop.fault('hours.dropClock', {})).toMatchObject({ message: 'No clock is running.' });
    expect(await shop.fault('hours.stop', {})).toMatchObject({ message: 'No clock is running.' });
  });
});

describe('booking', () => {
  ownShop();

  it('splits by weight to whole minutes that add up', async () => {
    const row = await shop.call('hours.book', {
      ...bench,
      on: '2024-12-30',
      minutes: 100,
      shares: [{ buildId: knife('W01'), weight: 2 }, { buildId: knife('W02') }],
    });
    expect(row.shares.map((share) => share.minutes)).toEqual([67, 33]);
    expect([await minutesOf('W01'), await minutesOf('W02')]).toEqual([67, 33]);
  });

  it('corrects by a new version and keeps the old one readable', async () => {
    const row = await shop.call('hours.book', {
      ...bench,
      on: '2024-12-30',
      minutes: 90,
      shares: [{ buildId: knife('W01') }],
      source: 'guess',
    });
    const corrected = await shop.call('hours.correct', {
      sessionId: row.id,
      ...bench,
      on: '2024-12-29',
      minutes: 60,
      shares: [{ buildId: knife('W02') }],
      reason: 'wrong knife',
    });
    expect(corrected).toMatchObject({
      id: row.id,
      minutes: 60,
      on: '2024-12-29',
      source: 'guess',
      corrections: 1,
    });
    expect([await minutesOf('W01'), await minutesOf('W02')]).toEqual([0, 60]);
    const history = await shop.call('hours.history', { sessionId: row.id });
    expect(
      history.map(({ minutes, reason, cancelled, shares }) => ({
        minutes,
        reason,
        cancelled,
        serial: shares[0]?.serial,
      })),
    ).toEqual([
      { minutes: 90, reason: '', cancelled: false, serial: 'W01' },
      { minutes: 60, reason: 'wrong knife', cancelled: false, serial: 'W02' },
    ]);
    expect((await shop.call('hours.sessions', {})).rows.map((each) => each.minutes)).toEqual([60]);
  });

  it('cancels by a version of its own, once', async () => {
    const row = await shop.call('hours.book', {
      ...bench,
      on: '2024-12-30',
      minutes: 90,
      shares: [{ buildId: knife('W01') }],
    });
    await shop.call('hours.cancel', { sessionId: row.id, reason: 'never happened' });
    expect(await minutesOf('W01')).toBe(0);
    expect((await shop.call('hours.sessions', {})).total).toBe(0);
    const history = await shop.call('hours.history', { sessionId: row.id });
    expect(history.map(({ minutes, cancelled, reason }) => ({ minutes, cancelled, reason }))).toEqual([
      { minutes: 90, cancelled: false, reason: '' },
      { minutes: 90, cancelled: true, reason: 'never happened' },
    ]);
    expect(await shop.fault('hours.cancel', { sessionId: row.id, reason: 'again' })).toMatchObject({
      kind: 'refused',
    });
    expect(
      await shop.fault('hours.correct', {
        sessionId: row.id,
        ...bench,
        on: '2024-12-30',
        minutes: 1,
        shares: [{ buildId: knife('W01') }],
        reason: 'x',
      }),
    ).toMatchObject({ kind: 'refused' });
  });

  it('refuses two sessions at once and names the other one', async () => {
    const at = { ...bench, on: '2024-12-30', shares: [{ buildId: knife('W01') }] };
    const first = await shop.call('hours.book', {
      ...at,
      minutes: 60,
      startedAt: '2024-12-30T09:00:00.000Z',
    });
    expect(
      await shop.fault('hours.book', { ...at, minutes: 60, startedAt: '2024-12-30T09:59:00.000Z' }),
    ).toEqual({
      kind: 'refused',
      field: 'startedAt',
      message:
        'This time runs into another session (Grind after hardening, 60 min on 2024-12-30). Change the start or the length, or correct the other one.',
    });
    await shop.call('hours.book', { ...at, minutes: 60, startedAt: '2024-12-30T10:00:00.000Z' });
    const moved = {
      sessionId: first.id,
      ...at,
      minutes: 50,
      startedAt: '2024-12-30T09:05:00.000Z',
      reason: 'began later',
    };
    expect(await shop.call('hours.correct', moved)).toMatchObject({
      minutes: 50,
      endedAt: '2024-12-30T09:55:00.000Z',
    });
  });

  it('refuses a session inside the time the clock is running', async () => {
    await shop.call('hours.start', { ...other, buildIds: [] });
    shop.clock.set('2024-12-31T09:00:00.000Z');
    const inside = {
      ...bench,
      on: '2024-12-31',
      minutes: 10,
      startedAt: '2024-12-31T08:30:00.000Z',
      shares: [{ buildId: knife('W01') }],
    };
    expect(await shop.fault('hours.book', inside)).toMatchObject({ kind: 'refused', field: 'startedAt' });
  });
});

describe('a session that cannot be', () => {
  sharedShop();

  it.each([
    ['no time at all', { minutes: 0 }, 'minutes', 'A session needs at least one minute.'],
    ['more than a day', { minutes: 1441 }, 'minutes', 'One session cannot be longer than a day.'],
    [
      'a day to come',
      { on: '2025-01-01' },
      'on',
      'This day is still to come. Write the day the work was done.',
    ],
    [
      'a start on another day',
      { startedAt: '2024-12-29T22:00:00.000Z' },
      'startedAt',
      'The start lies on another day than the session. Change one of them.',
    ],
    ['a stage without knives', { shares: [] }, 'shares', 'Choose the knives this time was for.'],
    [
      'stage and other work together',
      { workKind: 'buying' },
      'stageCode',
      'Choose either a stage or the kind of other work.',
    ],
    [
      'an unknown stage',
      { stageCode: 'ZZZ' },
      'stageCode',
      'There is no stage ZZZ. Choose one from the list.',
    ],
    [
      'an unknown knife',
      { shares: [{ buildId: 'nobody' }] },
      'shares',
      'One of the knives is not in the books. Choose it again.',
    ],
    [
      'other work with knives',
      { stageCode: null, workKind: 'buying' },
      'shares',
      'This kind of work belongs to no knife. Choose a stage, or take the knives out.',
    ],
  ])('refuses %s', async (_, wrong, field, message) => {
    const good = { ...bench, on: '2024-12-30', minutes: 30, shares: [{ buildId: knife('W01') }] };
    expect(await shop.fault('hours.book', { ...good, ...wrong })).toEqual({
      kind: 'invalid',
      field,
      message,
    });
    expect((await shop.call('hours.sessions', {})).total).toBe(0);
  });
});

describe('reading a guess', () => {
  sharedShop();

  it.each([
    [
      '2 h hand finish on W01 and W02',
      120,
      'HND',
      null,
      ['W01', 'W02'],
      '2 h of Hand finish on W01 and W02, split equally.',
    ],
    [
      '90 min GR2 W01-W03',
      90,
      'GR2',
      null,
      ['W01', 'W02', 'W03'],
      '1 h 30 min of Grind after hardening on W01, W02 and W03, split equally.',
    ],
    [
      '1h30 gr2 w01 to w03',
      90,
      'GR2',
      null,
      ['W01', 'W02', 'W03'],
      '1 h 30 min of Grind after hardening on W01, W02 and W03, split equally.',
    ],
    ['1.5h cleaning', 90, null, 'cleaning', [], '1 h 30 min of cleaning, for no knife.'],
    ['45m messages', 45, null, 'messages', [], '45 min of messages, for no knife.'],
    ['sharpen on W02, 20 min', 20, 'SHP', null, ['W02'], '20 min of Sharpen and test on W02.'],
  ])('understands “%s”', async (text, minutes, stageCode, workKind, serials, sentence) => {
    expect(await shop.call('hours.readGuess', { text })).toEqual({
      sentence,
      remark: null,
      minutes,
      stageCode,
      workKind,
      buildIds: serials.map(knife),
    });
  });

  it.each([
    ['hand finish on W01', /No time was found/],
    ['2 h hand finish on W99', /There is no knife W99/],
    ['2 h grind on W01', /“grind” could be Grind before hardening or Grind after hardening/],
    ['2 h juggling on W01', /“juggling” is neither a stage nor a kind of other work/],
    ['2 h hand finish', /Say which knives the Hand finish was for/],
    ['2 h on W01', /Say what the time was for/],
    ['30 h cleaning', /longer than a day/],
  ])('names the part of “%s” that it cannot read', async (text, message) => {
    const fault = await shop.fault('hours.readGuess', { text });
    expect(fault).toMatchObject({ kind: 'invalid', field: 'text' });
    expect(fault.message).toMatch(message);
  });

  it('says of knives that have ended that their figures change, and books it all the same', async () => {
    await shop.call('builds.end', { id: knife('W02'), as: 'scrapped', on: '2024-12-30', reason: 'cracked' });
    const read = await shop.call('hours.readGuess', { text: '1 h hand finish on W01 and W02' });
    expect(read.remark).toBe(
      'W02 is scrapped. Book this only if the time went into making it: its hours and what they earned change.',
    );
    expect(read.buildIds).toHaveLength(2);
  });
});

describe('lists', () => {
  sharedShop();
  beforeAll(async () => {
    await shop.call('hours.book', {
      ...bench,
      on: '2024-12-30',
      minutes: 60,
      shares: [{ buildId: knife('W01') }],
      note: 'plunge line',
    });
    await shop.call('hours.book', {
      ...bench,
      stageCode: 'HND',
      on: '2024-12-31',
      minutes: 45,
      shares: [{ buildId: knife('W02') }],
    });
    await shop.call('hours.book', { ...other, on: '2024-12-31', minutes: 15, shares: [] });
    await shop.call('hours.book', { ...other, on: '2024-12-22', minutes: 99, shares: [] });
  });

  it('finds sessions by day, knife and words', async () => {
    const found = async (filter: object): Promise<readonly number[]> =>
      (await shop.call('hours.sessions', filter)).rows.map((row) => row.minutes);
    expect(await found({})).toEqual([15, 45, 60, 99]);
    expect(await found({ buildId: knife('W02') })).toEqual([45]);
    expect(await found({ from: '2024-12-30', to: '2024-12-30' })).toEqual([60]);
    expect(await found({ text: 'plunge' })).toEqual([60]);
    expect(await found({ text: 'W02' })).toEqual([45]);
    expect(await found({ text: '%' })).toEqual([]);
    expect(await shop.call('hours.sessions', { limit: 1, offset: 1 })).toMatchObject({
      total: 4,
      rows: [{ minutes: 45 }],
    });
  });

  it('adds up the week from Monday to Sunday', async () => {
    const week = await shop.call('hours.week', { on: '2025-01-01' });
    expect(week).toMatchObject({
      from: '2024-12-30',
      byStage: [
        { code: 'GR2', name: 'Grind after hardening', minutes: 60 },
        { code: 'HND', name: 'Hand finish', minutes: 45 },
      ],
      byKind: [{ kind: 'cleaning', minutes: 15 }],
    });
    expect(week.days.map((day) => [day.on, day.benchMinutes, day.otherMinutes]).slice(0, 3)).toEqual([
      ['2024-12-30', 60, 0],
      ['2024-12-31', 45, 15],
      ['2025-01-01', 0, 0],
    ]);
    expect(week.days).toHaveLength(7);
    expect(week.sessions.map((row) => row.minutes)).toEqual([15, 45, 60]);
  });
});
