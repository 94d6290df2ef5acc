/**
 * The three costing rules through the real use-cases, against published examples. READ: figures read at the source;
 * MEM-hi: from memory, high confidence, arithmetic checked.
 */
import { Decimal } from 'decimal.js';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Costing } from '../../electron/api/stock.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { stockOn } from '../../electron/storage/queries/stock-value.ts';
import { openRig, type Rig } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const PIECE = 1_000_000;

let rig: Rig;
let shelf: Shelf;
let itemId: string;
let knife: string;
beforeEach(async () => {
  rig = await openRig({ now: '2024-12-31' });
  shelf = await stockShelf(rig);
  knife = first(await shelf.plan());
});
afterEach(() => rig.close());

const item = (costing: Costing, id?: string) =>
  rig.call('stock.saveItem', {
    ...(id === undefined ? {} : { id }),
    name: 'Unit of the example',
    kind: 'fitting',
    form: 'piece',
    unit: 'piece',
    costing,
  });

const buy = async (qty: number, at: string, on: string): Promise<string> => {
  const priceMicro = new Decimal(at).times(qty).times(1e6).toNumber();
  const lines = [{ itemId, pieces: qty, qtyEach: PIECE, priceMicro }];
  return first((await rig.call('stock.buy', { supplierId: shelf.supplierId, on, lines })).lotIds);
};

const draw = async (qty: number, on: string, lotId?: string): Promise<number> => {
  const from = lotId === undefined ? {} : { lotId };
  const order = { buildId: knife, itemId, qty: qty * PIECE, use: 'material', on, ...from } as const;
  return (await rig.call('stock.draw', order)).valueMicro;
};

const left = async (): Promise<readonly [number, number]> => {
  const { qtyLeft, valueLeftMicro } = await rig.call('stock.item', { id: itemId });
  return [qtyLeft / PIECE, valueLeftMicro];
};

const inCents = (valueMicro: number): string => new Decimal(valueMicro).div(1e6).toFixed(2);
/** Within one millionth for each lot touched: a lot holds whole millionths. */
const near = (actual: number, exact: number): void => {
  expect(Math.abs(actual - exact)).toBeLessThanOrEqual(5);
};

