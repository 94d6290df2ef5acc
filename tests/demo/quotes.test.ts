/** The plain chef's floor of the demo workshop's tables, through the real use-case on the demo's own books. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { QuotePart } from '../../electron/api/quotes.ts';
import type { Rig } from '../workshop/rig.ts';
import { madeDemoMs, openDemo } from './made.ts';

let rig: Rig;
let modelId = '';
let awayId = '';

beforeAll(async () => {
  rig = await openDemo();
  modelId = (await rig.call('builds.models', {})).find((model) => model.code === 'CHF')?.id ?? '';
  awayId =
    (await rig.call('workshop.taxPlaces', {})).find((place) => place.name === 'Other states')?.id ?? '';
}, madeDemoMs);
afterAll(() => rig.close());

const money = (minor: number): string => (minor / 100).toFixed(2);
const labels = (parts: readonly QuotePart[]): readonly string[] =>
  parts.map((part) => `${part.label}: ${money(part.minor)}`);
/** Knives of this model of the second half of 2025, their hours as booked, overhead as it came out for that year. */
const secondHalf = () =>
  ({
    modelId,
    among: 'model',
    since: '2025-07-01',
    hours: 'booked',
    taxPlaceId: awayId,
  }) as const;

test('the plain chef’s floor is 875, made of 107.48 + 6.14 + 735.47 and the fee on the whole', async () => {
  const found = await rig.call('quotes.reckon', { ...secondHalf(), overheadPerHourMicro: 9_800_000 });
  expect(found.nearest.map((knife) => knife.serial)).toEqual(['W39', 'W31']);
  expect(found.nearestHow).toContain('Too few to say how they spread');
  expect(found.hours).toMatchObject({ minutes: 985, from: 'booked' });
  expect(money(found.directMinor)).toBe('107.48');
  expect(labels(found.floor.parts)).toEqual([
    'Steel: 6.08',
    'Handle: 52.00',
    'Pins and ferrule: 4.20',
    'Guard, spacer, liner: 2.80',
    'Epoxy: 0.88',
    'Consumables: 30.77',
    'Fuel and current: 3.95',
    'Packaging: 6.80',
    'Your hours and the overhead, 16 h 25 min: 735.47',
    'Postage: 24.14',
    'Shipping charged, taken off: -18.00',
    'Fee of Own website, on the whole charge: 26.21',
  ]);
  expect(money(found.floor.totalMinor ?? 0)).toBe('875.30');
  expect(found.labour).toMatchObject({ perHourMicro: 35_000_000, from: '2024-07-01' });
  expect(found.warnings.join(' ')).toContain('The floor lies $285.30 above list price and options.');
});

test('with the overhead in force in the books only the line of hours and the fee on it differ', async () => {
  const written = await rig.call('quotes.reckon', { ...secondHalf(), overheadPerHourMicro: 9_800_000 });
  const own = await rig.call('quotes.reckon', secondHalf());
  expect(own.overhead.from).not.toBeNull();
  const differing = own.floor.parts.flatMap((part, at) =>
    part.minor === written.floor.parts[at]?.minor ? [] : [part.label],
  );
  const same = own.overhead.perHourMicro === 9_800_000;
  expect(differing).toEqual(
    same ? [] : ['Your hours and the overhead, 16 h 25 min', 'Fee of Own website, on the whole charge'],
  );
  const hours = (985 * (35_000_000 + own.overhead.perHourMicro)) / 60 / 10_000;
  // By hand: (goods + shipping net + hours + 0.30 + 0.029 × 18) / 0.971, put up to the cent.
  expect(own.floor.totalMinor).toBe(Math.ceil((10_748 + 614 + Math.round(hours) + 30 + 52.2) / 0.971));
});

test('the other views read the demo’s own sales: list price, what the last fetched, the line by size', async () => {
  const found = await rig.call('quotes.reckon', { modelId, taxPlaceId: awayId });
  // Stones since March 2025: only W27, W31 and W39 were made that way and finished.
  expect(found.nearest.map((knife) => [knife.serial, knife.near])).toEqual([
    ['W39', 'alike in all that is known'],
    ['W31', 'alike in all that is known'],
    ['W27', 'alike in all that is known'],
  ]);
  expect(found.hours).toMatchObject({ from: 'practised' });
  expect(found.hours.practice).toContain('number 13 of its family; its work takes 94 %');
  expect(money(found.base.totalMinor ?? 0)).toBe('590.00');
  // Seven at 540.00 and one at 590.00.
  expect(found.fetched.spread).toMatchObject({ middle: 54_000, knives: 8 });
  expect(found.line.totalMinor).toBeGreaterThan(0);
  expect(found.lead).not.toBeNull();
  const quotes = await rig.call('quotes.list', {});
  expect(quotes.rows.map((row) => [row.tag, money(row.totalMinor)])).toEqual([
    ['Q-0002', '770.00'],
    ['Q-0001', '275.00'],
  ]);
});
