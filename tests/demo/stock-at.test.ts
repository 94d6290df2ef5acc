/** Stock at cost at the ends of both years of the demo, against its tables' control totals. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { stockAt } from '../../electron/workshop/stock/at.ts';
import type { Rig } from '../workshop/rig.ts';
import { madeDemoMs, openDemo } from './made.ts';

let rig: Rig;
beforeAll(async () => {
  rig = await openDemo();
}, madeDemoMs);
afterAll(() => rig.close());

const money = (micro: number): string => (micro / 1e6).toFixed(2);
const serials = (list: readonly { readonly serial: string }[]): string =>
  list.map((knife) => knife.serial).join(' ');

test('at the end of 2024: 626.04 raw, 124.00 in W14 and W15, nothing in work: 750.04', () => {
  const at = stockAt(rig.db, '2024-12-31');
  expect([at.rawMicro, at.finishedMicro, at.inWorkMicro, at.totalMicro].map(money)).toEqual([
    '626.04',
    '124.00',
    '0.00',
    '750.04',
  ]);
  expect([serials(at.finished), serials(at.inWork)]).toEqual(['W14 W15', '']);
});

test('at the end of 2025: 845.24 raw, 186.71 in three finished knives, 73.96 in four begun: 1,105.91', () => {
  const at = stockAt(rig.db, '2025-12-31');
  expect([at.rawMicro, at.finishedMicro, at.inWorkMicro, at.totalMicro].map(money)).toEqual([
    '845.24',
    '186.71',
    '73.96',
    '1105.91',
  ]);
  expect([serials(at.finished), serials(at.inWork)]).toEqual(['W37 W38 W40', 'W42 W43 W44 W45']);
  // P8 is made as W42.
  expect(at.inWork[0]?.heldFor).toBe('Honor Lindenquay');
});

test('both years were counted, with no difference, and what is kept is what the tables say', async () => {
  const list = await rig.call('stocktake.list', {});
  expect(list.map((one) => [one.on, one.state, one.counted === one.lines, one.differenceMicro])).toEqual([
    ['2025-12-31', 'finished', true, 0],
    ['2024-12-31', 'finished', true, 0],
  ]);
  expect(list.map((one) => money(one.totalMicro ?? 0))).toEqual(['1105.91', '750.04']);
  const kept = await rig.call('stocktake.get', { id: list[0]?.id ?? '' });
  // Every knife of the day, W42 made for somebody; nothing was booked for the day since.
  expect(kept.knives.filter((knife) => knife.heldFor !== '').map((knife) => knife.serial)).toEqual(['W42']);
  expect(kept.booksNowMicro).toBeNull();
  // Two pairs of scales are left of the laminate, 48 square inches of a sheet 12 in wide: 12 × 4 in.
  const sizes = rig.db.q
    .selectFrom('lots')
    .select(['length_nm', 'width_nm'])
    .where('length_nm', 'is not', null);
  expect(rig.db.all(sizes)).toEqual([{ length_nm: 304_800_000, width_nm: 101_600_000 }]);
});
