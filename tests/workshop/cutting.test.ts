/** The cutting plan through the real core: what it finds, what it books, what it refuses, and that no value is lost. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sumOf } from '../../electron/domain/integers.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const INCH = 25_400_000;
const KERF = INCH / 16;
const on = '2024-07-06';

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

/** All value that ever came in, against what knives took and what lies on the rack: equal to the last millionth. */
async function checkValue(): Promise<void> {
  const lots = await rig.call('stock.lots', { onlyLeft: false, limit: 20_000 });
  const { rows } = await rig.call('stock.movements', { limit: 20_000 });
  const left = sumOf(lots.rows, (lot) => lot.valueLeftMicro);
  const bought = sumOf(
    rows.filter((row) => row.kind === 'receipt'),
    (row) => row.valueMicro,
  );
  const counted = sumOf(
    rows.filter((row) => row.kind === 'count'),
    (row) => row.valueMicro,
  );
  const drawn = -sumOf(
    rows.filter(
      (row) =>
        ['draw', 'sample', 'scrap'].includes(row.kind) || (row.kind === 'reversal' && row.buildId !== null),
    ),
    (row) => row.valueMicro,
  );
  expect(left + drawn).toBe(bought + counted);
  for (const lot of lots.rows) {
    const own = rows.filter((row) => row.lotId === lot.id);
    expect([sumOf(own, (row) => row.qty), sumOf(own, (row) => row.valueMicro)]).toEqual([
      lot.qtyLeft,
      lot.valueLeftMicro,
    ]);
    if (lot.qtyLeft === 0) expect(lot.valueLeftMicro).toBe(0);
  }
}

const steelItem = (more: object = {}): Promise<{ id: string }> =>
  rig.call('stock.saveItem', {
    name: 'Carbon bar 1/8 × 1.5',
    kind: 'steel',
    form: 'length',
    unit: 'in',
    kerfNm: KERF,
    usefulRemnant: 6 * INCH,
    ...more,
  });

async function buyBars(itemId: string, lengths: readonly number[], price = 24): Promise<readonly string[]> {
  const lines = lengths.map((length) => ({
    itemId,
    pieces: 1,
    qtyEach: length * INCH,
    priceMicro: micro(price),
    heatNumber: 'H-77',
  }));
  return (await rig.call('stock.buy', { supplierId: shelf.supplierId, on: '2024-07-02', lines })).lotIds;
}

let models = 0;

/** Plans a knife of a model that takes one blank of an item. */
async function planHunters(itemId: string, count: number, inches = 8.5): Promise<readonly string[]> {
  const model = await rig.call('builds.saveModel', {
    code: `HUN${(models += 1)}`,
    name: 'Fellgate hunter',
    stages: [],
    flats: [],
    parts: [{ label: 'Steel', itemId, use: 'material', qty: inches * INCH, stageCode: 'CUT' }],
  });
  return (await rig.call('builds.plan', { modelId: model.id, count, on })).ids;
}

const bookable = (plan: Awaited<ReturnType<typeof planOf>>) =>
  plan.bars.map((bar) => ({
    lotId: bar.lotId,
    before: bar.before,
    cuts: bar.cuts.map(({ buildId, length }) => ({ buildId, length })),
  }));
const planOf = (
  itemId: string,
  blanks: readonly { key: string; buildId?: string; length: number }[],
  kerf = KERF,
) =>
  rig.call('cutting.plan', {
    itemId,
    kerf,
    blanks: blanks.map((blank) => ({ label: blank.key, ...blank })),
  });

