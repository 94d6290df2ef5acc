/** Days named for orders and knives, through the real core. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRig, type Rig } from './rig.ts';

let rig: Rig;
let modelId = '';
beforeEach(async () => {
  rig = await openRig({ now: '2025-06-02' });
  const model = await rig.call('builds.saveModel', {
    code: 'PET',
    name: 'Petty',
    family: 'PET',
    method: 'belt',
    parts: [],
    flats: [],
    stages: [
      { code: 'CUT', minutes: 60 },
      { code: 'GR2', minutes: 240 },
      { code: 'HDL', minutes: 120 },
    ],
  });
  modelId = model.id;
  await rig.call('builds.setPrice', { modelId, from: '2025-01-01', priceMinor: 26_500 });
});
afterEach(() => rig.close());

const plan = async (on = '2025-05-26') =>
  (await rig.call('builds.plan', { modelId, on, count: 1 })).ids[0] ?? '';
const book = (buildId: string, stageCode: string, minutes: number, on: string) =>
  rig.call('hours.book', { on, minutes, stageCode, workKind: null, shares: [{ buildId, weight: 1 }] });
const days = async (asked = {}) => (await rig.call('promises.list', asked)).rows;

describe('promises', () => {
  it('stand beside the queue without chance: open ones by those finished a week', async () => {
    await rig.call('promises.setWeek', { weekMinutes: 420 });
    await plan();
    expect((await rig.call('promises.list', {})).flow).toMatchObject({
      open: 1,
      finished: 0,
      waitWeeks: null,
    });
    const done = await plan('2025-05-19');
    await book(done, 'GR2', 60, '2025-05-19');
    await rig.call('builds.finish', { id: done, on: '2025-05-23' });
    for (let more = 0; more < 5; more += 1) await plan();
    // Two whole weeks are known, one knife was finished in them: half a knife a week, and six are open.
    expect((await rig.call('promises.list', { newModelId: modelId })).flow).toEqual({
      open: 6,
      finished: 1,
      agreed: 0,
      waitWeeks: 12,
      openAtUsual: 4,
      rateAtUsual: 0.75,
      usualWeeks: 8,
    });
  });

  it('name nothing without any bench hours, and say what to do; a figure of the maker’s own names days', async () => {
    await plan();
    const none = await rig.call('promises.list', {});
    expect([none.rows, none.refusal]).toEqual([
      [],
      expect.stringContaining('how many hours a week') as string,
    ]);
    expect((await rig.fault('promises.setWeek', { weekMinutes: 0 })).field).toBe('weekMinutes');
    await rig.call('promises.setWeek', { weekMinutes: 420 });
    const found = await rig.call('promises.list', {});
    expect(found.rows.map((row) => [row.kind, row.minutes, row.state])).toEqual([
      ['knife', 420, 'notPromised'],
    ]);
    expect(found.assumed.join(' ')).toContain('No own knife is finished yet');
    expect(found.lossHow).toContain('0 of 0 own knives');
  });

  it('take the last ten whole weeks, the stages left, closed days and a lost blade into account', async () => {
    const id = await plan();
    await book(id, 'CUT', 60, '2025-05-27');
    await rig.call('builds.stage', { id, code: 'CUT', done: true, on: '2025-05-27' });
    await book(id, 'GR2', 100, '2025-05-20');
    const found = await rig.call('promises.list', {});
    // Nothing is in the books before 20 May: eight weeks without a word are not eight weeks off.
    expect(found.weeks).toEqual([100, 60]);
    expect(found.assumed.join(' ')).toContain('Only 2 whole weeks are in the books');
    expect(found.rows[0]?.minutes).toBe(140 + 120);
    await rig.call('promises.setWeek', { weekMinutes: 300 });
    const before = (await days())[0];
    const lost = (await days({ lostBuildId: id }))[0];
    expect(lost?.minutes).toBe(420);
    expect(
      [lost?.halfOn, lost?.likelyOn].every(
        (day, at) => (day ?? '') >= ([before?.halfOn, before?.likelyOn][at] ?? ''),
      ),
    ).toBe(true);
    const closed = await rig.call('promises.close', {
      from: '2025-06-03',
      until: '2025-06-30',
      note: 'away',
    });
    expect(((await days())[0]?.halfOn ?? '') > '2025-06-30').toBe(true);
    await rig.call('promises.reopen', { id: closed.id });
    expect((await days())[0]).toEqual(before);
    expect((await rig.fault('promises.close', { from: '2025-06-30', until: '2025-06-03' })).field).toBe(
      'until',
    );
    const asked = await days({ newModelId: modelId });
    expect(asked.at(-1)).toMatchObject({ kind: 'new', minutes: 420 });
    // What is said to a buyer is a Friday on or after the likely day.
    expect(new Date(`${asked.at(-1)?.sayOn ?? ''}T12:00:00Z`).getUTCDay()).toBe(5);
    expect((await rig.fault('promises.list', { lostBuildId: 'nobody' })).kind).toBe('missing');
  });

  it('hold the pace against all stages a knife went through, ticked or not, and say what lies beyond five years', async () => {
    const id = await plan();
    // As long as usual on every stage, but only the first one ticked: 420 of 420 minutes, not 420 of 60.
    await book(id, 'CUT', 60, '2025-05-20');
    await book(id, 'GR2', 240, '2025-05-20');
    await book(id, 'HDL', 120, '2025-05-21');
    await rig.call('builds.stage', { id, code: 'CUT', done: true, on: '2025-05-20' });
    await rig.call('builds.finish', { id, on: '2025-05-22' });
    expect((await rig.call('promises.list', {})).pace?.middlePpm).toBe(1_000_000);
    await rig.call('promises.setWeek', { weekMinutes: 1 });
    await plan();
    // 420 minutes at one a week are eight years.
    expect((await rig.call('promises.list', {})).assumed[0]).toContain('stands for later');
  });

  it('count an order that still runs past its day as not kept', async () => {
    await rig.call('promises.setWeek', { weekMinutes: 420 });
    const buyer = await rig.call('selling.saveBuyer', { name: 'Wynne Quincebury' });
    const [channel] = await rig.call('workshop.channels', {});
    const { id } = await rig.call('orders.ask', { buyerId: buyer.id, modelId, wish: '', on: '2025-05-26' });
    const named = { priceMinor: 30_000, channelId: channel?.id ?? '', promisedOn: '2025-06-20' };
    await rig.call('orders.offer', { id, modelId, wish: '', on: '2025-05-26', taxPlaceId: null, ...named });
    // A knife for nobody has the lower number; the day the order is agreed with puts it first.
    await plan();
    await rig.call('orders.agree', { id, on: '2025-06-02', promisedOn: '2025-06-21', policyId: null });
    // Named before it was agreed, and the same as the list names it now.
    const [first] = (await rig.call('promises.list', {})).rows;
    expect(first).toMatchObject({ orderId: id, promisedOn: '2025-06-21' });
    expect(rig.db.all(rig.db.q.selectFrom('promise_notes').selectAll())).toMatchObject([
      { order_id: id, on_date: '2025-06-02', half_on: first?.halfOn, likely_on: first?.likelyOn },
    ]);
    const kept = async () => (await rig.call('promises.list', {})).kept;
    expect(await kept()).toMatchObject({ promised: 0, inTime: 0, overdue: 0, noted: 0, byLikely: 0 });
    rig.clock.set('2025-08-01');
    expect(await kept()).toMatchObject({ promised: 1, inTime: 0, overdue: 1, noted: 1, byLikely: 0 });
  });
});
