/** The shop-made billet of the demo workshop, through the use-cases: weight, loss, money and hours. Invented data. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { MakingDetail } from '../../electron/api/makings.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { renderMaking } from '../../electron/documents/making.ts';
import { noPress } from '../workshop/no-press.ts';
import { openRig, type Rig } from '../workshop/rig.ts';
import { micro } from '../workshop/shelf.ts';

const GRAM = toBase(1, 'g');
const money = (amountMicro: number): string => (amountMicro / 1e6).toFixed(2);
const percent = (ppm: number | null): string => (ppm === null ? '' : (ppm / 10_000).toFixed(1));

let rig: Rig;
let open: MakingDetail;
let done: MakingDetail;
let knives: readonly string[] = [];

const goods = [
  ['1084 1/8 × 1.5', 'steel', 'length', 'in', 'bar', toBase(48, 'in'), 2, 44],
  ['Nickel steel 0.070 × 1.5', 'steel', 'length', 'in', 'bar', toBase(48, 'in'), 2, 54],
  ['Propane', 'fuel', 'weight', 'lb', 'fill', toBase(20, 'lb'), 1, 24],
  ['Belt 36 ceramic', 'belt', 'piece', 'piece', 'belt', toBase(1, 'piece'), 8, 78.4],
  ['Belt 120 ceramic', 'belt', 'piece', 'piece', 'belt', toBase(1, 'piece'), 5, 37],
] as const;

const takes = [
  ['1084 1/8 × 1.5', toBase(56, 'in'), '8 strips of 7 in'],
  ['Nickel steel 0.070 × 1.5', toBase(49, 'in'), '7 strips of 7 in'],
  ['Propane', (toBase(1, 'lb') / 100) * 1344, '4.2 h of fire'],
  ['Belt 36 ceramic', toBase(2, 'piece'), ''],
  ['Belt 120 ceramic', toBase(1, 'piece') / 2, ''],
] as const;

const steps = [
  ['2025-05-03', 'stack', 'Stack, 15 layers', 2028, 1],
  ['2025-05-03', 'weld', 'Weld, draw', 1866, 1],
  ['2025-05-04', 'cut', 'Clean faces, crop ends, cut in 4', 1735, 4],
  ['2025-05-04', 'weld', 'Restack 60 layers, weld, draw', 1614, 1],
  ['2025-05-10', 'cut', 'Clean, crop, cut in 4', 1517, 4],
  ['2025-05-10', 'weld', 'Restack 240 layers, weld, draw', 1441, 1],
  ['2025-05-11', 'grind', 'Surface grind to bar', 1383, 1],
] as const;

async function buyGoods(): Promise<ReadonlyMap<string, string>> {
  const supplier = await rig.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
  const ids = new Map<string, string>();
  for (const [name, kind, form, unit, pieceWord, qtyEach, pieces, price] of goods) {
    const item = await rig.call('stock.saveItem', { name, kind, form, unit, pieceWord });
    ids.set(name, item.id);
    const line = { itemId: item.id, pieces, qtyEach, priceMicro: micro(price) };
    await rig.call('stock.buy', { supplierId: supplier.id, on: '2025-04-19', lines: [line] });
  }
  return ids;
}

async function forge(ids: ReadonlyMap<string, string>): Promise<string> {
  const about = { title: 'PW-01', kind: 'billet', labourOver: 'taken', startLayers: 15 } as const;
  const { id: makingId } = await rig.call('makings.start', { ...about, on: '2025-05-03' });
  for (const [name, qty, label] of takes)
    await rig.call('makings.take', { makingId, itemId: ids.get(name) ?? '', qty, label, on: '2025-05-03' });
  const charges = [
    ['Handle rod, wire, flux', 5.4],
    ['Hammer and grinder power', 1.6],
  ] as const;
  for (const [label, amount] of charges)
    await rig.call('makings.charge', { makingId, label, amountMicro: micro(amount), on: '2025-05-10' });
  for (const [on, kind, label, weight, pieces] of steps)
    await rig.call('makings.step', { makingId, on, kind, label, weightAfterNg: weight * GRAM, pieces });
  for (const [on, minutes] of [
    ['2025-05-03', 150],
    ['2025-05-04', 120],
    ['2025-05-10', 180],
  ] as const)
    await rig.call('hours.book', { on, minutes, stageCode: 'BIL', workKind: null, shares: [], makingId });
  return makingId;
}

beforeAll(async () => {
  rig = await openRig({ now: '2025-07-10', renderer: noPress('only the sheet', { making: renderMaking }) });
  const makingId = await forge(await buyGoods());
  open = await rig.call('makings.get', { id: makingId });
  const billet = { name: 'Billet 1084 and nickel', kind: 'steel', form: 'weight', unit: 'g' } as const;
  const { id: itemId } = await rig.call('stock.saveItem', billet);
  await rig.call('makings.finish', {
    makingId,
    on: '2025-05-11',
    outputs: [380, 380, 300, 220].map((weight) => ({ itemId, qty: weight * GRAM })),
  });
  const about = { code: 'CHFP', name: 'Quenby chef, pattern-welded', stages: [], parts: [], flats: [] };
  const model = await rig.call('builds.saveModel', about);
  knives = (await rig.call('builds.plan', { modelId: model.id, count: 3, on: '2025-05-17' })).ids;
  const lots = (await rig.call('makings.get', { id: makingId })).outputs.map(({ lot }) => lot);
  for (const [at, buildId] of knives.entries()) {
    const lot = lots[at];
    const from = { itemId, lotId: lot?.id ?? '', qty: lot?.qtyLeft ?? 0, use: 'material' as const };
    await rig.call('stock.draw', { buildId, ...from, on: '2025-05-17' });
  }
  done = await rig.call('makings.get', { id: makingId });
});
afterAll(() => rig.close());

describe('the billet PW-01', () => {
  it('loses 8, 7, 7, 6, 5 and 4 percent on the way to 31.8 to bar and 36.9 in all', () => {
    expect(open.steps.map((step) => [step.weightAfterNg, percent(step.lossPpm)])).toEqual([
      [2028 * GRAM, ''],
      [1866 * GRAM, '8.0'],
      [1735 * GRAM, '7.0'],
      [1614 * GRAM, '7.0'],
      [1517 * GRAM, '6.0'],
      [1441 * GRAM, '5.0'],
      [1383 * GRAM, '4.0'],
    ]);
    expect([percent(open.totalLossPpm), percent(done.totalLossPpm)]).toEqual(['31.8', '36.9']);
    expect(done.steps.map((step) => step.layers)).toEqual([15, 15, 60, 60, 240, 240, 240]);
    expect(done.layers).toBe(240);
  });

  it('costs 99.66, line by line, and 77.857 a kilogram of good bar', () => {
    const lines = done.lines.map((line) => [line.label, (line.amountMinor / 100).toFixed(2)]);
    expect(lines).toEqual([
      ['1084 1/8 × 1.5', '25.67'],
      ['Nickel steel 0.070 × 1.5', '27.56'],
      ['Propane', '16.13'],
      ['Belt 36 ceramic', '19.60'],
      ['Belt 120 ceramic', '3.70'],
      ['Handle rod, wire, flux', '5.40'],
      ['Hammer and grinder power', '1.60'],
    ]);
    expect([done.directMinor, done.costMicro]).toEqual([9966, micro(99.66)]);
    expect(((done.perKgMicro ?? 0) / 1e6).toFixed(3)).toBe('77.857');
  });

  it('gives three blanks at 29.59, 29.59 and 23.36, and a remnant of 220 g at 17.13', () => {
    expect(done.outputs.map((output) => money(output.valueMicro))).toEqual([
      '29.59',
      '29.59',
      '23.36',
      '17.13',
    ]);
    const exact = done.lines.reduce((so, line) => so + line.exactMicro, 0);
    expect(done.outputs.reduce((so, output) => so + output.valueMicro, 0)).toBe(exact);
    const remnant = done.outputs.at(-1)?.lot;
    expect([remnant?.qtyLeft, money(remnant?.valueLeftMicro ?? 0)]).toEqual([220 * GRAM, '17.13']);
  });

  it('puts its 450 minutes on the three blanks, 161, 161 and 128, beside the knives’ own hours', async () => {
    expect(done.minutes).toBe(450);
    const sheets = await Promise.all(knives.map((buildId) => rig.call('costs.sheet', { buildId })));
    expect(sheets.map((sheet) => [sheet.madeLabour.minutes, sheet.minutes])).toEqual([
      [161, 0],
      [161, 0],
      [128, 0],
    ]);
    expect(sheets.map((sheet) => (sheet.materialsMinor / 100).toFixed(2))).toEqual([
      '29.59',
      '29.59',
      '23.36',
    ]);
    expect(sheets.map((sheet) => sheet.materials[0]?.working[0]?.how)).toEqual([
      '380 g of L-0008 (380 g made in M-0001 for 29.5857)',
      '380 g of L-0009 (380 g made in M-0001 for 29.5857)',
      '300 g of L-0010 (300 g made in M-0001 for 23.3571)',
    ]);
  });

  it('is within common practice, so nothing is remarked', () => {
    expect(done.remarks).toEqual([]);
    expect(open.remarks).toEqual([]);
  });

  it('prints its sheet', async () => {
    const pdf = await rig.call('makings.sheetPdf', { id: done.id });
    expect([pdf.name, pdf.mime]).toEqual(['Making M-0001.pdf', 'application/pdf']);
    expect(Buffer.from(pdf.base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
  });
});
