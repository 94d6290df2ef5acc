import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { nextSerials, serialPrefix } from '../../electron/workshop/builds/serial.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const inch = (n: number): number => n * toBase(1, 'in');

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig({ now: '2024-07-31' });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

const fillRack = async () => ({
  bar: first(await shelf.buy('bar', 1, inch(48), 24)),
  walnut: first(await shelf.buy('walnut', 8, 1_000_000, 112)),
  belt: first(await shelf.buy('belt', 7, 1_000_000, 68.6)),
});

describe('models', () => {
  it('keeps a model with stages, parts, flat costs and prices', async () => {
    await rig.call('builds.setPrice', { modelId: shelf.modelId, from: '2024-01-01', priceMinor: 15_000 });
    const model = await rig.call('builds.setPrice', {
      modelId: shelf.modelId,
      from: '2025-06-01',
      priceMinor: 16_500,
    });
    expect({
      ...model,
      parts: model.parts.map((part) => [part.label, part.perBar, part.qtyLeft]),
      flats: model.flats.map((flat) => flat.label),
    }).toEqual({
      id: shelf.modelId,
      code: 'PAR',
      name: 'Tessel paring',
      family: 'PAR',
      method: 'belt',
      bladeNm: null,
      steel: '',
      finish: '',
      usualMinutes: 180,
      priceMinor: 15_000,
      open: 0,
      finished: 0,
      sold: 0,
      archived: false,
      care: '',
      options: [],
      note: '',
      stages: [
        { code: 'CUT', name: 'Cut and profile', minutes: 35 },
        { code: 'GR2', name: 'Grind after hardening', minutes: 70 },
        { code: 'FIN', name: 'Shape and finish handle', minutes: 75 },
      ],
      parts: [
        ['Steel', 6, 0],
        ['Handle', null, 0],
        ['Belt 36', null, 0],
      ],
      flats: ['Oil and gloves', 'Kiln power'],
      prices: [
        { from: '2025-06-01', priceMinor: 16_500 },
        { from: '2024-01-01', priceMinor: 15_000 },
      ],
    });
    rig.clock.set('2025-06-01');
    expect((await rig.call('builds.models', {}))[0]?.priceMinor).toBe(16_500);
  });

  it('keeps the ids of parts and flats that stay, so that a booked flat is still known as booked', async () => {
    const before = await rig.call('builds.model', { id: shelf.modelId });
    const knife = first(await shelf.plan());
    await rig.call('builds.takeUsual', { id: knife, on: '2024-07-07', flatIds: [first(before.flats).id] });
    const { id, code, name } = before;
    const flats = [...before.flats]
      .reverse()
      .map(({ label, use }) => ({ label, use, amountMicro: micro(9) }));
    const after = await rig.call('builds.saveModel', { id, code, name, stages: [], parts: [], flats });
    expect(after.flats.map((flat) => flat.id).sort()).toEqual(before.flats.map((flat) => flat.id).sort());
    const build = await rig.call('builds.get', { id: knife });
    expect(build.flats.map((flat) => [flat.label, flat.booked])).toEqual([
      ['Kiln power', false],
      ['Oil and gloves', true],
    ]);
    // The knife keeps the stages it was planned with.
    expect([after.stages, build.stages.map((stage) => stage.code)]).toEqual([[], ['CUT', 'GR2', 'FIN']]);
  });

  it('refuses a code taken twice, unknown stages and items, and a stage named twice', async () => {
    const model = { code: 'X', name: 'X', stages: [], parts: [], flats: [] };
    const part = { label: 'Steel', itemId: 'gone', use: 'material', qty: 1 };
    const faults = [
      await rig.fault('builds.saveModel', { ...model, code: 'PAR' }),
      await rig.fault('builds.saveModel', { ...model, stages: [{ code: 'ZZZ', minutes: 1 }] }),
      await rig.fault('builds.saveModel', {
        ...model,
        stages: [
          { code: 'CUT', minutes: 1 },
          { code: 'CUT', minutes: 2 },
        ],
      }),
      await rig.fault('builds.saveModel', { ...model, parts: [part] }),
      await rig.fault('builds.saveModel', {
        ...model,
        parts: [{ ...part, itemId: shelf.itemIds.bar, stageCode: 'ZZZ' }],
      }),
      await rig.fault('builds.saveModel', { ...model, id: 'gone' }),
    ];
    expect(faults.map((fault) => fault.field)).toEqual([
      'code',
      'stages.0.code',
      'stages.1.code',
      'parts.0.itemId',
      'parts.0.stageCode',
      undefined,
    ]);
  });
});

