import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { BuildRow } from '../../electron/api/builds.ts';
import type { CostSheet } from '../../electron/api/costs.ts';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { noPress } from '../workshop/no-press.ts';
import type { Rig } from '../workshop/rig.ts';
import { figuresOfSheet } from './figures.ts';
import { madeDemoMs, openDemo } from './made.ts';
import { allExpected } from './table.ts';

const renderer = noPress('only invoices are set here', { invoice: renderInvoice });

let rig: Rig;
let builds: readonly BuildRow[] = [];
const sheets = new Map<string, CostSheet>();

beforeAll(async () => {
  rig = await openDemo(renderer);
  builds = (await rig.call('builds.list', { sort: 'serial' })).rows;
  for (const build of builds) sheets.set(build.serial, await rig.call('costs.sheet', { buildId: build.id }));
}, madeDemoMs);
afterAll(() => rig.close());

const sheetOf = (serial: string): CostSheet => {
  const sheet = sheets.get(serial);
  if (sheet === undefined) throw new Error(`No sheet for ${serial}`);
  return sheet;
};

const money = (minor: number): string => (minor / 100).toFixed(2);

describe('The demo workshop over eighteen months', () => {
  test.each(allExpected)('$serial cost and brought what the tables say', (of) => {
    expect(figuresOfSheet(sheetOf(of.serial))).toEqual(of);
  });

  test('all 45 builds took 30500 minutes', () => {
    expect(builds).toHaveLength(45);
    expect(builds.reduce((sum, build) => sum + build.minutes, 0)).toBe(30_500);
  });

  /** Table of pre-orders: who, ordered, price, deposit, first promise, how it ended and when, and the knives made for it. */
  test('nine orders were agreed at the prices, deposits and days of the tables', async () => {
    const { rows } = await rig.call('orders.list', { show: 'all', limit: 100 });
    const agreed = rows.filter((row) => row.agreedOn !== null).toSorted((a, b) => a.tag.localeCompare(b.tag));
    const told = await Promise.all(
      agreed.map(async ({ id }) => {
        const order = await rig.call('orders.get', { id });
        const promise = order.changes.filter((change) => change.what === 'Promised for').at(-1)?.after;
        return [
          order.buyerName,
          order.agreedOn,
          money(order.totalMinor ?? 0),
          `${money(order.depositMinor)} (${(order.terms?.percentPpm ?? 0) / 10_000} %)`,
          promise,
          `${order.state} ${order.endedOn ?? ''}`.trim(),
          order.knives
            .map((knife) => knife.serial)
            .toReversed()
            .join(' then '),
        ];
      }),
    );
    expect(told).toEqual([
      [
        'Bram Larkspindle',
        '2024-08-30',
        '540.00',
        '135.00 (25 %)',
        '2024-12-15',
        'delivered 2024-12-10',
        'W11',
      ],
      [
        'Petra Gorsewick',
        '2024-09-12',
        '420.00',
        '105.00 (25 %)',
        '2024-12-15',
        'delivered 2024-12-12',
        'W12',
      ],
      [
        'Ambrose Fiddlemarsh',
        '2025-02-03',
        '560.00',
        '168.00 (30 %)',
        '2025-05-31',
        'delivered 2025-05-20',
        'W26',
      ],
      [
        'Beatrix Coldspoon',
        '2025-02-20',
        '540.00',
        '162.00 (30 %)',
        '2025-06-07',
        'delivered 2025-07-08',
        'W28 then W31',
      ],
      [
        'Alaric Vanehollow',
        '2025-03-22',
        '1280.00',
        '512.00 (40 %)',
        '2025-07-31',
        'delivered 2025-07-10',
        'W29',
      ],
      [
        'Minna Copsewright',
        '2025-05-24',
        '420.00',
        '126.00 (30 %)',
        '2025-08-31',
        'delivered 2025-08-14',
        'W35',
      ],
      [
        'Silas Gannetford',
        '2025-06-14',
        '285.00',
        '85.50 (30 %)',
        '2025-09-15',
        'cancelled 2025-08-02',
        'W33',
      ],
      ['Honor Lindenquay', '2025-11-08', '590.00', '177.00 (30 %)', '2026-02-15', 'agreed', 'W42'],
      ['Casper Yarrowgate', '2025-12-06', '510.00', '153.00 (30 %)', '2026-03-31', 'agreed', ''],
    ]);
  });

  test('330.00 of customers’ money is held at the end; 42.75 of the cancelled deposit is kept and 42.75 went back', async () => {
    const head = await rig.call('orders.head', {});
    expect(head.held.map((row) => [row.buyerName, money(row.paidMinor)])).toEqual([
      ['Honor Lindenquay', '177.00'],
      ['Casper Yarrowgate', '153.00'],
    ]);
    expect([money(head.heldMinor), money(head.keptMinor), head.giveBackMinor]).toEqual([
      '330.00',
      '42.75',
      0,
    ]);
    const paidBack = rig.db.one(
      rig.db.q.selectFrom('payments').select(['on_date', 'amount_minor']).where('amount_minor', '<', 0),
    );
    expect(paidBack).toEqual({ on_date: '2025-08-04', amount_minor: -4275 });
    const [late] = (await rig.call('orders.list', { text: 'W31', show: 'all' })).rows;
    // 31 days after the first promise, four days before the second.
    expect([late?.promisedOn, late?.endedOn]).toEqual(['2025-07-12', '2025-07-08']);
  });

  test('fees are 136.05 in 2024 and 364.93 in 2025, 12.95 of it on deposits of knives not delivered', () => {
    const ofSales = (year: string): number =>
      rig.db.one(
        rig.db.q
          .selectFrom('sales')
          .where('on_date', 'like', `${year}%`)
          .select((e) => e.fn.sum<number>('fee_minor').as('n')),
      )?.n ?? 0;
    const ofDeposits =
      rig.db.one(
        rig.db.q
          .selectFrom('payments as y')
          .innerJoin('invoices as i', 'i.id', 'y.invoice_id')
          .innerJoin('orders as o', 'o.id', 'i.order_id')
          .where('i.kind', '=', 'deposit')
          .where('o.sale_id', 'is', null)
          .select((e) => e.fn.sum<number>('y.fee_minor').as('n')),
      )?.n ?? 0;
    expect([ofSales('2024'), ofSales('2025'), ofDeposits].map(money)).toEqual(['136.05', '351.98', '12.95']);
  });

  test('37 are sold, one is scrapped, three stand unsold and four are in work', () => {
    const count = (state: string): number => builds.filter((build) => build.state === state).length;
    expect(['sold', 'scrapped', 'finished', 'inWork'].map(count)).toEqual([37, 1, 3, 4]);
  });

  test('purchases of 2025 come to 2,464.66', async () => {
    const { rows } = await rig.call('stock.purchases', { from: '2025-01-01', to: '2025-12-31' });
    expect(rows.reduce((sum, row) => sum + row.totalMicro, 0)).toBe(2_464_660_000);
  });

  test('stock at the end is 845.24 on the rack, 186.71 in finished knives and 73.96 in work', async () => {
    const items = await rig.call('stock.items', {});
    const raw = items.reduce((sum, item) => sum + item.valueLeftMicro, 0);
    const inState = (state: string): number =>
      builds
        .filter((build) => build.state === state)
        .reduce((sum, build) => sum + sheetOf(build.serial).directMinor, 0) / 100;
    expect([(raw / 1e6).toFixed(2), inState('finished').toFixed(2), inState('inWork').toFixed(2)]).toEqual([
      '845.24',
      '186.71',
      '73.96',
    ]);
  });

  test('quantities left at the end are those of the tables', async () => {
    const items = await rig.call('stock.items', {});
    const left = (name: string): number => {
      const item = items.find((each) => each.name === name);
      if (item === undefined) throw new Error(`No ${name}`);
      return item.qtyLeft;
    };
    const inch = 25_400_000;
    expect(
      [
        left('1084 bar 1/8 × 1.5 in') / inch,
        left('Nickel band-saw steel 0.070 × 1.5 in') / inch,
        left('Pattern-welded billet') / 1e9,
        left('Walnut scales') / 1e6,
        left('Burl scales') / 1e6,
        left('Maple block') / 1e6,
        left('Burl block') / 1e6,
        left('Premium burl block') / 1e6,
        left('Laminate sheet 12 × 12 × 3/8 in') / (24 * 645_160_000),
        left('Saddle leather 8 oz') / 92_903_040_000,
        left('Packaging set') / 1e6,
        left('Abrasive paper, mixed grits') / 1e6,
        left('Finishing stones, set of three') / 1e6,
      ].map((n) => Math.round(n * 1000) / 1000),
    ).toEqual([40, 47, 220, 3, 1, 2, 2, 1, 2, 6.4, 13, 10.5, 1.07]);
  });

  test('hours: 334.67 at the bench on knives begun in 2025, 7.5 on the billet, 148 of other work', async () => {
    const begun = builds.filter((build) => (build.startedOn ?? '') >= '2025-01-01');
    expect((begun.reduce((sum, build) => sum + build.minutes, 0) / 60).toFixed(2)).toBe('334.67');
    const { rows } = await rig.call('hours.sessions', {
      from: '2025-01-01',
      to: '2025-12-31',
      limit: 20_000,
    });
    const sum = (of: typeof rows): number => of.reduce((so, row) => so + row.minutes, 0) / 60;
    expect(sum(rows.filter((row) => row.makingId !== null))).toBe(7.5);
    expect(sum(rows.filter((row) => row.workKind !== null))).toBe(148);
  });

  test('the billet weighs, loses and costs what the tables say, and its labour goes with the blanks', async () => {
    const [row] = (await rig.call('makings.list', {})).rows;
    const making = await rig.call('makings.get', { id: row?.id ?? '' });
    expect(
      making.steps.map((step) => (step.lossPpm === null ? null : (step.lossPpm / 10_000).toFixed(1))),
    ).toEqual([null, '8.0', '7.0', '7.0', '6.0', '5.0', '4.0', '7.4']);
    expect([making.layers, (making.totalLossPpm ?? 0) / 10_000, making.directMinor]).toEqual([
      240,
      expect.closeTo(36.9, 1),
      9966,
    ]);
    const taken = making.outputs[0]?.taken ?? [];
    expect(taken.map((each) => [each.serial, (each.valueMicro / 1e6).toFixed(2), each.minutes])).toEqual([
      ['W29', '29.59', 161],
      ['W30', '29.59', 161],
      ['W32', '23.36', 128],
    ]);
    expect(((making.outputs[0]?.lot.valueLeftMicro ?? 0) / 1e6).toFixed(2)).toBe('17.13');
  });

  test('stone against paper on the plain chef: 27 % raw, 20 % with practice divided out, and the warning', async () => {
    const rows = await rig.call('trials.list', {});
    const id = rows.find((one) => one.modelCode === 'CHF')?.id ?? '';
    const { raw, practised, warnings, consumables } = await rig.call('trials.get', { id });
    const percent = (ppm = Number.NaN): number => Math.round(ppm / 10_000);
    expect(
      [raw, practised].map((one) => [one?.first.mean, one?.second.mean, percent(one?.savingPpm)]),
    ).toEqual([
      [322, 233.8, 27],
      [301, 241, 20],
    ]);
    expect([raw?.first.n, raw?.second.n]).toEqual([5, 4]);
    expect(warnings.join(' ')).toContain('The method changed at the same time as experience');
    const used = consumables.map((way) => way.items.map((item) => item.meanQty / 1e6));
    expect(used.map((amounts) => amounts.toSorted((a, b) => a - b))).toEqual([[8.5], [0.11, 4]]);
    expect(consumables.map((way) => (way.meanMicro / 1e6).toFixed(2))).toEqual(['8.93', '6.97']);
  });

  test('the chipped knife was scrapped and the petty with a gap sold as a second, by the ways as they stood', async () => {
    const byKnife = async (serial: string) => {
      const build = builds.find((one) => one.serial === serial);
      return rig.call('ways.reckon', { buildId: build?.id ?? '' });
    };
    const chipped = await byKnife('W28');
    expect(chipped.sunk).toEqual({ minutes: 665, directMinor: 3345, atRateMinor: 42_137 });
    expect(chipped.doubts[0]).toContain('Edge over the rod failed on 2025-05-10');
    const [decided] = chipped.decisions;
    expect([decided?.chosen, decided?.on, decided?.ways[0]?.way]).toEqual(['scrap', '2025-05-10', 'scrap']);
    // Agreed at 540.00 in the order it was made for; a functional fault leaves no chance but rework and another shape.
    const asPlanned = decided?.ways.find((way) => way.way === 'asPlanned');
    expect([asPlanned?.priceMinor, asPlanned?.chancePpm]).toEqual([54_000, 0]);
    const petty = await byKnife('W34');
    expect(petty.decisions[0]?.chosen).toBe('second');
    expect(petty.decisions[0]?.ways[0]?.way).toBe('second');
  });

  /** Demo tables, releases: both previews, windows and what was sold in them, and the hold that ran out. */
  test('two releases: shown to 29 and 39, six and five of nine sold early, one hold lapsed, three knives left', async () => {
    const rows = (await rig.call('releases.list', {})).toReversed();
    const told = await Promise.all(
      rows.map(async ({ id, tag, measures }) => {
        const { groupCount, groupOn, log } = await rig.call('releases.get', { id });
        const lapsed = log.filter((line) => line.what === 'lapsed');
        return [
          tag,
          `${String(groupCount)} on ${groupOn}`,
          [measures.listMinor, measures.soldEarlyMinor, measures.soldPublicMinor, measures.unsoldMinor].map(
            money,
          ),
          [measures.soldEarly, measures.soldPublic, measures.unsold, measures.unsoldAfter30],
          lapsed.map((line) => `${line.serial ?? ''} ${line.buyerName ?? ''} ${line.at}`),
        ];
      }),
    );
    expect(told).toEqual([
      [
        'R1',
        '29 on 2025-03-11',
        ['2920.00', '2180.00', '740.00', '0.00'],
        [6, 3, 0, 0],
        ['W18 Silas Gannetford 2025-03-18T18:30:00.000Z'],
      ],
      ['R2', '39 on 2025-10-14', ['4475.00', '3170.00', '285.00', '1020.00'], [5, 1, 3, 3], []],
    ]);
    const last = await rig.call('releases.get', { id: rows[1]?.id ?? '' });
    const left = last.knives.filter((knife) => knife.state === 'free').map((knife) => knife.serial);
    expect(left.toSorted()).toEqual(['W37', 'W38', 'W40']);
    // Sold out within nine days of the opening to all.
    expect(rows[0]?.measures.sellOutMinutes).toBeLessThan(11 * 24 * 60);
    const seconds = (await rig.call('selling.invoices', { limit: 1000 })).rows.filter(
      (row) => row.kind === 'second',
    );
    expect(seconds.map((row) => [row.buyerName, money(row.totalMinor)])).toEqual([
      ['Percival Rookbarrel', '197.00'],
    ]);
  });

  test('supporters at the end of each month are as many as the table says, and each pays 6.00', async () => {
    const { months } = await rig.call('buyers.supporters', {});
    const counts = [12, 13, 15, 16, 18, 19, 21, 24, 29, 30, 31, 31, 32, 33, 35, 39, 40, 41];
    const whole = months.filter(({ on }) => on <= '2025-12-31');
    expect([months[0]?.on, whole.map(({ count }) => count)]).toEqual(['2024-07-31', counts]);
    const paid = (year: string) =>
      whole.filter(({ month }) => month.startsWith(year)).reduce((sum, { minor }) => sum + minor, 0);
    // Demo tables, control totals: supporters of both years.
    expect([money(paid('2024')), money(paid('2025'))]).toEqual(['558.00', '2316.00']);
  });

  test('both open promises are safe on 4 January 2026, and one of six was late', async () => {
    const { rows, kept } = await rig.call('promises.list', {});
    const promised = rows.filter((row) => row.promisedOn !== null);
    expect(promised.map((row) => [row.promisedOn, row.serial, row.state])).toEqual([
      ['2026-02-15', 'W42', 'safe'],
      ['2026-03-31', null, 'safe'],
    ]);
    expect([kept.promised, kept.inTime]).toEqual([6, 5]);
  });
});