describe('moving average', () => {
  beforeEach(async () => {
    itemId = (await item('average')).id;
  });

  it('A1: sells at 82.50, 167.00, 86.75 and 175.17 and leaves 178.58 of 690 (READ at tutorsglobe.com; Hermanson/Edwards)', async () => {
    await buy(10, '8.00', '2024-01-01');
    await buy(10, '8.50', '2024-03-02');
    const sales = [await draw(10, '2024-03-10')];
    await buy(20, '8.40', '2024-05-28');
    sales.push(await draw(20, '2024-07-14'));
    await buy(10, '9.00', '2024-08-12');
    sales.push(await draw(10, '2024-09-07'));
    await buy(20, '8.80', '2024-10-12');
    sales.push(await draw(20, '2024-11-22'));
    await buy(10, '9.10', '2024-12-21');
    expect(sales.map(inCents)).toEqual(['82.50', '167.00', '86.75', '175.17']);
    const [qty, value] = await left();
    expect([qty, inCents(value)]).toEqual([20, '178.58']);
    expect(sumOf(sales, (sale) => sale) + value).toBe(micro(690));
    near(value, 178_583_333);
    // The knife carries what was sold, and its sheet says so.
    const sheet = await rig.call('costs.sheet', { buildId: knife });
    expect(sheet.directMinor).toBe(51_142);
  });

  it('A2: sells at 2,000 and 2,622 and leaves 1,368 (MEM-hi; Wild/Shaw/Chiappetta)', async () => {
    await buy(10, '91', '2024-08-01');
    await buy(15, '106', '2024-08-03');
    const one = await draw(20, '2024-08-14');
    await buy(20, '115', '2024-08-17');
    await buy(10, '119', '2024-08-28');
    const two = await draw(23, '2024-08-31');
    expect([one, two, ...(await left())].map((each) => Math.round(each))).toEqual([
      micro(2000),
      micro(2622),
      12,
      micro(1368),
    ]);
  });

  it('A4: leaves 8,902.06 of 16,155 (CALC; OpenStax Vol. 1 ch. 10, inputs from memory)', async () => {
    await buy(150, '21', '2024-07-01');
    expect(inCents(await draw(120, '2024-07-05'))).toBe('2520.00');
    await buy(225, '27', '2024-07-10');
    expect(inCents(await draw(180, '2024-07-15'))).toBe('4732.94');
    await buy(210, '33', '2024-07-25');
    const [qty, value] = await left();
    expect([qty, inCents(value)]).toEqual([285, '8902.06']);
  });

  it('A6: balance 125 at 1,000, second sale 2,660, 220 left at 2,090 (READ; homeworksource.com p/1123599)', async () => {
    await buy(300, '8', '2024-07-01');
    await draw(175, '2024-07-02');
    expect(await left()).toEqual([125, micro(1000)]);
    await buy(375, '10', '2024-07-03');
    expect(await draw(280, '2024-07-04')).toBe(micro(2660));
    expect(await left()).toEqual([220, micro(2090)]);
  });

  it('A10: 8,055.1282 sold and 8,874.8718 left, not the printed 8,876 (READ; justaaa.com 623161)', async () => {
    await buy(310, '12', '2024-07-01');
    await buy(470, '14', '2024-07-02');
    const sold = await draw(610, '2024-07-03');
    near(sold, 8_055_128_205);
    await buy(390, '17', '2024-07-04');
    const [qty, value] = await left();
    expect([qty, sold + value]).toEqual([560, micro(10_300 + 6630)]);
    near(value, 8_874_871_795);
  });

  it('A12: 720.00 and 691.6667 sold, 1,338.3333 left, nothing made of nothing (READ; instantcertcredit.com lesson 318)', async () => {
    await buy(500, '2.40', '2024-07-01');
    expect(await draw(300, '2024-07-02')).toBe(micro(720));
    await buy(100, '3.50', '2024-07-03');
    const second = await draw(250, '2024-07-04');
    near(second, 691_666_667);
    await buy(300, '4.00', '2024-07-05');
    const [, value] = await left();
    near(value, 1_338_333_333);
    expect(micro(720) + second + value).toBe(micro(1200 + 350 + 1200));
  });

  it('makes a unit of every lot worth the same and takes a named lot at that worth', async () => {
    await buy(10, '1', '2024-07-01');
    const dear = await buy(10, '2', '2024-07-02');
    const { lots, movements } = await rig.call('stock.item', { id: itemId });
    expect(lots.map((lot) => lot.valueLeftMicro)).toEqual([micro(15), micro(15)]);
    const level = movements.filter((movement) => movement.kind === 'evenOut');
    expect(level.map((movement) => [movement.qty, movement.valueMicro]).sort()).toEqual(
      [
        [0, micro(5)],
        [0, micro(-5)],
      ].sort(),
    );
    expect(await draw(4, '2024-07-03', dear)).toBe(micro(6));
  });

  it('takes what is entered late at the average of its own day, so that no shelf of the past is worth less than nothing', async () => {
    const cheap = await buy(10, '1', '2024-07-01');
    const dear = await buy(10, '9', '2024-07-10');
    // Entered in order: 4 × 1.00, and 6 left at 6.00. At what the average is since, 5.00, they would be at -14.00.
    expect(await draw(4, '2024-07-05')).toBe(micro(4));
    expect(stockOn(rig.db, '2024-07-05').find((row) => row.id === itemId)?.value_micro).toBe(micro(6));
    // 16 at 96.00, 6.00 each; both lots level again.
    expect(await left()).toEqual([16, micro(96)]);
    expect(await draw(1, '2024-07-11', dear)).toBe(micro(6));
    expect(await draw(1, '2024-07-11', cheap)).toBe(micro(6));
    // 14 at 84.00; that day 6 lay there at 6.00. So 9 at 79.00 are left, and the last draw takes all of it.
    expect(await draw(5, '2024-07-06')).toBe(micro(5));
    expect(await draw(9, '2024-07-12')).toBe(micro(79));
    expect(await left()).toEqual([0, 0]);
  });

  it('never leaves a day gone by worth less than nothing, by a late draw, a count or a purchase taken back', async () => {
    const cheap = await buy(10, '1', '2024-07-01');
    const dear = await buy(10, '9', '2024-07-10');
    const count = { lotId: cheap, reason: 'recount', on: '2024-07-05' };
    // That day one was worth 1.00; what lies there now is worth 5.00 each.
    expect((await rig.call('stock.count', { ...count, countedQty: 8 * PIECE }))?.valueMicro).toBe(micro(-2));
    expect((await rig.call('stock.count', { ...count, countedQty: 10 * PIECE }))?.valueMicro).toBe(micro(2));
    expect(await draw(10, '2024-07-11', dear)).toBe(micro(50));
    // 10 at 50.00 are left, and the last draw takes all of it; on the 5th they were 10.00: that day would be at -40.00.
    const late = { buildId: knife, itemId, qty: 10 * PIECE, use: 'material', on: '2024-07-05' } as const;
    const fault = await rig.fault('stock.draw', late);
    expect([fault.field, fault.message]).toEqual([
      'on',
      expect.stringContaining('worth more than all that lay there on 2024-07-05'),
    ]);
    expect(await left()).toEqual([10, micro(50)]);
    // 10 at 90.00 more make 20 at 140.00. Without the first 90.00 the 11th would be at 10.00 - 50.00.
    await buy(10, '9', '2024-07-12');
    const receipt = (await rig.call('stock.lot', { id: dear })).movements.find((m) => m.kind === 'receipt');
    const untouched = await rig.call('stock.movements', { itemId });
    const drawn = untouched.rows.find((m) => m.kind === 'draw' && m.qty === -10 * PIECE);
    await rig.call('stock.reverse', { movementId: drawn?.id ?? '', reason: 'other lot' });
    expect(await draw(10, '2024-07-11', cheap)).toBe(micro(50));
    const back = await rig.fault('stock.reverse', { movementId: receipt?.id ?? '', reason: 'never came' });
    expect(back.message).toContain('Too much of this was used since at the moving average');
    expect(await left()).toEqual([20, micro(140)]);
  });

  it('finds more at the average and gives back what it found', async () => {
    const lotId = await buy(10, '1', '2024-07-01');
    await buy(10, '2', '2024-07-02');
    const on = '2024-07-05';
    const found = await rig.call('stock.count', { lotId, countedQty: 12 * PIECE, reason: 'recount', on });
    expect(found?.valueMicro).toBe(micro(3));
    expect(await left()).toEqual([22, micro(33)]);
    await rig.call('stock.reverse', { movementId: found?.id ?? '', reason: 'miscounted' });
    expect(await left()).toEqual([20, micro(30)]);
  });

  it('takes a purchase back at the price it came in, out of all lots together', async () => {
    await buy(10, '1', '2024-07-01');
    const dear = await buy(10, '2', '2024-07-02');
    const receipt = (await rig.call('stock.lot', { id: dear })).movements.find((m) => m.kind === 'receipt');
    await rig.call('stock.reverse', { movementId: receipt?.id ?? '', reason: 'never came' });
    expect(await left()).toEqual([10, micro(10)]);
    expect((await rig.call('stock.lot', { id: dear })).valueLeftMicro).toBe(0);
  });

  it('refuses to take a purchase back whose value was used up at the average, and loses nothing', async () => {
    const cheap = await buy(10, '1', '2024-07-01');
    const dear = await buy(10, '9', '2024-07-02');
    await draw(10, '2024-07-03', cheap);
    const receipt = (await rig.call('stock.lot', { id: dear })).movements.find((m) => m.kind === 'receipt');
    const fault = await rig.fault('stock.reverse', { movementId: receipt?.id ?? '', reason: 'never came' });
    expect(fault.message).toBe(
      'Too much of this was used since at the moving average. Take the later movements back first, or count the lot.',
    );
    expect(await left()).toEqual([10, micro(50)]);
  });

  it('refuses to take back an entry that only draws values level', async () => {
    await buy(10, '1', '2024-07-01');
    await buy(10, '2', '2024-07-02');
    const { movements } = await rig.call('stock.item', { id: itemId });
    const level = movements.find((movement) => movement.kind === 'evenOut');
    const fault = await rig.fault('stock.reverse', { movementId: level?.id ?? '', reason: 'x' });
    expect(fault.message).toContain('only draws the values of the lots level');
  });
});

