/** The demo’s overhead, trips, depreciation and supporters, held against the tables of the invented workshop. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { depreciationIn } from '../../electron/workshop/money/depreciation.ts';
import { expensesByCategory, type Span } from '../../electron/storage/queries/expenses.ts';
import { incomeByKind, mileageTotal } from '../../electron/storage/queries/money.ts';
import type { Rig } from '../workshop/rig.ts';
import { madeDemoMs, openDemo } from './made.ts';

let rig: Rig;
beforeAll(async () => {
  rig = await openDemo();
}, madeDemoMs);
afterAll(() => rig.close());

const half = { from: '2024-07-01', to: '2024-12-31' };
const year = { from: '2025-01-01', to: '2025-12-31' };

const spent = (span: Span, day?: 'cost_on' | 'paid_on'): Record<string, number> =>
  Object.fromEntries(expensesByCategory(rig.db, span, day).map((row) => [row.name, row.cost_minor / 100]));

it('spends on each kind of overhead what the tables say, earned and paid alike', () => {
  const first = {
    Insurance: 210,
    'Website and domain': 138,
    'Base power of the shop': 96,
    'Small tools and repairs': 185,
    Safety: 60,
    'Freight-in': 110,
    'Photo and content props': 35,
  };
  const second = {
    Insurance: 432,
    'Website and domain': 282,
    'Base power of the shop': 204,
    'Tax preparer and legal': 340,
    'Small tools and repairs': 410,
    Safety: 118,
    'Freight-in': 165,
    'Photo and content props': 60,
  };
  expect(spent(half)).toEqual(first);
  expect(spent(half, 'paid_on')).toEqual(first);
  expect(spent(year)).toEqual(second);
  expect(spent(year, 'paid_on')).toEqual(second);
});

it('drives, writes off and earns from supporters what the tables say', async () => {
  expect([mileageTotal(rig.db, half), mileageTotal(rig.db, year)]).toEqual([4000, 9000]);
  const written = (span: Span) => depreciationIn(rig.db, span).map((line) => line.minor);
  expect([written(half), written({ from: '2024-01-01', to: '2024-12-31' }), written(year)]).toEqual([
    [38_000, 14_000],
    [38_000, 14_000],
    [76_000, 42_000],
  ]);
  expect(incomeByKind(rig.db, half)).toEqual([
    { kind: 'supporters', gross_minor: 55_800, fee_minor: 5580, n: 6 },
  ]);
  expect(incomeByKind(rig.db, year, 'received_on')).toEqual([
    { kind: 'supporters', gross_minor: 231_600, fee_minor: 23_160, n: 12 },
  ]);
  const months = await rig.call('money.supporterMonths', {});
  expect(months.map((month) => month.booked?.count)).toEqual(
    [12, 13, 15, 16, 18, 19, 21, 24, 29, 30, 31, 31, 32, 33, 35, 39, 40, 41].toReversed(),
  );
});

it('leaves receipts to look for, one bill that fell due, and every hour that belongs to no knife', async () => {
  const { total, costMinor } = await rig.call('money.expenses', { noReceipt: true, ...year });
  expect([total, costMinor]).toEqual([2, 3950 + 3600]);
  const { due } = await rig.call('money.repeats', {});
  expect(due.map(({ on, payee }) => `${on} ${payee}`)).toEqual(['2026-01-03 Larkpost Hosting']);
  const minutes = (span: Span): number =>
    rig.db.one(
      rig.db.q
        .selectFrom('sessions')
        .where('current', '=', 1)
        .where('cancelled', '=', 0)
        .where('stage_code', 'is', null)
        .where('making_id', 'is', null)
        .where('on_date', '>=', span.from)
        .where('on_date', '<=', span.to)
        .select(({ fn }) => fn.sum<number>('minutes').as('n')),
    )?.n ?? 0;
  expect([minutes(half), minutes(year)]).toEqual([58 * 60, 148 * 60]);
});
