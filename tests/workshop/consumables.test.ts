/** Consumables through the real core: openings, the peg, the ladder, life and counts. Figures are invented. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { stockAt } from '../../electron/workshop/stock/at.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const PIECE = 1_000_000;
const ON = '2024-07-06';

let rig: Rig;
let shelf: Shelf;
let belt = '';
let knives: readonly string[] = [];

/** Lets the stock of the belt fall when a new one is opened. */
const byOpening = async (consumedBy: 'opening' | 'use' = 'opening'): Promise<void> => {
  const item: Input<'stock.saveItem'> = {
    id: belt,
    name: 'Belt 36 ceramic',
    kind: 'belt',
    form: 'piece',
    unit: 'piece',
    pieceWord: 'belt',
    consumedBy,
    gritScale: 'cami',
    grit: '36',
    backing: 'Y',
  };
  await rig.call('stock.saveItem', item);
};

beforeEach(async () => {
  rig = await openRig({ now: ON });
  shelf = await stockShelf(rig);
  belt = shelf.itemIds.belt;
  await shelf.buy('belt', 4, PIECE, 39.2);
  knives = await shelf.plan(3);
  await byOpening();
});
afterEach(() => rig.close());

const named = (...ids: readonly string[]) => ids.map((buildId) => ({ buildId }));
const open = (more: Partial<Input<'consumables.open'>> = {}) =>
  rig.call('consumables.open', { itemId: belt, on: ON, ...more });
const left = async (): Promise<readonly [number, number]> => {
  const item = await rig.call('stock.item', { id: belt });
  return [item.qtyLeft, item.valueLeftMicro];
};
const finish = async (id: string, on = ON): Promise<void> => {
  const build = await rig.call('builds.get', { id });
  if (build.state === 'planned') await rig.call('builds.start', { id, on: ON });
  await rig.call('builds.finish', { id, on });
};