describe('changing the costing rule', () => {
  it('keeps the whole value and spreads it evenly from then on; the way back moves nothing', async () => {
    itemId = (await item('fifo')).id;
    await buy(10, '1', '2024-07-01');
    await buy(30, '2', '2024-07-02');
    expect(await draw(5, '2024-07-03')).toBe(micro(5));
    await item('average', itemId);
    expect(await left()).toEqual([35, micro(65)]);
    const { lots, movements } = await rig.call('stock.item', { id: itemId });
    expect(lots.map((lot) => lot.valueLeftMicro)).toEqual([9_285_714, 55_714_286]);
    expect(movements[0]).toMatchObject({
      kind: 'evenOut',
      on: '2024-12-31',
      reason: 'Valued at the moving average from this day on',
    });
    await item('fifo', itemId);
    const after = await rig.call('stock.item', { id: itemId });
    expect(after.lots.map((lot) => lot.valueLeftMicro)).toEqual([9_285_714, 55_714_286]);
    expect(after.movements).toHaveLength(movements.length);
  });
});

describe('first in first out and named lots', () => {
  it('A5: 11,050 sold, 5,250 left (READ; encyclopaedia article “FIFO and LIFO accounting”)', async () => {
    itemId = (await item('fifo')).id;
    await buy(100, '50', '2024-07-01');
    await buy(125, '55', '2024-07-02');
    await buy(75, '59', '2024-07-03');
    expect(await draw(210, '2024-07-04')).toBe(micro(11_050));
    expect(await left()).toEqual([90, micro(5250)]);
  });

  it('A2: 1,970 and 2,600 sold first in first out, 1,420 left (READ; coursehero p3asc8l)', async () => {
    itemId = (await item('fifo')).id;
    await buy(10, '91', '2024-08-01');
    await buy(15, '106', '2024-08-03');
    expect(await draw(20, '2024-08-14')).toBe(micro(1970));
    await buy(20, '115', '2024-08-17');
    await buy(10, '119', '2024-08-28');
    expect(await draw(23, '2024-08-31')).toBe(micro(2600));
    expect(await left()).toEqual([12, micro(1420)]);
  });

  it('A2: 2,000 and 2,582 sold by naming the lots, 1,408 left (MEM-hi)', async () => {
    itemId = (await item('specific')).id;
    const a = await buy(10, '91', '2024-08-01');
    const b = await buy(15, '106', '2024-08-03');
    expect((await draw(8, '2024-08-14', a)) + (await draw(12, '2024-08-14', b))).toBe(micro(2000));
    const c = await buy(20, '115', '2024-08-17');
    const d = await buy(10, '119', '2024-08-28');
    let second = 0;
    for (const [lot, qty] of [
      [a, 2],
      [b, 3],
      [c, 15],
      [d, 3],
    ] as const)
      second += await draw(qty, '2024-08-31', lot);
    expect(second).toBe(micro(2582));
    expect(await left()).toEqual([12, micro(1408)]);
  });
});
