/** What now with a doubtful knife, trials and becoming another model, through the real core. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRig, type Rig, wholeBooks } from './rig.ts';

let rig: Rig;
let chef = '';
let petty = '';
beforeEach(async () => {
  rig = await openRig({ now: '2025-06-01' });
  const model = (code: string, family: string, stages: readonly (readonly [string, number])[]) =>
    rig.call('builds.saveModel', {
      code,
      name: `Model ${code}`,
      family,
      method: 'paper',
      stages: stages.map(([stage, minutes]) => ({ code: stage, minutes })),
      parts: [],
      flats: [{ label: 'Oil and gloves', use: 'consumable', amountMicro: 5_000_000 }],
    });
  chef = (
    await model('CHF', 'CHF', [
      ['CUT', 20],
      ['GR2', 150],
      ['HND', 300],
      ['FIN', 110],
    ])
  ).id;
  petty = (
    await model('PET', 'PET', [
      ['CUT', 40],
      ['GR2', 100],
      ['FIN', 90],
    ])
  ).id;
  await rig.call('builds.setPrice', { modelId: chef, from: '2025-01-01', priceMinor: 54_000 });
  await rig.call('builds.setPrice', { modelId: petty, from: '2025-01-01', priceMinor: 26_500 });
});
afterEach(() => rig.close());

const planned = async (modelId: string, on: string, method = 'paper') => {
  const { ids } = await rig.call('builds.plan', { modelId, on, count: 1, method });
  return ids[0] ?? '';
};
const work = async (buildId: string, stageCode: string, minutes: number, on: string) => {
  await rig.call('hours.book', { on, minutes, stageCode, workKind: null, shares: [{ buildId, weight: 1 }] });
  await rig.call('builds.stage', { id: buildId, code: stageCode, done: true, on });
};
const doubt = (buildId: string, measure: 'edgeFlex' | 'fit', verdict: 'fail' | 'rework') =>
  rig.call('gates.check', {
    measure,
    on: '2025-05-20',
    knives: [{ buildId, readings: measure === 'fit' ? [{ value: 300_000 }] : [], verdict, note: 'seen' }],
  });

describe('what now with a doubtful knife', () => {
  it('never counts what is sunk, and leaves a chipped edge no price', async () => {
    const id = await planned(chef, '2025-05-01');
    await work(id, 'CUT', 25, '2025-05-02');
    const before = await rig.call('ways.reckon', { buildId: id });
    await work(id, 'GR2', 900, '2025-05-03');
    await rig.call('builds.stage', { id, code: 'GR2', done: false, on: '2025-05-03' });
    await doubt(id, 'edgeFlex', 'fail');
    const after = await rig.call('ways.reckon', { buildId: id });
    expect([before.sunk.minutes, after.sunk.minutes]).toEqual([25, 925]);
    const scrap = after.ways.find((way) => way.way === 'scrap');
    expect([scrap?.leftMinor, scrap?.afterHoursMinor]).toEqual([0, 0]);
    for (const way of ['asPlanned', 'second'] as const) {
      const found = after.ways.find((one) => one.way === way);
      expect([found?.chancePpm, found?.caution]).toEqual([
        0,
        expect.stringContaining('never sold') as string,
      ]);
    }
    // 900 minutes on a stage of 150 are more than was usual: none is left of it, but none is given back either.
    const planAfter = after.ways.find((one) => one.way === 'asPlanned');
    expect(planAfter?.minutes).toBe(410);
    expect(after.doubts[0]).toContain('failed on 2025-05-20: seen');
  });

  it('takes hours from own knives from three on, what the maker knows, and ranks by what is left after hours', async () => {
    for (const [at, minutes] of [200, 240, 280].entries()) {
      const id = await planned(chef, `2025-0${String(at + 1)}-01`);
      for (const code of ['CUT', 'GR2', 'FIN'] as const)
        await work(id, code, 60, `2025-0${String(at + 1)}-02`);
      await work(id, 'HND', minutes, `2025-0${String(at + 1)}-03`);
      await rig.call('builds.finish', { id, on: `2025-0${String(at + 1)}-04` });
    }
    const id = await planned(chef, '2025-05-01');
    await work(id, 'CUT', 60, '2025-05-02');
    await doubt(id, 'fit', 'rework');
    const ways = await rig.call('ways.reckon', {
      buildId: id,
      known: [{ way: 'second', priceMinor: 30_000 }],
    });
    const rework = ways.ways.find((way) => way.way === 'rework');
    expect(rework?.stages.map(({ code, minutes, from }) => [code, minutes, from])).toEqual([
      ['CUT', 60, 3],
      ['GR2', 60, 3],
      ['HND', 240, 3],
      ['FIN', 60, 3],
    ]);
    expect([rework?.minutesLow, rework?.minutesHigh]).toEqual([400, 440]);
    const second = ways.ways.find((way) => way.way === 'second');
    expect([second?.priceMinor, second?.priceHow]).toEqual([30_000, 'as you wrote']);
    const after = ways.ways.map((way) => way.afterHoursMinor);
    expect(after).toEqual(after.toSorted((a, b) => b - a));
    expect(ways.models.map((model) => model.code)).toEqual(['PET']);
    const shorten = ways.ways.find((way) => way.way === 'shorten');
    expect([shorten?.priceMinor, shorten?.minutes]).toEqual([26_500, 40 + 100 + 90]);
  });

  it('takes the fee off the whole charge, and no tax for income where prices hold it', async () => {
    const id = await planned(chef, '2025-05-01');
    const plan = async () =>
      (await rig.call('ways.reckon', { buildId: id })).ways.find((way) => way.way === 'asPlanned');
    // 540.00 and 6.5 % of it are 575.10; 2.9 % of that are 16.68, and 0.30.
    expect(await plan()).toMatchObject({ priceMinor: 54_000, feeMinor: 1698 });
    const [home] = await rig.call('workshop.taxPlaces', {});
    if (home === undefined) throw new Error('the books hold no tax place');
    await rig.call('workshop.saveTaxPlace', { ...home, ratePpm: 200_000, inclusive: true });
    // 540.00 hold 90.00 of tax; 2.9 % of 540.00 are 15.66, and 0.30.
    expect(await plan()).toMatchObject({
      priceMinor: 45_000,
      priceHow: 'list price since 2025-01-01, without the tax in it',
      feeMinor: 1596,
    });
  });

  it('says what is assumed where there is no history at all, and asks for a price where there is none', async () => {
    const bare = await rig.call('builds.saveModel', {
      code: 'QUO',
      name: 'By quote',
      family: '',
      method: '',
      stages: [{ code: 'CUT', minutes: 30 }],
      parts: [],
      flats: [],
    });
    const ways = await rig.call('ways.reckon', { buildId: await planned(bare.id, '2025-05-01') });
    expect(ways.ways.find((way) => way.way === 'asPlanned')?.missing).toContain('no list price');
    expect(ways.ways.find((way) => way.way === 'asPlanned')?.chanceHow).toContain('0 of 0 own knives');
    expect(ways.sentence).not.toBe('');
    expect((await rig.fault('ways.reckon', { buildId: 'nobody' })).kind).toBe('missing');
  });

  it('keeps a decision with the ways of that day, and refuses a day to come', async () => {
    const id = await planned(chef, '2025-05-01');
    await work(id, 'CUT', 25, '2025-05-02');
    const kept = await rig.call('ways.decide', {
      buildId: id,
      on: '2025-05-20',
      chosen: 'second',
      reason: 'gap',
    });
    expect(kept.ways.map((way) => way.way).toSorted()).toEqual([
      'asPlanned',
      'rework',
      'scrap',
      'second',
      'shorten',
    ]);
    expect((await rig.call('ways.reckon', { buildId: id })).decisions).toEqual([kept]);
    const late = await rig.fault('ways.decide', {
      buildId: id,
      on: '2025-06-02',
      chosen: 'scrap',
      reason: 'x',
    });
    expect([late.kind, late.field]).toEqual(['invalid', 'on']);
  });
});

describe('becoming another model', () => {
  it('keeps what is booked and takes the other model’s stages from here', async () => {
    const id = await planned(chef, '2025-05-01');
    await work(id, 'CUT', 25, '2025-05-02');
    await rig.call('hours.book', {
      on: '2025-05-03',
      minutes: 40,
      stageCode: 'HND',
      workKind: null,
      shares: [{ buildId: id, weight: 1 }],
    });
    const row = await rig.call('builds.become', { id, modelId: petty, reason: 'tip lost' });
    expect([row.modelCode, row.title, row.minutes]).toEqual(['PET', 'Model PET', 65]);
    const knife = await rig.call('builds.get', { id });
    expect(knife.stages.map((stage) => [stage.code, stage.doneOn !== null])).toEqual([
      ['CUT', true],
      ['GR2', false],
      ['HND', false],
      ['FIN', false],
    ]);
    expect(knife.notes[0]?.text).toBe('Became Model PET instead of Model CHF: tip lost');
  });
  it('is refused for a knife that has ended, and for the model it is already', async () => {
    const id = await planned(chef, '2025-05-01');
    const before = wholeBooks(rig.db);
    expect((await rig.fault('builds.become', { id, modelId: chef, reason: 'x' })).message).toContain(
      'already',
    );
    expect(wholeBooks(rig.db)).toEqual(before);
    await rig.call('builds.start', { id, on: '2025-05-02' });
    await rig.call('builds.end', { id, as: 'scrapped', on: '2025-05-03', reason: 'cracked' });
    expect((await rig.fault('builds.become', { id, modelId: petty, reason: 'x' })).message).toContain(
      'has ended',
    );
  });
});

describe('trials', () => {
  const tried = async (method: string, minutes: readonly number[], month: number) => {
    for (const [at, taken] of minutes.entries()) {
      const on = `2025-0${String(month)}-0${String(at + 1)}`;
      const id = await planned(chef, on, method);
      await work(id, 'GR2', 150, on);
      await work(id, 'HND', taken, on);
      // Five of the usual twenty minutes, not ticked: half a stage says nothing of the pace.
      await rig.call('hours.book', {
        on,
        minutes: 5,
        stageCode: 'CUT',
        workKind: null,
        shares: [{ buildId: id, weight: 1 }],
      });
    }
  };
  const begin = () =>
    rig.call('trials.save', {
      title: 'Stone or paper',
      modelId: chef,
      stageCode: 'HND',
      first: { name: 'Paper', method: 'paper' },
      second: { name: 'Stone', method: 'stone' },
    });

  it('compare by the way noted on the knives, move one by hand, and divide practice out by table or pace', async () => {
    await tried('paper', [300, 310, 320], 1);
    await tried('stone', [240, 250, 260], 2);
    const { id } = await begin();
    const trial = await rig.call('trials.get', { id });
    expect([trial.raw?.first.mean, trial.raw?.second.mean, trial.raw?.savingPpm]).toEqual([
      310, 250, 193_548,
    ]);
    // The other stage took its usual 150 minutes on every knife: pace 1, known and without effect.
    expect(new Set(trial.knives.map((knife) => `${knife.factorFrom} ${String(knife.factorPpm)}`))).toEqual(
      new Set(['pace 1000000']),
    );
    await rig.call('trials.savePractice', { modelId: chef, factorsPpm: [1_200_000, 1_100_000, 1_000_000] });
    const practised = await rig.call('trials.get', { id });
    expect(practised.knives.map((knife) => knife.factorPpm)).toEqual([
      1_200_000, 1_100_000, 1_000_000, 1_000_000, 1_000_000, 1_000_000,
    ]);
    expect(practised.practised?.first.mean).toBe(283.9);
    const moved = await rig.call('trials.place', {
      trialId: id,
      buildId: trial.knives[0]?.buildId ?? '',
      way: 0,
      reason: 'interrupted',
    });
    expect([moved.raw?.first.n, moved.knives[0]?.reason]).toEqual([2, 'interrupted']);
    expect(moved.warnings[0]).toContain('Too few to say');
    const again = await rig.call('trials.place', {
      trialId: id,
      buildId: trial.knives[0]?.buildId ?? '',
      way: null,
    });
    expect(again.raw).toEqual(practised.raw);
  });

  it('say what is missing, and refuse another model, one way twice, and days that run backwards', async () => {
    await tried('paper', [300], 1);
    const { id, sentence } = await begin();
    expect(sentence).toContain('“Stone” yet');
    const ask = (more: object) =>
      rig.fault('trials.save', {
        title: 'x',
        modelId: chef,
        stageCode: 'HND',
        first: { name: 'a', method: 'paper' },
        second: { name: 'b', method: 'stone' },
        ...more,
      });
    expect((await ask({ second: { name: 'b', method: 'Paper' } })).field).toBe('second.method');
    expect((await ask({ from: '2025-02-01', until: '2025-01-01' })).field).toBe('until');
    expect((await ask({ stageCode: 'XXX' })).field).toBe('stageCode');
    expect((await ask({ id, modelId: petty })).message).toContain('knives of two models');
    const other = await planned(petty, '2025-01-05');
    await rig.call('builds.start', { id: other, on: '2025-01-05' });
    expect((await rig.fault('trials.place', { trialId: id, buildId: other, way: 1, reason: 'x' })).kind).toBe(
      'missing',
    );
  });
});