describe('serials', () => {
  it('go on from the knife planned last, in its own way of writing', () => {
    expect(nextSerials(serialPrefix([]), undefined, 2)).toEqual(['W01', 'W02']);
    expect(nextSerials(serialPrefix(['W45']), 'W45', 1)).toEqual(['W46']);
    expect(nextSerials(serialPrefix(['A-099']), 'A-099', 2)).toEqual(['A-100', 'A-101']);
    expect(serialPrefix(['Jorun’s own', '2024-0007'])).toBe('2024-');
    expect(nextSerials(serialPrefix(['7']), '7', 1)).toEqual(['8']);
  });

  it('count from the highest number, whatever else begins with the same letters', async () => {
    const plan = (serial?: string) =>
      rig.call('builds.plan', {
        modelId: shelf.modelId,
        on: '2024-07-06',
        ...(serial === undefined ? {} : { serial }),
      });
    for (const serial of ['W099', 'W1-500', 'W9', 'WX900', 'w950', 'W010']) await plan(serial);
    expect((await plan()).serials).toEqual(['W100']);
    await plan('Für Ådne 7');
    expect((await plan()).serials).toEqual(['Für Ådne 8']);
  });

  it('are the person’s own when given, and never given twice', async () => {
    await rig.call('builds.plan', { modelId: shelf.modelId, serial: 'K007', on: '2024-07-06' });
    const next = await rig.call('builds.plan', { modelId: shelf.modelId, count: 2, on: '2024-07-06' });
    expect(next.serials).toEqual(['K008', 'K009']);
    const twice = await rig.fault('builds.plan', {
      modelId: shelf.modelId,
      serial: 'K008',
      on: '2024-07-06',
    });
    const many = await rig.fault('builds.plan', {
      modelId: shelf.modelId,
      serial: 'K100',
      count: 2,
      on: '2024-07-06',
    });
    const model = await rig.fault('builds.plan', { modelId: 'gone', on: '2024-07-06' });
    expect([twice.message, many.field, model.kind]).toEqual([
      'There is already a knife K008. Give this one another serial.',
      'serial',
      'missing',
    ]);
  });
});

