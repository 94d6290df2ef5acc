import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const inch = (n: number): number => n * toBase(1, 'in');
const BAR = inch(48);

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

describe('cutting', () => {
  it('plans a cut without touching the books, and cuts the same', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 24));
    const knives = await shelf.plan(2);
    const cut = {
      lotId,
      blankLength: inch(7.75),
      kerf: inch(1) / 16,
      sharing: 'whole-bar',
      blanksPerBar: 6,
    } as const;
    const before = wholeBooks(rig.db);
    const planned = await rig.call('stock.planCut', { ...cut, blanks: 2 });
    expect(wholeBooks(rig.db)).toEqual(before);
    expect(planned).toEqual({
      blanks: [
        { qty: inch(8), valueMicro: micro(4) },
        { qty: inch(8), valueMicro: micro(4) },
      ],
      leftQty: inch(32),
      leftValueMicro: micro(16),
      shortEnd: inch(1) / 8,
      sentence:
        '2 blanks of 7 3/4 in take 16 in of L-0001, worth $8.00. 1/8 in of kerf and short end goes to the scrap bin. 32 in stays on the rack, worth $16.00.',
    });
    expect(await rig.call('stock.cut', { ...cut, buildIds: [...knives], on: '2024-07-06' })).toEqual(planned);
    const build = await rig.call('builds.get', { id: first(knives) });
    expect(build.movements.map((m) => [m.qty, m.netQty, m.valueMicro, m.stageCode, m.use])).toEqual([
      [-inch(8), inch(7.75), -micro(4), 'CUT', 'material'],
    ]);
    expect(build.parts.find((part) => part.label === 'Steel')?.takenQty).toBe(inch(7.75));
  });

  it('lets a short end of no use rest in the blanks cut by length, and keeps a useful one', async () => {
    const saved = {
      id: shelf.itemIds.bar,
      name: 'Stainless bar',
      kind: 'steel',
      form: 'length',
      unit: 'in',
      pieceWord: 'bar',
    } as const;
    await rig.call('stock.saveItem', { ...saved, usefulRemnant: inch(6) });
    const [lotId, otherId] = await shelf.buy('bar', 2, inch(20), 40);
    const cut = { blankLength: inch(8), kerf: 0, sharing: 'by-length' } as const;
    const all = await rig.call('stock.planCut', { ...cut, lotId: lotId ?? '', blanks: 2 });
    expect([all.blanks, all.leftQty, all.shortEnd]).toEqual([
      [
        { qty: inch(10), valueMicro: micro(10) },
        { qty: inch(10), valueMicro: micro(10) },
      ],
      0,
      inch(4),
    ]);
    const one = await rig.call('stock.planCut', { ...cut, lotId: otherId ?? '', blanks: 1 });
    expect([one.blanks, one.leftQty, one.leftValueMicro]).toEqual([
      [{ qty: inch(8), valueMicro: micro(8) }],
      inch(12),
      micro(12),
    ]);
  });

  it('gives six blanks of one bar equal shares that add up to its price', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 25.5));
    const knives = await shelf.plan(6);
    const cut = { lotId, blankLength: inch(7.75), kerf: 0, sharing: 'whole-bar', blanksPerBar: 6 } as const;
    for (const knife of knives) await rig.call('stock.cut', { ...cut, buildIds: [knife], on: '2024-07-06' });
    const costs = await Promise.all(
      knives.map(async (id) => (await rig.call('builds.get', { id })).costMicro),
    );
    expect(costs).toEqual(knives.map(() => micro(4.25)));
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro, lot.builds.map((build) => build.serial)]).toEqual([
      0,
      0,
      ['W01', 'W02', 'W03', 'W04', 'W05', 'W06'],
    ]);
  });

  it('refuses what cannot be cut, in words, and changes nothing', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 24));
    const wood = first(await shelf.buy('walnut', 1, 1_000_000, 14));
    const knife = first(await shelf.plan());
    const before = wholeBooks(rig.db);
    const cut = {
      lotId,
      blankLength: inch(50),
      kerf: 0,
      sharing: 'by-length',
      buildIds: [knife],
      on: '2024-07-06',
    };
    const faults = [
      await rig.fault('stock.cut', cut),
      await rig.fault('stock.cut', { ...cut, blankLength: 0 }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), buildIds: [knife, knife] }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), sharing: 'whole-bar' }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), lotId: wood }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), lotId: 'gone' }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), buildIds: ['nobody'] }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), on: '2024-07-01' }),
    ];
    expect(faults.map((fault) => fault.message)).toEqual([
      'The blank of 50 in is longer than what is left of the bar, 48 in.',
      'A quantity must be more than zero.',
      'The same knife is named twice. Name each knife once.',
      'Enter for how many blanks the bar is planned.',
      'Walnut pair is not measured by length, so no blanks are cut from it. Take it as a part instead.',
      'This lot does not exist any more. Go back to the rack.',
      'This knife does not exist any more. Go back to the list.',
      'L-0001 came in on 2024-07-02, after 2024-07-01. Change the date or choose an older lot.',
    ]);
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});