describe('a new belt on', () => {
  it('is shared over the knives to the last millionth, and says so on their cost sheets', async () => {
    const opening = await open({ shares: named(...knives), stageCode: 'GR2' });
    expect(opening).toMatchObject({
      grit: '36 Y',
      valueMicro: micro(9.8),
      state: 'inUse',
      supplierName: 'Greyfen Bar & Strip',
    });
    expect(sumOf(opening.builds, (build) => build.valueMicro)).toBe(micro(9.8));
    expect(await left()).toEqual([3 * PIECE, micro(29.4)]);
    const sheet = await rig.call('costs.sheet', { buildId: first(knives) });
    expect(sheet.consumables).toMatchObject({ amountMinor: 327, note: 'shared over the batch' });
    expect(first(sheet.consumables.working)).toMatchObject({
      rung: 3,
      source: { kind: 'opening', id: opening.id },
    });
    expect((await rig.call('builds.get', { id: first(knives) })).state).toBe('inWork');
  });

  it('waits to be shared when no knife is named, and is shared later', async () => {
    const opening = await open();
    expect(opening.builds).toEqual([]);
    const [move] = (await rig.call('stock.movements', { itemId: belt })).rows;
    expect(move).toMatchObject({ kind: 'opened', valueMicro: -micro(9.8), openingId: opening.id });
    const shared = await rig.call('consumables.share', {
      openingId: opening.id,
      shares: named(...knives.slice(0, 2)),
    });
    expect(shared.builds.map((build) => build.valueMicro)).toEqual([micro(4.9), micro(4.9)]);
    expect(await left()).toEqual([3 * PIECE, micro(29.4)]);
  });

  it('puts the one it replaces on the dull peg, and taking it back undoes both', async () => {
    const old = await open({ shares: named(first(knives)) });
    const next = await open({ shares: named(first(knives)), replacesId: old.id });
    const state = async (id: string) =>
      (await rig.call('consumables.openings', { states: ['inUse', 'dull', 'gone', 'takenBack'] })).rows.find(
        (row) => row.id === id,
      );
    expect(await state(old.id)).toMatchObject({ state: 'dull', bluntOn: ON });
    await rig.call('consumables.takeBack', { openingId: next.id, reason: 'wrong key' });
    expect(await state(old.id)).toMatchObject({ state: 'inUse', bluntOn: null });
    expect(await state(next.id)).toMatchObject({ state: 'takenBack', valueMicro: 0 });
    expect(await left()).toEqual([3 * PIECE, micro(29.4)]);
    expect(await rig.fault('consumables.takeBack', { openingId: next.id, reason: 'again' })).toMatchObject({
      kind: 'refused',
    });
  });

  it('touches neither stock nor money where stock falls by use', async () => {
    await byOpening('use');
    const opening = await open({ shares: named(...knives) });
    expect(opening).toMatchObject({ valueMicro: 0, lotId: null, supplierName: 'Greyfen Bar & Strip' });
    expect(opening.builds.map((build) => build.valueMicro)).toEqual([0, 0, 0]);
    expect(await left()).toEqual([4 * PIECE, micro(39.2)]);
  });

  it.each([
    ['an item that is no consumable', () => ({ itemId: shelf.itemIds.walnut }), 'is no consumable'],
    ['a knife named twice', () => ({ shares: named(first(knives), first(knives)) }), 'is named twice'],
    ['a day to come', () => ({ on: '2024-07-07' }), 'still to come'],
    ['more than is left', () => ({ qty: 5 * PIECE }), 'Only 4 belts left'],
    ['a day before it was bought', () => ({ on: '2024-07-01' }), 'the next came in on 2024-07-02'],
    ['too little for so many', () => ({ qty: 2, shares: named(...knives) }), 'too little to share'],
    ['a stage nobody knows', () => ({ stageCode: 'XYZ' }), 'There is no stage XYZ'],
    ['a knife that is gone', () => ({ shares: named('none') }), 'does not exist any more'],
    ['one to replace that is gone', () => ({ replacesId: 'none' }), 'does not exist any more'],
  ])('is refused for %s, and nothing is lost', async (_what, more, sentence) => {
    const before = wholeBooks(rig.db);
    const fault = await rig.fault('consumables.open', { itemId: belt, on: ON, ...more() });
    expect(fault.message).toContain(sentence);
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});

describe('an opening shared anew', () => {
  it('keeps its cost and the stock, and leaves nothing on the knife it left', async () => {
    const [a = '', b = '', c = ''] = knives;
    const opening = await open({ shares: named(a, b) });
    const again = await rig.call('consumables.share', {
      openingId: opening.id,
      shares: [
        { buildId: b, weight: 3 },
        { buildId: c, weight: 1 },
      ],
    });
    expect(again.builds.map((build) => build.valueMicro)).toEqual([micro(7.35), micro(2.45)]);
    expect(await left()).toEqual([3 * PIECE, micro(29.4)]);
    expect((await rig.call('builds.get', { id: a })).costMicro).toBe(0);
  });

  it('draws at the moving average where the item is valued so, and loses nothing', async () => {
    const item = await rig.call('stock.item', { id: belt });
    const { id, name, kind, form, unit, pieceWord } = item;
    await rig.call('stock.saveItem', {
      id,
      name,
      kind,
      form,
      unit,
      pieceWord,
      consumedBy: 'opening',
      costing: 'average',
    });
    await shelf.buy('belt', 3, PIECE, 40.01);
    const opening = await open({ shares: named(...knives) });
    await rig.call('consumables.share', { openingId: opening.id, shares: named(first(knives)) });
    const carried = sumOf(
      await Promise.all(knives.map((each) => rig.call('builds.get', { id: each }))),
      (build) => -sumOf(build.movements, (move) => move.valueMicro),
    );
    const [, worth] = await left();
    expect(worth + carried).toBe(micro(79.21));
    await rig.call('consumables.takeBack', { openingId: opening.id, reason: 'not opened after all' });
    expect(await left()).toEqual([7 * PIECE, micro(79.21)]);
  });

  it.each(['fifo', 'average'] as const)('and taken back leaves no trace on any day (%s)', async (costing) => {
    const { id, name, kind, form, unit, pieceWord } = await rig.call('stock.item', { id: belt });
    const about = { id, name, kind, form, unit, pieceWord, consumedBy: 'opening', costing } as const;
    await rig.call('stock.saveItem', about);
    await shelf.buy('belt', 3, PIECE, 40.01);
    const [a = '', b = '', c = ''] = knives;
    for (const knife of knives) await rig.call('builds.start', { id: knife, on: ON });
    const days = ['2024-07-05', '2024-07-06', '2024-07-07', '2024-07-08', '2024-07-09', '2024-07-10'];
    // Rack and knives apart: a share moved from one to the other must show.
    const held = async (on: string) => {
      const { rows } = await rig.call('rack.valueOn', { on });
      const { inWork } = stockAt(rig.db, on);
      return [rows.map((row) => [row.qty, row.valueMicro]), inWork.map((knife) => knife.valueMicro)];
    };
    const all = async () => Promise.all(days.map(held));
    const before = await all();
    const opening = await open({ shares: named(a, b) });
    rig.clock.set('2024-07-08');
    await rig.call('consumables.share', { openingId: opening.id, shares: named(c) });
    rig.clock.set('2024-07-09');
    await rig.call('consumables.share', { openingId: opening.id, shares: [] });
    // 7 belts of 79.21: until it is taken back six lie there, and on the 7th two knives carry the seventh.
    expect((await held('2024-07-07'))[0]).toEqual([[6 * PIECE, expect.any(Number)]]);
    expect(await all()).not.toEqual(before);
    rig.clock.set('2024-07-10');
    await rig.call('consumables.takeBack', { openingId: opening.id, reason: 'not opened after all' });
    expect(await all()).toEqual(before);
  });

  it('is refused while a knife that carries a share is closed, and for a closed knife', async () => {
    const [a = '', b = ''] = knives;
    const opening = await open({ shares: named(a) });
    await rig.call('builds.end', { id: b, as: 'scrapped', on: ON, reason: 'crack' });
    const share = (id: string) =>
      rig.fault('consumables.share', { openingId: opening.id, shares: named(id) });
    expect((await share(b)).message).toContain('is scrapped');
    await rig.call('builds.end', { id: a, as: 'kept', on: ON, reason: 'own use' });
    expect((await share(first(knives.slice(2)))).message).toContain('is kept out of sale');
    expect(await left()).toEqual([3 * PIECE, micro(29.4)]);
  });

  it('cannot be taken back for one knife alone', async () => {
    await open({ shares: named(...knives) });
    const [move] = (await rig.call('stock.movements', { buildId: first(knives) })).rows;
    const fault = await rig.fault('stock.reverse', { movementId: move?.id ?? '', reason: 'slip' });
    expect(fault.message).toContain('Take the opening back under Consumables');
  });
});

describe('the dull peg', () => {
  it('keeps the day it went blunt through a second life, unless it hung there by a slip', async () => {
    const { id } = await open({ shares: named(first(knives)) });
    const peg = (to: 'inUse' | 'dull' | 'gone', on: string) =>
      rig.call('consumables.peg', { openingId: id, to, on });
    await peg('dull', ON);
    expect(await peg('inUse', ON)).toMatchObject({ state: 'inUse', bluntOn: null });
    await peg('dull', ON);
    rig.clock.set('2024-07-09');
    expect(await peg('inUse', '2024-07-09')).toMatchObject({
      state: 'inUse',
      bluntOn: ON,
      valueMicro: micro(9.8),
    });
    expect(await peg('gone', '2024-07-09')).toMatchObject({
      state: 'gone',
      bluntOn: ON,
      endedOn: '2024-07-09',
    });
    expect(
      (await rig.fault('consumables.peg', { openingId: id, to: 'dull', on: '2024-07-01' })).message,
    ).toContain('It was opened on');
  });
});

describe('how long one lasts', () => {
  it('is knives for each finished opening, by kind and by supplier, with a word when they are few', async () => {
    const other = await rig.call('stock.saveSupplier', { name: 'Pellwick Grit House' });
    const line = { itemId: belt, pieces: 2, qtyEach: PIECE, priceMicro: micro(10) };
    const bought = await rig.call('stock.buy', { supplierId: other.id, on: '2024-07-03', lines: [line] });
    const [a = '', b = '', c = ''] = knives;
    const one = await open({ shares: named(a, b, c) });
    const two = await open({ shares: named(a, b, c), replacesId: one.id });
    const three = await open({ shares: named(c), replacesId: two.id, lotId: first(bought.lotIds) });
    expect((await rig.call('consumables.life', {}))[0]).toMatchObject({ n: 2, remark: 'too few to say' });
    await rig.call('consumables.peg', { openingId: three.id, to: 'gone', on: ON });
    // a and b took 2/3 of a belt, half of it from each of the two; c took 5/3, of which 1/3 from each and 1 from the third.
    const [row] = await rig.call('consumables.life', {});
    expect(row).toMatchObject({ n: 3, remark: '', mean: 1 });
    expect(row?.least).toBeCloseTo(0.6, 9);
    expect(row?.most).toBeCloseTo(1.2, 9);
    expect(row?.perKnifeMicro).toBe(Math.round(micro(9.8 + 9.8 + 5) / 3));
    const by = await rig.call('consumables.life', { bySupplier: true });
    expect(by.map((each) => [each.supplierName, each.n])).toEqual(
      expect.arrayContaining([
        ['Greyfen Bar & Strip', 2],
        ['Pellwick Grit House', 1],
      ]),
    );
    expect(await rig.call('consumables.life', { from: '2024-07-07' })).toEqual([]);
    const shown = (await rig.call('consumables.shelf', {})).find((each) => each.id === belt);
    expect(shown).toMatchObject({ dull: 2, micrometres: 530, life: { n: 3 }, inUse: [] });
  });
});

const ladderOf = async () => {
  const row = (await rig.call('consumables.ladder', { modelId: shelf.modelId })).find(
    (each) => each.itemId === belt,
  );
  if (row === undefined) throw new Error('no ladder for the belt');
  return row;
};

describe('the ladder', () => {
  it('stands on the third rung while stock falls by openings, and refuses to draw the same belt twice', async () => {
    const row = await ladderOf();
    expect([row.rung, row.steps[1]]).toMatchObject([3, { rung: 2, qty: 150_000, costMicro: micro(1.47) }]);
    const fault = await rig.fault('consumables.setRung', {
      modelId: shelf.modelId,
      partId: row.partId,
      rung: 2,
    });
    expect(fault.message).toContain('falls when a new one is opened');
    const taken = await rig.call('builds.takeUsual', {
      id: first(knives),
      on: ON,
      parts: [{ partId: row.partId ?? '' }],
    });
    expect(taken.valueMicro).toBe(0);
    expect(await left()).toEqual([4 * PIECE, micro(39.2)]);
  });

  it('draws the measured average of the last knives, and the usual amount while they are too few', async () => {
    const [a = '', b = '', c = ''] = knives;
    await open({ shares: named(a, b) });
    for (const id of knives.slice(0, 2)) await finish(id);
    await byOpening('use');
    const { partId } = await ladderOf();
    const set = { modelId: shelf.modelId, partId: partId ?? '', rung: 4 as const };
    const [few] = (await rig.call('consumables.setRung', set)).filter((row) => row.itemId === belt);
    expect([few?.rung, few?.steps[3]]).toMatchObject([4, { n: 2, costMicro: null }]);
    expect(few?.steps[3]?.words).toContain('Too few to say');
    const take = (id: string) =>
      rig.call('builds.takeUsual', { id, on: ON, parts: [{ partId: partId ?? '' }] });
    const [next = ''] = await shelf.plan(1);
    await take(next);
    const rungs = async (id: string) =>
      (await rig.call('builds.get', { id })).movements.map((move) => [move.rung, move.qty]);
    expect(await rungs(next)).toEqual([[2, -150_000]]);
    // The third knife was begun since and needed no new belt: it counts with nothing. Mean of 1/2, 1/2 and 0.
    await finish(c);
    await rig.call('builds.takeUsual', { id: next, on: ON });
    const [last = ''] = await shelf.plan(1);
    await take(last);
    expect(await rungs(last)).toEqual([[4, -333_333]]);
    const sheet = await rig.call('costs.sheet', { buildId: last });
    expect(first(sheet.consumables.working).how).toContain('0.33 ± 0.29 belt on the last 3 knives');
    expect(sheet.consumables.note).toBe('average of measured knives');
  });

  it('keeps the rung when the model is saved, and shows flat costs as usual amounts', async () => {
    await byOpening('use');
    const { partId } = await ladderOf();
    await rig.call('consumables.setRung', { modelId: shelf.modelId, partId: partId ?? '', rung: 4 });
    const model = await rig.call('builds.model', { id: shelf.modelId });
    const { code, name, stages, parts, flats } = model;
    await rig.call('builds.saveModel', {
      id: model.id,
      code,
      name,
      stages: stages.map((stage) => ({ code: stage.code, minutes: stage.minutes })),
      parts: parts.map(({ label, itemId, use, qty, perBar, stageCode, rung }) => ({
        label,
        itemId,
        use,
        qty,
        perBar,
        stageCode,
        rung,
      })),
      flats: flats.map(({ label, use, amountMicro }) => ({ label, use, amountMicro })),
    });
    expect((await ladderOf()).rung).toBe(4);
    const rows = await rig.call('consumables.ladder', { modelId: shelf.modelId });
    expect(rows.find((row) => row.label === 'Oil and gloves')).toMatchObject({
      rung: 2,
      partId: null,
      itemId: null,
    });
    const steel = model.parts.find((part) => part.label === 'Steel');
    expect(
      (await rig.fault('consumables.setRung', { modelId: model.id, partId: steel?.id ?? '', rung: 4 })).kind,
    ).toMatch(/refused|missing/);
  });
});

describe('a count over all lots', () => {
  const count = (countedQty: number, more: Partial<Input<'consumables.count'>> = {}) =>
    rig.call('consumables.count', {
      itemId: belt,
      countedQty,
      on: ON,
      settle: 'overhead',
      from: '2024-07-01',
      reason: 'Counted',
      ...more,
    });

  it('books what is missing to overhead, oldest lot first', async () => {
    await shelf.buy('belt', 2, PIECE, 30, '2024-07-03');
    const counted = await count(1.5 * PIECE);
    expect([counted.differenceQty, counted.differenceMicro, counted.builds]).toEqual([
      -4.5 * PIECE,
      -micro(46.7),
      [],
    ]);
    expect(await left()).toEqual([1.5 * PIECE, micro(22.5)]);
    expect(counted.sentence).toContain('4.5 belts missing, worth $46.70: booked to overhead.');
  });

  it('shares the difference over the open knives by what they used; what is closed stays as it was', async () => {
    const [a = '', b = '', c = ''] = knives;
    await byOpening('use');
    const draw = (buildId: string, qty: number) =>
      rig.call('stock.draw', { buildId, itemId: belt, qty, use: 'consumable', on: ON });
    await draw(a, 200_000);
    await draw(b, 100_000);
    await draw(c, 300_000);
    await rig.call('builds.end', { id: c, as: 'scrapped', on: ON, reason: 'crack' });
    const before = (await rig.call('builds.get', { id: c })).costMicro;
    const [, worth] = await left();
    const counted = await count(3 * PIECE, { settle: 'builds' });
    expect(counted.differenceQty).toBe(-400_000);
    expect(counted.builds.map((build) => build.serial)).toEqual(['W01', 'W02']);
    expect(sumOf(counted.builds, (build) => build.amountMicro)).toBe(-counted.differenceMicro);
    expect((await left())[1]).toBe(worth + counted.differenceMicro);
    expect(counted.sentence).toMatch(/W03 is closed/);
    expect((await rig.call('builds.get', { id: c })).costMicro).toBe(before);
    const sheet = await rig.call('costs.sheet', { buildId: a });
    expect(sheet.consumables.working.map((entry) => entry.how).join()).toContain('by what it used');
    // Found after all: the same money goes back, below zero on the charge.
    const again = await count(3.4 * PIECE, { settle: 'builds' });
    expect(sumOf(again.builds, (build) => build.amountMicro)).toBe(-again.differenceMicro);
    expect(again.differenceMicro).toBeGreaterThan(0);
  });

  it('shares by bench minutes when no knife used any, and says what to do when there is none', async () => {
    expect(
      (
        await rig.fault('consumables.count', {
          itemId: belt,
          countedQty: PIECE,
          on: ON,
          settle: 'builds',
          from: ON,
          reason: 'x',
        })
      ).message,
    ).toContain('book the difference to overhead');
    const [a = '', b = ''] = knives;
    await rig.call('hours.book', {
      on: ON,
      minutes: 90,
      stageCode: 'GR2',
      workKind: null,
      shares: [
        { buildId: a, weight: 2 },
        { buildId: b, weight: 1 },
      ],
    });
    const counted = await count(PIECE, { settle: 'builds' });
    expect(counted.builds.map((build) => build.amountMicro)).toEqual([micro(19.6), micro(9.8)]);
  });

  it('agrees, or is refused below zero, before later use, for another day, with nothing changed', async () => {
    expect((await count(4 * PIECE)).sentence).toBe('The count agrees with the books.');
    await open({ shares: named(first(knives)) });
    rig.clock.set('2024-07-10');
    const before = wholeBooks(rig.db);
    const fault = (more: Readonly<Record<string, unknown>>) =>
      rig.fault('consumables.count', {
        itemId: belt,
        countedQty: PIECE,
        on: ON,
        settle: 'overhead',
        from: ON,
        reason: 'x',
        ...more,
      });
    expect((await fault({ countedQty: -1 })).message).toContain('below zero');
    expect((await fault({ on: '2024-07-05', from: '2024-07-01' })).message).toContain(
      'Count it as it lies there now',
    );
    expect((await fault({ from: '2024-07-09' })).message).toContain('must not come after');
    expect((await fault({ on: '2024-07-11' })).message).toContain('still to come');
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});
