/**
 * The year's report of the demo against a script that shares no code with the application and reads only the CSV files
 * of an archive (`tests/reference/recompute-year.mjs`).
 */
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { YearReport, YearSection } from '../../electron/api/year.ts';
import { quickFolder } from '../folders.ts';
import type { Rig } from '../workshop/rig.ts';
import { contentsOf } from '../workshop/zips.ts';
import { madeDemoMs, openDemo } from './made.ts';

const script = path.join(import.meta.dirname, '../reference/recompute-year.mjs');

let rig: Rig;
const folder = quickFolder('knifewright-csv-');
beforeAll(async () => {
  rig = await openDemo();
  const { name } = await rig.call('archive.take', {});
  while ((await rig.call('archive.state', {})).work?.state === 'running') await setTimeout(20);
  fs.mkdirSync(path.join(folder, 'tables'));
  for (const [file, bytes] of await contentsOf(path.join(rig.folder, 'archives', name)))
    if (file.endsWith('.csv')) fs.writeFileSync(path.join(folder, file), bytes);
}, madeDemoMs);
afterAll(() => rig.close());

/** Figures of a section by the end of their names; a figure that is not there is nothing. */
const named = (section: YearSection, names: readonly string[], prefix: string) =>
  Object.fromEntries(
    names.map((name) => [name, section.figures.find(({ key }) => key === `${prefix}.${name}`)?.value ?? 0]),
  );
const stock = (at: YearReport['opening']) => ({
  raw: at.rawMinor,
  work: at.workMinor,
  finished: at.finishedMinor,
  total: at.totalMinor,
});

test.each([
  ['2024-07-01', '2024-12-31'],
  ['2025-01-01', '2025-12-31'],
])('from %s to %s every figure is the same to the cent', async (from, to) => {
  const told = JSON.parse(
    execFileSync(process.execPath, [script, folder, from, to], { encoding: 'utf8' }),
  ) as Record<'income' | 'costs', Record<string, number>>;
  const report = await rig.call('year.report', { from, to });
  expect(told).toEqual({
    income: named(report.income, Object.keys(told.income), 'income'),
    costs: named(report.costs, Object.keys(told.costs), 'costs'),
    overhead: report.overhead.total.value,
    left: report.left.value,
    opening: stock(report.opening),
    closing: stock(report.closing),
    held: report.heldMinor,
    sold: report.rates.sold.value,
  });
  // No figure of the report was left out above.
  expect(Object.values(told.income).reduce((a, b) => a + b)).toBe(report.income.total.value);
  expect(Object.values(told.costs).reduce((a, b) => a + b)).toBe(report.costs.total.value);
});
