import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRig, type Rig } from './rig.ts';
import { type Shelf, stockShelf } from './shelf.ts';

let rig: Rig;
let shelf: Shelf;
let knife: string;
const on = '2024-07-06';
const HRC = 1000;
const THOU = 25_400;
const MM = 1_000_000;

beforeEach(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
  [knife = ''] = await shelf.plan(1);
  await rig.call('builds.start', { id: knife, on });
});
afterEach(() => rig.close());

const gateOf = async (measure: string) =>
  (await rig.call('gates.forBuild', { buildId: knife })).find((gate) => gate.measure === measure);

describe('what a gate asks for', () => {
  const bounds = { target: 61 * HRC, low: 60 * HRC, high: 62 * HRC };

  it('is the nearest: model and steel, then model, then steel, then all', async () => {
    const asked = async () => (await gateOf('hardness'))?.asked?.target;
    const save = (target: number, modelId: string | null, steelItemId: string | null) =>
      rig.call('gates.saveTarget', { measure: 'hardness', target, modelId, steelItemId });
    expect(await asked()).toBeUndefined();
    await save(58 * HRC, null, null);
    expect(await asked()).toBe(58 * HRC);
    await save(59 * HRC, null, shelf.itemIds.bar);
    expect(await asked()).toBe(59 * HRC);
    await save(60 * HRC, shelf.modelId, null);
    expect(await asked()).toBe(60 * HRC);
    await save(61 * HRC, shelf.modelId, shelf.itemIds.bar);
    expect(await asked()).toBe(61 * HRC);
  });

  it('writes the same model and steel over, and keeps what was asked of checks already made', async () => {
    await rig.call('gates.saveTarget', { measure: 'hardness', modelId: shelf.modelId, ...bounds });
    const [made] = await rig.call('gates.check', {
      measure: 'hardness',
      on,
      knives: [{ buildId: knife, readings: [{ value: 61_500 }], verdict: 'pass' }],
    });
    await rig.call('gates.saveTarget', {
      measure: 'hardness',
      modelId: shelf.modelId,
      ...bounds,
      high: 63 * HRC,
    });
    expect(await rig.call('gates.targets', {})).toHaveLength(1);
    const [kept] = (await gateOf('hardness'))?.checks ?? [];
    expect([made?.high, kept?.high]).toEqual([62 * HRC, 62 * HRC]);
  });

  it('refuses bounds that contradict each other and numbers for a gate without any', async () => {
    expect(
      await rig.fault('gates.saveTarget', { measure: 'hardness', low: 62 * HRC, high: 60 * HRC }),
    ).toMatchObject({ field: 'low' });
    expect(
      await rig.fault('gates.saveTarget', { measure: 'hardness', ...bounds, target: 65 * HRC }),
    ).toMatchObject({ field: 'target' });
    expect((await rig.fault('gates.saveTarget', { measure: 'chop', low: 1 })).message).toContain(
      'no numbers',
    );
  });
});

describe('a check', () => {
  it('reports three places behind the edge and says when one lies outside', async () => {
    await rig.call('gates.saveTarget', { measure: 'behindEdge', low: 5 * THOU, high: 10 * THOU });
    const [made] = await rig.call('gates.check', {
      measure: 'behindEdge',
      on,
      knives: [
        {
          buildId: knife,
          readings: [
            { place: 'heel', value: 9 * THOU },
            { place: 'middle', value: 8 * THOU },
            { place: 'tip', value: 11 * THOU },
          ],
          verdict: 'rework',
          note: 'Thin the tip.',
        },
      ],
    });
    expect([made?.words, made?.within, made?.verdict]).toEqual([
      'heel 9 thou, middle 8 thou, tip 11 thou',
      false,
      'rework',
    ]);
    expect((await gateOf('behindEdge'))?.state).toBe('rework');
  });

  it('keeps the scale it was measured on and compares in HRC', async () => {
    await rig.call('gates.saveTarget', { measure: 'hardness', low: 60 * HRC, high: 63 * HRC });
    const [made] = await rig.call('gates.check', {
      measure: 'hardness',
      on,
      knives: [{ buildId: knife, scale: 'HV', readings: [{ value: 746_000 }], verdict: 'pass' }],
    });
    expect([made?.words, made?.within]).toEqual(['746 HV (62 HRC)', true]);
  });

  it('gives the mean of several dents', async () => {
    const [made] = await rig.call('gates.check', {
      measure: 'hardness',
      on,
      knives: [
        {
          buildId: knife,
          readings: [61_000, 61_500, 62_000].map((value) => ({ value })),
          verdict: 'pass',
        },
      ],
    });
    expect(made?.words).toBe('61.5 HRC (733 HV), mean of 3');
  });

  it('goes over a whole batch at once, all or nothing', async () => {
    const [second = '', planned = ''] = await shelf.plan(2);
    await rig.call('builds.start', { id: second, on });
    const of = (buildId: string) => ({ buildId, readings: [{ value: MM / 2 }], verdict: 'pass' as const });
    const made = await rig.call('gates.check', { measure: 'warp', on, knives: [of(knife), of(second)] });
    expect(made.map((each) => each.words)).toEqual(['0.5 mm', '0.5 mm']);
    expect(
      (await rig.fault('gates.check', { measure: 'warp', on, knives: [of(second), of(planned)] })).message,
    ).toContain('only planned');
    expect((await rig.call('gates.list', { measure: 'warp' })).total).toBe(2);
  });

  it('stays when voided, with the reason, and the gate is open again', async () => {
    const [made] = await rig.call('gates.check', {
      measure: 'edgeFlex',
      on,
      knives: [{ buildId: knife, verdict: 'fail' }],
    });
    expect((await gateOf('edgeFlex'))?.state).toBe('fail');
    await rig.call('gates.void', { checkId: made?.id ?? '', reason: 'Wrong knife' });
    const gate = await gateOf('edgeFlex');
    expect([gate?.state, gate?.checks[0]?.voidedReason]).toEqual(['open', 'Wrong knife']);
    expect((await rig.fault('gates.void', { checkId: made?.id ?? '', reason: 'Again' })).message).toContain(
      'voided already',
    );
  });

  it.each([
    [
      'a hardness outside the table',
      { measure: 'hardness', readings: [{ value: 75_000 }] },
      'outside the table',
    ],
    ['a size below zero', { measure: 'warp', readings: [{ value: -1 }] }, 'below zero'],
    ['numbers where there are none', { measure: 'chop', readings: [{ value: 1 }] }, 'no numbers'],
    ['a scale for a length', { measure: 'warp', readings: [{ value: 1 }], scale: 'HV' }, 'Only hardness'],
  ])('refuses %s', async (_, { measure, ...rest }, sentence) => {
    const fault = await rig.fault('gates.check', {
      measure,
      on,
      knives: [{ buildId: knife, verdict: 'pass', ...rest }],
    });
    expect(fault.message).toContain(sentence);
  });

  it('refuses a day that has not come, and the same knife twice', async () => {
    const one = { buildId: knife, verdict: 'pass' };
    expect(await rig.fault('gates.check', { measure: 'cut', on: '2024-07-07', knives: [one] })).toMatchObject(
      {
        field: 'on',
      },
    );
    expect((await rig.fault('gates.check', { measure: 'cut', on, knives: [one, one] })).message).toContain(
      'twice',
    );
  });
});
