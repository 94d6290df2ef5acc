import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { openRig, type Rig } from './rig.ts';
import { micro, type Shelf, stockShelf } from './shelf.ts';

const inch = (n: number): number => n * toBase(1, 'in');

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig({ now: '2024-07-07' });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

describe('shares after something else was taken', () => {
  it('cost no more than a share, and leave what is of use on the rack', async () => {
    const BOX = 1_000_000;
    const saved = await rig.call('builds.saveModel', {
      code: 'SHR',
      name: 'Shared',
      stages: [],
      parts: [
        { label: 'Steel', itemId: shelf.itemIds.bar, use: 'material', qty: inch(7.75), perBar: 6 },
        { label: 'Box', itemId: shelf.itemIds.box, use: 'packaging', qty: BOX, perBar: 3 },
      ],
      flats: [],
    });
    const [bar] = await shelf.buy('bar', 1, inch(48), 48);
    const [box] = await shelf.buy('box', 1, BOX, 12);
    const { ids } = await rig.call('builds.plan', { modelId: saved.id, count: 5, on: '2024-07-06' });
    const out = { kind: 'scrap', reason: 'test piece', on: '2024-07-06' } as const;
    await rig.call('stock.takeOut', { ...out, lotId: bar ?? '', qty: inch(3) });
    await rig.call('stock.takeOut', { ...out, lotId: box ?? '', qty: 200_000 });
    const take = (id: string, part: number): Promise<{ valueMicro: number }> =>
      rig.call('builds.takeUsual', {
        id,
        on: '2024-07-07',
        parts: [{ partId: saved.parts[part]?.id ?? '', lotId: part === 0 ? bar : box }],
      });
    const steel = [];
    for (const id of ids) steel.push((await take(id, 0)).valueMicro);
    const boxes = [];
    for (const id of ids.slice(0, 2)) boxes.push((await take(id, 1)).valueMicro);
    expect([steel, boxes]).toEqual([[8, 8, 8, 8, 8].map(micro), [3.999_996, 3.999_996].map(micro)]);
    const left = await Promise.all([bar, box].map((id) => rig.call('stock.lot', { id: id ?? '' })));
    expect(left.map((lot) => [lot.qtyLeft, lot.valueLeftMicro])).toEqual([
      [inch(5), micro(5)],
      [133_334, 1_600_008],
    ]);
  });
});