describe('a knife’s way', () => {
  it('is planned, started, ticked along its stages and finished', async () => {
    const id = first(await shelf.plan());
    const early = await rig.fault('builds.finish', { id, on: '2024-07-10' });
    expect(early.message).toBe('W01 was never started. Start it first, or book its hours and parts.');
    await rig.call('builds.start', { id, on: '2024-07-07' });
    const cut = await rig.call('builds.stage', { id, code: 'CUT', done: true, on: '2024-07-08' });
    expect([cut.stagesDone, cut.stagesAll, cut.nextStageCode, cut.nextStageName]).toEqual([
      1,
      3,
      'GR2',
      'Grind after hardening',
    ]);
    await rig.call('builds.stage', { id, code: 'CUT', done: false, on: '2024-07-08' });
    const etched = await rig.call('builds.stage', { id, code: 'ETC', done: true, on: '2024-07-09' });
    expect([etched.stagesDone, etched.stagesAll, etched.nextStageCode]).toEqual([1, 4, 'CUT']);
    const before = await rig.fault('builds.finish', { id, on: '2024-07-06' });
    expect(before.message).toBe('W01 was started on 2024-07-07; it cannot end before that. Change the date.');
    const done = await rig.call('builds.finish', { id, on: '2024-07-10' });
    expect(done).toEqual({
      id,
      serial: 'W01',
      title: 'Tessel paring',
      modelId: shelf.modelId,
      modelCode: 'PAR',
      modelName: 'Tessel paring',
      state: 'finished',
      method: 'belt',
      batch: '',
      plannedOn: '2024-07-06',
      startedOn: '2024-07-07',
      finishedOn: '2024-07-10',
      stagesDone: 1,
      stagesAll: 4,
      nextStageCode: 'CUT',
      nextStageName: 'Cut and profile',
      minutes: 0,
      costMicro: 0,
      photoId: null,
    });
    const again = await rig.fault('builds.finish', { id, on: '2024-07-11' });
    expect(again.message).toBe('W01 is finished already; only a knife in work is finished.');
    const started = await rig.fault('builds.start', { id, on: '2024-07-11' });
    expect(started.message).toBe('W01 is finished already; only a planned knife is started.');
  });

  it('ends scrapped or kept with a reason, and comes back to where it was', async () => {
    const [planned, worked] = await shelf.plan(2);
    await rig.call('builds.start', { id: worked ?? '', on: '2024-07-07' });
    for (const id of [planned, worked]) {
      const ended = await rig.call('builds.end', {
        id: id ?? '',
        as: 'kept',
        on: '2024-07-08',
        reason: 'tester',
      });
      expect(ended.state).toBe('kept');
      expect((await rig.call('builds.get', { id: id ?? '' })).endReason).toBe('tester');
      expect(
        (await rig.fault('builds.end', { id, as: 'scrapped', on: '2024-07-08', reason: 'x' })).kind,
      ).toBe('refused');
    }
    const back = await Promise.all(
      [planned, worked].map((id) => rig.call('builds.reopen', { id: id ?? '', reason: 'sold after all' })),
    );
    expect(back.map((row) => row.state)).toEqual(['planned', 'inWork']);
    expect((await rig.fault('builds.reopen', { id: planned, reason: 'x' })).message).toBe(
      'W01 is on the bench already.',
    );
  });

  it('is renamed, noted on, and charged and uncharged', async () => {
    rig.clock.set('2024-07-06');
    const id = first(await shelf.plan());
    const renamed = await rig.call('builds.update', {
      id,
      serial: 'X1',
      title: 'For the shop window',
      method: 'stone',
      batch: 'B1',
      note: 'n',
    });
    expect([renamed.serial, renamed.title, renamed.method, renamed.batch]).toEqual([
      'X1',
      'For the shop window',
      'stone',
      'B1',
    ]);
    const { noteId } = await rig.call('builds.addNote', { id, text: 'slight bend near the tip' });
    const early = { buildId: id, on: '2024-07-07', label: 'Propane', use: 'energy', amountMicro: 1 };
    expect((await rig.fault('builds.charge', early)).message).toContain('still to come');
    const charge = await rig.call('builds.charge', {
      buildId: id,
      on: '2024-07-06',
      label: 'Propane',
      use: 'energy',
      amountMicro: micro(2.5),
    });
    const build = await rig.call('builds.get', { id });
    expect([build.state, build.costMicro, build.notes]).toEqual([
      'inWork',
      micro(2.5),
      [{ id: noteId, at: '2024-07-06T12:00:00.000Z', text: 'slight bend near the tip' }],
    ]);
    const back = await rig.call('builds.reverseCharge', { chargeId: charge.id, reason: 'not this one' });
    expect(back).toEqual({
      id: back.id,
      on: '2024-07-06',
      label: 'Propane',
      use: 'energy',
      amountMicro: -micro(2.5),
      rung: 1,
      reversesId: charge.id,
      reversedById: null,
    });
    expect((await rig.call('builds.get', { id })).costMicro).toBe(0);
    const twice = await rig.fault('builds.reverseCharge', { chargeId: charge.id, reason: 'x' });
    const chain = await rig.fault('builds.reverseCharge', { chargeId: back.id, reason: 'x' });
    const unknown = await rig.fault('builds.reverseCharge', { chargeId: 'gone', reason: 'x' });
    expect([twice.kind, chain.kind, unknown.kind]).toEqual(['refused', 'refused', 'missing']);
  });

  it('was started on the earliest day anything went into it', async () => {
    await fillRack();
    const id = first(await shelf.plan());
    const draw = { buildId: id, itemId: shelf.itemIds.belt, qty: 1000, use: 'consumable' } as const;
    await rig.call('stock.draw', { ...draw, on: '2024-07-09' });
    await rig.call('stock.draw', { ...draw, on: '2024-07-05' });
    expect((await rig.call('builds.get', { id })).startedOn).toBe('2024-07-05');
  });
});

