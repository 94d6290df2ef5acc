/** The replayed half year on a real core, held against the demo workshop's own tables to the cent and to the minute. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CostSheet } from '../../electron/api/costs.ts';
import type { BuildRow } from '../../electron/api/builds.ts';
import { generateDemo, type DemoProgress } from '../../electron/demo/generate.ts';
import { renderCostSheet } from '../../electron/documents/cost-sheet.ts';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { dayOfWeek } from '../../electron/domain/calendar.ts';
import { noPress } from '../workshop/no-press.ts';
import { openRig, type Rig } from '../workshop/rig.ts';
import { expected, type Expected } from './table.ts';
import { figuresOfSheet } from './figures.ts';

const renderer = noPress('the half year needs no other paper', {
  invoice: renderInvoice,
  costSheet: renderCostSheet,
});
const year = { from: '2024-07-01', to: '2024-12-31' };
const money = (minor: number): string => (minor / 100).toFixed(2);

let rig: Rig;
let builds: readonly BuildRow[] = [];
const sheets = new Map<string, CostSheet>();
const progress: DemoProgress[] = [];

beforeAll(async () => {
  rig = await openRig({ now: '2026-01-04T12:00:00.000Z', bare: true, renderer });
  await generateDemo(rig.core, '2024-12-31', (step) => progress.push(step));
  builds = (await rig.call('builds.list', { sort: 'serial' })).rows;
  for (const build of builds) sheets.set(build.serial, await rig.call('costs.sheet', { buildId: build.id }));
}, 240_000);

afterAll(async () => {
  await rig.close();
});

const sheetOf = (serial: string): CostSheet => {
  const sheet = sheets.get(serial);
  if (sheet === undefined) throw new Error(`No sheet for ${serial}`);
  return sheet;
};

const figuresOf = (serial: string): Expected => figuresOfSheet(sheetOf(serial));

const sold = expected.filter(({ serial }) => /^W(0[1-9]|1[0-3])$/.test(serial));

describe('The demo half year', () => {
  test.each(sold)('$serial cost and brought what the tables say', (of) => {
    expect(figuresOf(of.serial)).toEqual(of);
  });

  /** Both are packed on the day they are sold, in January 2025: 20 and 25 minutes are still to come. */
  test.each([
    { serial: 'W14', toCome: 20 },
    { serial: 'W15', toCome: 25 },
  ])('$serial stands finished and unsold with its packing still to come', ({ serial, toCome }) => {
    const of = expected.find((each) => each.serial === serial);
    if (of === undefined) throw new Error(`${serial} is not in the table`);
    expect(figuresOf(serial)).toEqual({ ...of, minutes: of.minutes - toCome });
    expect(builds.find((build) => build.serial === serial)?.state).toBe('finished');
  });

  test('all fifteen knives of the year are there, thirteen of them sold', () => {
    expect(builds.map((build) => build.serial).toSorted()).toEqual(expected.map((of) => of.serial));
    expect(builds.filter((build) => build.state === 'sold')).toHaveLength(13);
  });

  test('purchases of the half year come to 1,874.06', async () => {
    const { rows } = await rig.call('stock.purchases', year);
    expect(rows).toHaveLength(11);
    expect(rows.reduce((sum, row) => sum + row.totalMicro, 0)).toBe(1_874_060_000);
  });

  test('stock at the end of the year is 626.04 on the rack and 124.00 in finished knives', async () => {
    const items = await rig.call('stock.items', {});
    const raw = items.reduce((sum, item) => sum + item.valueLeftMicro, 0);
    expect((raw / 1e6).toFixed(2)).toBe('626.04');
    const finished = ['W14', 'W15'].reduce((sum, serial) => sum + sheetOf(serial).directMinor, 0);
    expect(money(finished)).toBe('124.00');
  });

  test('the margins of the half year agree with the tables', async () => {
    const margins = await rig.call('margins.period', year);
    expect(margins.knives).toHaveLength(13);
    expect(money(margins.total.taxCollectedMinor)).toBe('61.30');
    expect(money(margins.total.salesMinor)).toBe('4085.00');
    expect(money(margins.total.directMinor)).toBe('948.07');
    expect(money(margins.total.contributionMinor)).toBe('2972.34');
    expect((margins.total.minutes / 60).toFixed(2)).toBe('151.33');
  });

  test('bench hours are 173.67 h with the packing of W14 and W15, other hours 58 h', async () => {
    const { rows } = await rig.call('hours.sessions', { ...year, limit: 20_000 });
    const bench = rows.filter((row) => row.stageCode !== null).reduce((sum, row) => sum + row.minutes, 0);
    const other = rows.filter((row) => row.workKind !== null).reduce((sum, row) => sum + row.minutes, 0);
    expect(((bench + 20 + 25) / 60).toFixed(2)).toBe('173.67');
    expect(other).toBe(58 * 60);
  });

  test('nobody stands at the bench longer than a day allows', async () => {
    const { rows } = await rig.call('hours.sessions', { ...year, limit: 20_000 });
    const longest: Readonly<Record<number, number>> = { 2: 150, 4: 150, 6: 360, 7: 180 };
    const days = new Map<string, number>();
    for (const row of rows) {
      if (row.stageCode === null || row.stageCode === 'PCK') continue;
      days.set(row.on, (days.get(row.on) ?? 0) + row.minutes);
    }
    expect([...days].filter(([day, minutes]) => minutes > (longest[dayOfWeek(day)] ?? 0))).toEqual([]);
    expect(rows.filter((row) => row.shares.length > 1).length).toBeGreaterThan(20);
  });

  test('stages of a knife follow each other from start to finish', async () => {
    for (const build of builds) {
      const detail = await rig.call('builds.get', { id: build.id });
      const done = detail.stages
        .filter((stage) => stage.code !== 'PCK' && stage.code !== 'MSG')
        .map((stage) => stage.doneOn ?? '');
      expect(done).toEqual(done.toSorted());
      expect(done[0] !== undefined && detail.startedOn !== null && done[0] >= detail.startedOn).toBe(true);
      expect(
        done.at(-1) !== undefined && detail.finishedOn !== null && (done.at(-1) ?? '') <= detail.finishedOn,
      ).toBe(true);
    }
  });

  test('every sale and deposit has an invoice, numbered without gaps and paid in full', async () => {
    const { rows } = await rig.call('selling.invoices', {});
    expect(rows.map((row) => row.number).toSorted()).toEqual(
      Array.from({ length: 15 }, (_, at) => `2024-${String(at + 1).padStart(4, '0')}`),
    );
    expect(rows.map((row) => row.state)).toEqual(rows.map(() => 'paid'));
    const [first] = rows;
    if (first === undefined) throw new Error('No invoice');
    const pdf = await rig.call('selling.invoicePdf', { id: first.id });
    expect(Buffer.from(pdf.base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
  });

  test('progress only ever goes forward and ends complete', () => {
    const done = progress.map((step) => step.done);
    expect(done).toEqual(done.toSorted((a, b) => a - b));
    expect(progress.at(-1)).toEqual({
      done: progress[0]?.total,
      total: progress[0]?.total,
      sentence: 'The demo workshop is ready',
    });
  });

  test('a cost sheet of the demo prints', async () => {
    const build = builds.find((each) => each.serial === 'W04');
    const pdf = await rig.call('costs.sheetPdf', { buildId: build?.id ?? '' });
    expect(pdf.mime).toBe('application/pdf');
    expect(pdf.base64.length).toBeGreaterThan(10_000);
  });

  test('every knife has a picture and a small one for lists', async () => {
    expect(builds.every((build) => build.photoId !== null)).toBe(true);
    const id = builds[0]?.photoId ?? '';
    for (const [size, width] of [
      ['full', 960],
      ['thumb', 320],
    ] as const) {
      const picture = await rig.call('files.read', { id, size });
      const bytes = Buffer.from(picture.base64, 'base64');
      expect([picture.mime, bytes.readUInt32BE(16)]).toEqual(['image/png', width]);
    }
  });
});