describe('planned blanks', () => {
  it('are what open knives lack, and are lacking no more once they are cut', async () => {
    const { id: itemId } = await steelItem();
    await buyBars(itemId, [48]);
    const knives = await planHunters(itemId, 3);
    const needs = await rig.call('cutting.needs', { itemId });
    expect(needs.map((need) => [need.buildId, need.length])).toEqual(knives.map((id) => [id, 8.5 * INCH]));
    const plan = await planOf(
      itemId,
      needs.map((need) => ({ key: need.buildId, buildId: need.buildId, length: need.length })),
    );
    // By hand: 3 × (8 1/2 + 1/16) = 25 11/16 in of 48; 24.00 shared by length.
    expect(plan.bars.map((bar) => [bar.before, bar.left, bar.leftUseful])).toEqual([
      [48 * INCH, 48 * INCH - 3 * (8.5 * INCH + KERF), true],
    ]);
    expect(plan.waste).toBe(3 * KERF);
    expect(plan.exact).toBe(true);
    const booked = await rig.call('cutting.book', { itemId, on, kerf: KERF, bars: bookable(plan) });
    expect(booked.movementIds).toHaveLength(3);
    expect(await rig.call('cutting.needs', { itemId })).toEqual([]);
    for (const id of knives) {
      const sheet = await rig.call('costs.sheet', { buildId: id });
      const planned = plan.bars[0]?.cuts.find((cut) => cut.buildId === id)?.valueMicro;
      expect(sumOf(sheet.materials, (line) => line.exactMicro)).toBe(planned);
      expect((await rig.call('builds.get', { id })).state).toBe('inWork');
    }
    await checkValue();
  });

  it('take the offcut before a whole bar, and rest a short end in the blanks', async () => {
    const { id: itemId } = await steelItem();
    const [whole = '', offcut = ''] = await buyBars(itemId, [48, 48]);
    // The second bar is begun: 17 1/8 in stay, two blanks of 8 1/2 with a kerf each.
    await rig.call('stock.takeOut', {
      lotId: offcut,
      kind: 'sample',
      qty: 48 * INCH - 2 * (8.5 * INCH + KERF),
      reason: 'shown at the fair',
      on,
    });
    const knives = await planHunters(itemId, 2);
    const plan = await planOf(
      itemId,
      knives.map((id) => ({ key: id, buildId: id, length: 8.5 * INCH })),
    );
    expect(plan.bars.map((bar) => [bar.lotId, bar.left])).toEqual([[offcut, 0]]);
    await rig.call('cutting.book', { itemId, on, kerf: KERF, bars: bookable(plan) });
    const lot = await rig.call('stock.lot', { id: offcut });
    expect([lot.qtyLeft, lot.valueLeftMicro]).toEqual([0, 0]);
    expect((await rig.call('stock.lot', { id: whole })).qtyLeft).toBe(48 * INCH);
    await checkValue();
  });

  it('are shared as the model plans the bar, where only such blanks come from it', async () => {
    // The demo workshop's paring knife: a 48 in bar at 24.00 planned for six blanks, 4.00 each.
    await shelf.buy('bar', 1, 48 * INCH, 24);
    const knives = await shelf.plan(2);
    const itemId = shelf.itemIds.bar;
    const plan = await planOf(
      itemId,
      knives.map((id) => ({ key: id, buildId: id, length: 7.75 * INCH })),
    );
    const [bar] = plan.bars;
    expect(bar?.sharedBy).toBe(6);
    expect(bar?.cuts.map((cut) => cut.valueMicro)).toEqual([micro(4), micro(4)]);
    expect(bar?.left).toBe(32 * INCH);
    expect(plan.sentence).toContain('shared equally');
    await rig.call('cutting.book', { itemId, on, kerf: KERF, bars: bookable(plan) });
    await checkValue();
  });

  it('without a knife go back on the rack as lots of their own, and can be taken back', async () => {
    const { id: itemId } = await steelItem();
    const [lotId = ''] = await buyBars(itemId, [20]);
    const [knife = ''] = await planHunters(itemId, 1);
    const plan = await planOf(itemId, [
      { key: 'knife', buildId: knife, length: 8.5 * INCH },
      { key: 'spare', length: 9 * INCH },
    ]);
    const booked = await rig.call('cutting.book', { itemId, on, kerf: KERF, bars: bookable(plan) });
    expect(booked.sentence).toContain('new on the rack');
    const { rows } = await rig.call('stock.lots', { itemId });
    const spare = rows.find((row) => row.parentId === lotId);
    expect([spare?.qtyLeft, spare?.heatNumber]).toEqual([9 * INCH, 'H-77']);
    const planned = plan.bars[0]?.cuts.find((cut) => cut.key === 'spare')?.valueMicro ?? 0;
    expect(Math.abs((spare?.valueLeftMicro ?? 0) - planned)).toBeLessThanOrEqual(1);
    await checkValue();
    const detail = await rig.call('stock.lot', { id: spare?.id ?? '' });
    await rig.call('stock.reverse', { movementId: first(detail.movements).id, reason: 'not cut after all' });
    expect((await rig.call('stock.lot', { id: spare?.id ?? '' })).qtyLeft).toBe(0);
    await checkValue();
  });

  it('keep all value through any plan, whatever the sizes', async () => {
    const { id: itemId } = await steelItem();
    const any = fc.record({
      bars: fc.array(fc.integer({ min: 6, max: 50 }), { minLength: 1, maxLength: 3 }),
      blanks: fc.array(fc.record({ size: fc.integer({ min: 4, max: 14 }), spare: fc.boolean() }), {
        minLength: 1,
        maxLength: 5,
      }),
      kerf: fc.constantFrom(0, KERF, INCH / 8),
    });
    await fc.assert(
      fc.asyncProperty(any, async ({ bars, blanks, kerf }) => {
        await buyBars(itemId, bars, 17.31);
        const knives = await planHunters(itemId, blanks.length, 8);
        const wishes = blanks.map(({ size, spare }, at) => ({
          key: `blank ${at}`,
          length: size * INCH,
          ...(spare ? {} : { buildId: knives[at] ?? '' }),
        }));
        const reply = await rig.core.call('cutting.plan', {
          itemId,
          kerf,
          blanks: wishes.map((wish) => ({ label: wish.key, ...wish })),
        });
        if (!reply.ok) return;
        const plan = reply.value as Awaited<ReturnType<typeof planOf>>;
        await rig.call('cutting.book', { itemId, on, kerf, bars: bookable(plan) });
        await checkValue();
      }),
      { numRuns: 15 },
    );
    expect(rig.log).toEqual([]);
  }, 60_000);
});

