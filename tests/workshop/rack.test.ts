/** The rack in depth: the chain both ways, what stock was worth, labels and papers. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { renderLabels } from '../../electron/documents/labels.ts';
import type { LabelsPaper, Press } from '../../electron/documents/types.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { readBack, textOf } from '../documents/read-back.ts';
import { openRig, type Rig } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const inches = (n: number): number => toBase(n, 'in');
const asked: LabelsPaper[] = [];
const press = {
  labels: (data: LabelsPaper) => {
    asked.push(data);
    return renderLabels(data);
  },
} as unknown as Press;

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  asked.length = 0;
  rig = await openRig({ now: '2024-12-31', renderer: press });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

const drawInches = (buildId: string, lotId: string, n: number, on: string) =>
  rig.call('stock.draw', { buildId, itemId: shelf.itemIds.bar, lotId, qty: inches(n), use: 'material', on });

describe('the chain', () => {
  it('leads from a bar to its knives and back to its purchase', async () => {
    const lotId = first(await shelf.buy('bar', 1, inches(48), 24));
    const [one, two] = await shelf.plan(2);
    await drawInches(one ?? '', lotId, 8, '2024-07-08');
    await drawInches(one ?? '', lotId, 4, '2024-07-09');
    await drawInches(two ?? '', lotId, 12, '2024-07-10');
    const { forward, back } = await rig.call('rack.trace', { lotId });
    expect(forward.map((step) => [step.kind, step.amount, step.valueMicro, step.depth, step.parent])).toEqual(
      [
        ['lot', '48 in', micro(24), 0, null],
        ['build', '12 in', micro(6), 1, 0],
        ['build', '12 in', micro(6), 1, 0],
      ],
    );
    expect(forward[1]?.on).toBe('2024-07-08');
    expect(back.map((step) => [step.kind, step.title, step.depth, step.parent])).toEqual([
      ['lot', 'Stainless bar 0.070 × 1.25', 0, null],
      ['purchase', 'Greyfen Bar & Strip', 1, 0],
    ]);
  });

  it('leads from a knife to everything in it, and forgets what was taken back', async () => {
    const lotId = first(await shelf.buy('bar', 1, inches(48), 24));
    await shelf.buy('walnut', 2, 1_000_000, 30);
    const buildId = first(await shelf.plan());
    const bar = await drawInches(buildId, lotId, 8, '2024-07-08');
    const order = { buildId, itemId: shelf.itemIds.walnut, qty: 1_000_000, use: 'material' as const };
    await rig.call('stock.draw', { ...order, on: '2024-07-08' });
    const full = await rig.call('rack.trace', { buildId });
    expect(full.back.map((step) => [step.kind, step.amount, step.depth])).toEqual([
      ['build', '', 0],
      ['lot', '8 in', 1],
      ['purchase', '', 2],
      ['lot', '1 pair', 1],
      ['purchase', '', 2],
    ]);
    await rig.call('stock.reverse', { movementId: first(bar.movementIds), reason: 'wrong bar' });
    const less = await rig.call('rack.trace', { buildId });
    expect(less.back.map((step) => step.title)).not.toContain('Stainless bar 0.070 × 1.25');
    const fromLot = await rig.call('rack.trace', { lotId });
    expect(fromLot.forward).toHaveLength(1);
  });

  it('asks for one lot or one knife', async () => {
    const fault = await rig.fault('rack.trace', {});
    expect(fault.message).toBe('Name one lot or one knife.');
    expect((await rig.fault('rack.trace', { lotId: 'none' })).kind).toBe('missing');
  });
});

describe('what the stock was worth', () => {
  it('follows the ledger day by day and adds up to what lies there now', async () => {
    const lotId = first(await shelf.buy('bar', 1, inches(48), 24, '2024-07-02'));
    await shelf.buy('walnut', 2, 1_000_000, 30, '2024-08-15');
    const buildId = first(await shelf.plan());
    await drawInches(buildId, lotId, 12, '2024-09-10');
    const total = async (on: string) => (await rig.call('rack.valueOn', { on })).totalMicro;
    expect(await total('2024-07-01')).toBe(0);
    expect(await total('2024-07-02')).toBe(micro(24));
    expect(await total('2024-08-14')).toBe(micro(24));
    expect(await total('2024-08-15')).toBe(micro(54));
    expect(await total('2024-09-10')).toBe(micro(48));
    const now = await rig.call('rack.valueOn', { on: '2024-12-31' });
    const items = await rig.call('stock.items', {});
    expect(now.totalMicro).toBe(sumOf(items, (item) => item.valueLeftMicro));
    expect(now.rows.map((row) => [row.itemName, row.qty, row.valueMicro])).toEqual([
      ['Stainless bar 0.070 × 1.25', inches(36), micro(18)],
      ['Walnut pair', 2_000_000, micro(30)],
    ]);
    const months = await rig.call('rack.valueMonths', { from: '2024-06-10', to: '2024-09-20' });
    expect(months).toEqual([
      { on: '2024-06-30', valueMicro: 0 },
      { on: '2024-07-31', valueMicro: micro(24) },
      { on: '2024-08-31', valueMicro: micro(54) },
      { on: '2024-09-20', valueMicro: micro(48) },
    ]);
    for (const month of months) expect(await total(month.on)).toBe(month.valueMicro);
  });

  it('is not moved by drawing lots level, whatever days the lots came in', async () => {
    const { name, form, unit } = await rig.call('stock.item', { id: shelf.itemIds.bar });
    const id = shelf.itemIds.bar;
    await shelf.buy('bar', 1, inches(48), 10, '2024-07-02');
    await shelf.buy('bar', 1, inches(48), 30, '2024-09-02');
    await rig.call('stock.saveItem', { id, name, kind: 'steel', form, unit, costing: 'average' });
    await shelf.buy('bar', 1, inches(48), 50, '2024-08-02');
    const total = async (on: string) => (await rig.call('rack.valueOn', { on })).totalMicro;
    expect(await total('2024-07-31')).toBe(micro(10));
    expect(await total('2024-08-31')).toBe(micro(60));
    expect(await total('2024-12-31')).toBe(micro(90));
  });

  it('refuses a span that ends before it starts', async () => {
    const fault = await rig.fault('rack.valueMonths', { from: '2024-09-01', to: '2024-08-01' });
    expect(fault.message).toBe('The first day lies after the last one. Swap them.');
  });
});

describe('papers', () => {
  it('lists what is left of lots with a listing, an origin or a document number', async () => {
    const [plain, listed] = await shelf.buy('bar', 2, inches(48), 24);
    const note = { place: 'Rack 2', heatNumber: '', note: '' };
    const about = {
      species: 'Dalbergia melanoxylon',
      listing: 'CITES II',
      origin: 'TZ',
      paperNumber: 'DOC-0001',
    };
    await rig.call('stock.moveLot', { lotId: listed ?? '', ...note, ...about });
    await rig.call('stock.moveLot', { lotId: plain ?? '', ...note, species: 'Juglans regia' });
    const rows = await rig.call('rack.papers', {});
    expect(rows.map((row) => [row.id, row.species, row.listing, row.origin, row.paperNumber])).toEqual([
      [listed, 'Dalbergia melanoxylon', 'CITES II', 'TZ', 'DOC-0001'],
    ]);
    // What is not named stays as it is.
    await rig.call('stock.moveLot', { lotId: listed ?? '', ...note, place: 'Rack 3' });
    expect((await rig.call('stock.lot', { id: listed ?? '' })).listing).toBe('CITES II');
  });
});

describe('labels', () => {
  it('say tag, name, size, heat number, place and day of every lot named, in that order', async () => {
    const [one, two] = await shelf.buy('bar', 2, inches(48), 24);
    const written = { place: 'Rack 2, top', heatNumber: 'H-7731', note: '' };
    await rig.call('stock.moveLot', { lotId: two ?? '', ...written });
    const lotIds = [two ?? '', one ?? ''];
    const out = await rig.call('rack.labels', { lotIds, sheet: 'a4of24', skip: 3 });
    expect([out.mime, out.name]).toEqual(['application/pdf', 'Rack labels 2024-12-31.pdf']);
    const paper = await readBack(new Uint8Array(Buffer.from(out.base64, 'base64')));
    expect(textOf(paper)).toBe(
      'L-0002 Stainless bar 0.070 × 1.25 48 in Heat H-7731 Place: Rack 2, top In since 2 Jul 2024 ' +
        'L-0001 Stainless bar 0.070 × 1.25 48 in In since 2 Jul 2024',
    );
    expect(asked[0]?.skip).toBe(3);
  });

  it('refuse more used labels than the sheet has', async () => {
    const lotIds = await shelf.buy('bar', 1, inches(48), 24);
    const fault = await rig.fault('rack.labels', { lotIds, sheet: 'a4of24', skip: 24 });
    expect(fault.message).toBe('This sheet has 24 labels. Write how many are used, at most 23.');
    const roll = await rig.fault('rack.labels', { lotIds, sheet: 'roll62x29', skip: 1 });
    expect(roll.message).toBe('A roll has no used labels to leave out. Write 0.');
    expect(asked).toEqual([]);
  });
});