describe('taking the usual parts', () => {
  const usual = async (id: string) => {
    const build = await rig.call('builds.get', { id });
    return {
      parts: build.parts.map((part) => ({ partId: part.id })),
      flatIds: build.flats.map((flat) => flat.id),
    };
  };

  it('takes a sixth of the bar, the handle and a share of a belt, and books the flat costs, in one step', async () => {
    await fillRack();
    const id = first(await shelf.plan());
    const taken = await rig.call('builds.takeUsual', { id, on: '2024-07-07', ...(await usual(id)) });
    // 24.00 / 6 + 14.00 + 0.15 × 9.80 + 3.10 + 0.75
    expect(taken.valueMicro).toBe(micro(4 + 14 + 1.47 + 3.1 + 0.75));
    const build = await rig.call('builds.get', { id });
    expect([build.state, build.costMicro]).toEqual(['inWork', taken.valueMicro]);
    expect(build.parts.map((part) => [part.label, part.takenQty, part.qtyLeft])).toEqual([
      ['Steel', inch(7.75), inch(40)],
      ['Handle', 1_000_000, 7_000_000],
      ['Belt 36', 150_000, 6_850_000],
    ]);
    expect(build.movements.map((m) => [m.qty, m.netQty, m.stageCode]).reverse()).toEqual([
      [-inch(8), inch(7.75), 'CUT'],
      [-1_000_000, null, null],
      [-150_000, null, 'GR2'],
    ]);
    expect(
      build.charges.map((charge) => [charge.label, charge.use, charge.amountMicro, charge.rung]),
    ).toEqual([
      ['Oil and gloves', 'consumable', micro(3.1), 2],
      ['Kiln power', 'energy', micro(0.75), 2],
    ]);
    const twice = await rig.fault('builds.takeUsual', {
      id,
      on: '2024-07-07',
      flatIds: (await usual(id)).flatIds,
    });
    expect(twice.message).toBe('Oil and gloves is booked for W01 already. Leave it out.');
  });

  it('takes nothing at all when one part cannot be had, and names it', async () => {
    await shelf.buy('bar', 1, inch(48), 24);
    await shelf.buy('belt', 7, 1_000_000, 68.6);
    const id = first(await shelf.plan());
    const before = wholeBooks(rig.db);
    const fault = await rig.fault('builds.takeUsual', { id, on: '2024-07-07', ...(await usual(id)) });
    expect(fault).toEqual({
      kind: 'refused',
      field: 'parts.1',
      message: 'Handle: Nothing is left of this to take 1 pair from. Enter a purchase or choose another lot.',
    });
    expect(wholeBooks(rig.db)).toEqual(before);
  });

  it('moves on to the next bar when the oldest has no share left, or to the bar that is named', async () => {
    const [one, two, three] = await shelf.buy('bar', 3, inch(48), 75);
    const steel = first((await rig.call('builds.model', { id: shelf.modelId })).parts).id;
    const knives = await shelf.plan(8);
    for (const id of knives.slice(0, 7))
      await rig.call('builds.takeUsual', { id, on: '2024-07-07', parts: [{ partId: steel }] });
    await rig.call('builds.takeUsual', {
      id: knives[7] ?? '',
      on: '2024-07-07',
      parts: [{ partId: steel, lotId: three ?? '' }],
    });
    const { rows } = await rig.call('stock.lots', { itemId: shelf.itemIds.bar, onlyLeft: false });
    expect(rows.map((lot) => [lot.id, lot.qtyLeft])).toEqual([
      [one, 0],
      [two, inch(40)],
      [three, inch(40)],
    ]);
    const long = await rig.fault('builds.takeUsual', {
      id: knives[0],
      on: '2024-07-07',
      parts: [{ partId: steel, qty: inch(9) }],
    });
    expect(long.message).toBe(
      'Steel: Stainless bar 0.070 × 1.25: A bar of 48 in does not yield 6 blanks of 9 in. Plan fewer blanks per bar.',
    );
    const used = await rig.fault('builds.takeUsual', {
      id: knives[0],
      on: '2024-07-07',
      parts: [{ partId: steel, lotId: one }],
    });
    expect(used.field).toBe('parts.0');
    const gone = await rig.fault('builds.takeUsual', {
      id: knives[0],
      on: '2024-07-07',
      parts: [{ partId: 'gone' }],
    });
    expect(gone.kind).toBe('missing');
  });

  it('shares sheets and pieces so that the last share takes what is left', async () => {
    const saved = await rig.call('builds.saveModel', {
      code: 'CMP',
      name: 'Harrock camp',
      stages: [],
      parts: [
        {
          label: 'Handle',
          itemId: shelf.itemIds.sheet,
          use: 'material',
          qty: 20 * toBase(1, 'sqin'),
          perBar: 6,
        },
        { label: 'Box', itemId: shelf.itemIds.box, use: 'packaging', qty: 1_000_000, perBar: 3 },
      ],
      flats: [],
    });
    const [sheet] = await shelf.buy('sheet', 1, 144 * toBase(1, 'sqin'), 46);
    const [box] = await shelf.buy('box', 2, 1_000_000, 10);
    const { ids } = await rig.call('builds.plan', { modelId: saved.id, count: 6, on: '2024-07-06' });
    const values: number[] = [];
    for (const id of ids) {
      const parts = saved.parts.map((part) => ({ partId: part.id }));
      values.push((await rig.call('builds.takeUsual', { id, on: '2024-07-07', parts })).valueMicro);
    }
    expect(values.reduce((so, value) => so + value, 0)).toBe(micro(56));
    // 46.00 / 6 = 7.67 of the sheet and 10.00 / 6 = 1.67 of the boxes, each to the millionth or two.
    expect(values.every((value) => Math.abs(value - micro(56) / 6) <= 20)).toBe(true);
    const left = await Promise.all([sheet, box].map((id) => rig.call('stock.lot', { id: id ?? '' })));
    expect(left.map((lot) => [lot.qtyLeft, lot.valueLeftMicro])).toEqual([
      [0, 0],
      [0, 0],
    ]);
    const big = await rig.fault('builds.saveModel', { ...saved, stages: [], parts: [], flats: [], code: '' });
    expect(big.kind).toBe('invalid');
  });
});