describe('what a plan of bars refuses', () => {
  it('says each in one sentence and books nothing', async () => {
    const { id: itemId } = await steelItem();
    const ask = (more: object) =>
      rig.fault('cutting.plan', {
        itemId,
        kerf: KERF,
        blanks: [{ key: 'a', label: 'a', length: INCH }],
        ...more,
      });
    expect((await ask({})).message).toContain('Nothing of Carbon bar 1/8 × 1.5 is on the rack');
    const [lotId = ''] = await buyBars(itemId, [48]);
    expect((await ask({ blanks: [] })).message).toBe('Choose what to cut.');
    expect((await ask({ blanks: [{ key: 'a', label: 'a', length: 0 }] })).message).toContain(
      'more than zero',
    );
    expect((await ask({ blanks: [{ key: 'a', label: 'a', length: 50 * INCH }] })).message).toContain(
      'The blank of 50 in is longer than the longest piece of Carbon bar 1/8 × 1.5 on the rack, 48 in.',
    );
    expect((await ask({ itemId: shelf.itemIds.sheet })).message).toContain('not measured by length');
    expect((await ask({ lotIds: [] })).message).toContain('Choose at least one');
    const none = await planOf(itemId, [{ key: 'a', length: INCH }], 0);
    expect(none.sentence).toContain('takes no width');
    const before = wholeBooks(rig.db);
    const [knife = ''] = await shelf.plan(1);
    const plan = await planOf(itemId, [{ key: 'a', buildId: knife, length: 8 * INCH }]);
    await rig.call('stock.takeOut', { lotId, kind: 'scrap', qty: INCH, reason: 'bent end', on });
    const fault = await rig.fault('cutting.book', { itemId, on, kerf: KERF, bars: bookable(plan) });
    expect(fault.message).toContain(
      'has changed since the plan was made: 48 in was left of it then, 47 in is left now. Plan again.',
    );
    expect((await rig.call('builds.get', { id: knife })).state).toBe('planned');
    expect(before['movements']?.length).toBeLessThan(wholeBooks(rig.db)['movements']?.length ?? 0);
    const twice = [...bookable(plan), ...bookable(plan)].map((bar) => ({ ...bar, before: 47 * INCH }));
    expect((await rig.fault('cutting.book', { itemId, on, kerf: KERF, bars: twice })).message).toContain(
      'named twice',
    );
    const early = bookable(plan).map((bar) => ({ ...bar, before: 47 * INCH }));
    expect(
      (await rig.fault('cutting.book', { itemId, on: '2024-07-01', kerf: KERF, bars: early })).message,
    ).toContain('came in on 2024-07-02');
  });
});