describe('the list of knives', () => {
  it('filters by state, model and text, sorts, and counts what it leaves out', async () => {
    await fillRack();
    const [one, two, three] = await shelf.plan(3);
    await rig.call('builds.charge', {
      buildId: two ?? '',
      on: '2024-07-07',
      label: 'Gas',
      use: 'energy',
      amountMicro: micro(5),
    });
    await rig.call('builds.update', {
      id: three ?? '',
      serial: 'A_3',
      title: '100 % cork',
      method: '',
      batch: '',
      note: '',
    });
    const serials = async (input: object) => {
      const page = await rig.call('builds.list', input);
      return [page.total, ...page.rows.map((row) => row.serial)];
    };
    expect(await serials({})).toEqual([3, 'A_3', 'W02', 'W01']);
    expect(await serials({ sort: 'serial', limit: 1, offset: 1 })).toEqual([3, 'W01']);
    expect(await serials({ sort: 'cost' })).toEqual([3, 'W02', 'A_3', 'W01']);
    expect(await serials({ sort: 'minutes' })).toEqual([3, 'A_3', 'W02', 'W01']);
    expect(await serials({ states: ['inWork'] })).toEqual([1, 'W02']);
    expect(await serials({ text: '_' })).toEqual([1, 'A_3']);
    expect(await serials({ text: '%' })).toEqual([1, 'A_3']);
    expect(await serials({ text: 'paring', modelId: shelf.modelId, limit: 1 })).toEqual([3, 'A_3']);
    expect(await serials({ modelId: 'gone' })).toEqual([0]);
    expect(one).not.toBe(undefined);
  });
});