const sheetOf = async (sheets = 1, price = 60): Promise<readonly string[]> => {
  const line = {
    itemId: shelf.itemIds.sheet,
    pieces: sheets,
    qtyEach: toBase(144, 'sqin'),
    priceMicro: micro(price),
    sheet: { lengthNm: 12 * INCH, widthNm: 12 * INCH },
  };
  return (await rig.call('stock.buy', { supplierId: shelf.supplierId, on: '2024-07-02', lines: [line] }))
    .lotIds;
};
const scales = (count: number, buildId: string | null = null, length = 5, width = 1.5) =>
  Array.from({ length: count }, (_, at) => ({
    key: `scale ${length} ${at}`,
    buildId,
    label: 'scale',
    lengthNm: length * INCH,
    widthNm: width * INCH,
  }));
const planSheets = (pieces: ReturnType<typeof scales>, kerf = KERF) =>
  rig.call('cutting.planSheets', { itemId: shelf.itemIds.sheet, kerf, pieces });
const bookSheets = (plan: Awaited<ReturnType<typeof planSheets>>, more: object = {}) =>
  rig.call('cutting.bookSheets', {
    itemId: shelf.itemIds.sheet,
    on,
    kerf: KERF,
    sheets: plan.sheets.map((sheet) => ({
      lotId: sheet.lotId,
      lengthNm: sheet.lengthNm,
      widthNm: sheet.widthNm,
      pieces: sheet.pieces.map(({ buildId, x, y, lengthNm, widthNm }) => ({
        buildId,
        x,
        y,
        lengthNm,
        widthNm,
      })),
    })),
    ...more,
  });

describe('sheets', () => {
  it('become pairs on the shelf, and offcuts that keep their share', async () => {
    const [lotId = ''] = await sheetOf();
    const { id: pairs } = await rig.call('stock.saveItem', {
      name: 'Laminate scales',
      kind: 'handle',
      form: 'pair',
      unit: 'pair',
    });
    const plan = await planSheets(scales(4));
    expect(plan.exact).toBe(true);
    expect(plan.sheets[0]?.cuts[0]).toMatch(/^Cut the sheet of 12 in × 12 in at .* in: a part of /);
    const { lotIds } = await bookSheets(plan, { intoItemId: pairs });
    const lots = await Promise.all(lotIds.map((id) => rig.call('stock.lot', { id })));
    const [shelved, ...offcuts] = lots;
    expect([shelved?.itemId, shelved?.qtyLeft, shelved?.parentId]).toEqual([pairs, 2_000_000, lotId]);
    for (const offcut of offcuts) {
      expect(offcut.lengthNm).not.toBeNull();
      // Its share by area of what the sheet cost, 60.00 for 144 sq in.
      expect(
        Math.abs(offcut.valueLeftMicro - (micro(60) * offcut.qtyLeft) / toBase(144, 'sqin')),
      ).toBeLessThan(2);
    }
    const sheet = await rig.call('stock.lot', { id: lotId });
    expect([sheet.qtyLeft, sheet.valueLeftMicro]).toEqual([0, 0]);
    await checkValue();
    // Taking the pairs back returns exactly what they carried.
    await rig.call('stock.reverse', {
      movementId: first(shelved?.movements ?? []).id,
      reason: 'not sawn yet',
    });
    await checkValue();
  });

  it('go into knives, and an offcut is planned before a whole sheet', async () => {
    await sheetOf(2);
    const [knife = ''] = await shelf.plan(1);
    await bookSheets(await planSheets(scales(2, knife)));
    const build = await rig.call('builds.get', { id: knife });
    expect(build.state).toBe('inWork');
    const plan = await planSheets(scales(2, knife));
    const lot = await rig.call('stock.lot', { id: plan.sheets[0]?.lotId ?? '' });
    expect(lot.parentId).not.toBeNull();
    await checkValue();
  });

  it('keep their value at the moving average too', async () => {
    const item = await rig.call('stock.item', { id: shelf.itemIds.sheet });
    const { name, kind, form, unit, pieceWord } = item;
    await rig.call('stock.saveItem', { id: item.id, name, kind, form, unit, pieceWord, costing: 'average' });
    await sheetOf(1, 60.01);
    await sheetOf(1, 47.77);
    const [knife = ''] = await shelf.plan(1);
    await bookSheets(await planSheets([...scales(3), ...scales(2, knife, 4, 1)]));
    await bookSheets(await planSheets(scales(3, null, 7, 2)));
    await checkValue();
  });

  it('need their size first; measuring one makes the books follow', async () => {
    const [lotId = ''] = await shelf.buy('sheet', 1, toBase(144, 'sqin'), 60);
    const ask = { itemId: shelf.itemIds.sheet, kerf: KERF, pieces: scales(2) };
    expect((await rig.fault('cutting.planSheets', ask)).message).toContain('has its size written down');
    const size = { lotId, lengthNm: 12 * INCH, widthNm: 11 * INCH, on };
    const said = await rig.call('cutting.sheetSize', size);
    expect(said.sentence).toBe('L-0001 is 12 in × 11 in. The books had 144 sq in; 12 sq in was counted off.');
    expect((await rig.call('cutting.planSheets', ask)).sheets).toHaveLength(1);
    // What is taken by area afterwards makes the size doubtful again.
    await rig.call('stock.takeOut', { lotId, kind: 'sample', qty: toBase(1, 'sqin'), reason: 'shown', on });
    expect((await rig.fault('cutting.planSheets', ask)).message).toContain('has its size written down');
  });

  it('are refused when they changed, when the cuts cannot be made, and when pieces make no pairs', async () => {
    const [lotId = ''] = await sheetOf();
    const { id: pairs } = await rig.call('stock.saveItem', {
      name: 'Pairs',
      kind: 'handle',
      form: 'pair',
      unit: 'pair',
    });
    const plan = await planSheets(scales(3));
    const odd = await rig.fault('cutting.bookSheets', {
      itemId: shelf.itemIds.sheet,
      on,
      kerf: KERF,
      sheets: plan.sheets.map(({ lotId: id, lengthNm, widthNm, pieces }) => ({
        lotId: id,
        lengthNm,
        widthNm,
        pieces: pieces.map(({ x, y, lengthNm: l, widthNm: w }) => ({ x, y, lengthNm: l, widthNm: w })),
      })),
      intoItemId: pairs,
    });
    expect(odd.message).toContain('3 pieces without a knife make no whole pairs of Pairs.');
    const sheet = { lotId, lengthNm: 12 * INCH, widthNm: 12 * INCH };
    const rect = (x: number, y: number) => ({ x, y, lengthNm: 5 * INCH, widthNm: 5 * INCH });
    const overlapping = {
      itemId: shelf.itemIds.sheet,
      on,
      kerf: KERF,
      sheets: [{ ...sheet, pieces: [rect(0, 0), rect(INCH, INCH)] }],
    };
    expect((await rig.fault('cutting.bookSheets', overlapping)).message).toContain(
      'cannot be cut from L-0001',
    );
    const large = await rig.fault('cutting.planSheets', {
      itemId: shelf.itemIds.sheet,
      kerf: KERF,
      pieces: scales(1, null, 13, 2),
    });
    expect(large.message).toContain('A piece of 13 in × 2 in comes out of no sheet');
    await rig.call('stock.takeOut', { lotId, kind: 'scrap', qty: toBase(10, 'sqin'), reason: 'cracked', on });
    const before = wholeBooks(rig.db);
    const changed = await rig.fault('cutting.bookSheets', {
      ...overlapping,
      sheets: [{ ...sheet, pieces: [rect(0, 0)] }],
    });
    expect(changed.message).toContain('L-0001 has changed since the plan was made');
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});
