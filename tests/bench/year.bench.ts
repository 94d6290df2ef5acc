/**
 * The yearly report over two hundred thousand entries of one year, against the same sums with bare better-sqlite3 on the
 * same file; how it grows with ten times the entries; and how long another call waits while it runs.
 */
import assert from 'node:assert/strict';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { call, freshFolder, openBooks, removeFolder } from './books.ts';
import { compare } from './pairs.ts';
import { fillYear } from './year-books.ts';

const YEAR = { from: '2025-01-01', to: '2025-12-31' };
const ENTRIES = 200_000;
const [LONGEST_WAIT, MOST_GROWTH] = [50, 12];

const half = `(abs(v) + 5000) / 10000 * sign(v)`;
/** Direct cost of knives by use, every line rounded once: those sold in the year, or those here on a day. */
const costs = (whose: string): string => `
  SELECT b.model_id, b.method, count(*) AS n, sum(k.cost) AS cost, sum(b.minutes) AS minutes FROM builds b JOIN (
    SELECT build_id, sum(${half}) AS cost FROM (
      SELECT build_id, use_as, line, sum(v) AS v FROM (
        SELECT m.build_id, m.use_as, CASE m.use_as WHEN 'material' THEN m.part_label ELSE '' END AS line, -m.value_micro AS v
          FROM movements m WHERE m.on_date <= :on AND m.build_id IN (${whose})
        UNION ALL SELECT c.build_id, c.use_as, CASE c.use_as WHEN 'material' THEN c.label ELSE '' END, c.amount_micro
          FROM charges c WHERE c.on_date <= :on AND c.build_id IN (${whose}))
      GROUP BY build_id, use_as, line) GROUP BY build_id) k ON k.build_id = b.id
  GROUP BY b.model_id, b.method`;
const soldInYear = `SELECT build_id FROM sales WHERE on_date BETWEEN '${YEAR.from}' AND '${YEAR.to}'`;
const hereOn = `SELECT id FROM builds z WHERE z.started_on <= :on
  AND NOT EXISTS (SELECT 1 FROM sales s WHERE s.build_id = z.id AND s.on_date <= :on)`;
const monthEnds = Array.from({ length: 12 }, (_, at) =>
  new Date(Date.UTC(2025, at + 1, 0)).toISOString().slice(0, 10),
);

/** The sums a report is made of, each one statement. */
function bareSums(db: Database.Database): () => number {
  const sold = db.prepare<{ on: string }, { cost: number }>(costs(soldInYear));
  const held = db.prepare<{ on: string }, { cost: number }>(costs(hereOn));
  const plain = [
    `SELECT substr(on_date, 1, 7) AS month, kind, build_id IS NOT NULL AS knife, sum(value_micro) FROM movements WHERE on_date <= '${YEAR.to}' GROUP BY 1, 2, 3`,
    `SELECT use_as, burn_id IS NULL, bath_event_id IS NULL, sum(amount_micro) FROM charges WHERE on_date BETWEEN '${YEAR.from}' AND '${YEAR.to}' GROUP BY 1, 2, 3`,
    `SELECT substr(on_date, 1, 7), stage_code, work_kind, source, sum(minutes) FROM sessions WHERE current = 1 AND cancelled = 0 AND on_date BETWEEN '${YEAR.from}' AND '${YEAR.to}' GROUP BY 1, 2, 3, 4`,
    `SELECT sum(minutes) FROM builds WHERE started_on BETWEEN '${YEAR.from}' AND '${YEAR.to}'`,
    `SELECT substr(on_date, 1, 7), channel_id, sum(price_minor), sum(shipping_minor), sum(tax_minor), sum(fee_minor), sum(postage_paid_minor), count(*) FROM sales WHERE on_date BETWEEN '${YEAR.from}' AND '${YEAR.to}' GROUP BY 1, 2`,
    `SELECT i.kind, substr(y.on_date, 1, 7), sum(y.amount_minor), sum(i.tax_minor) FROM payments y JOIN invoices i ON i.id = y.invoice_id WHERE y.on_date BETWEEN '${YEAR.from}' AND '${YEAR.to}' GROUP BY 1, 2`,
    `SELECT count(DISTINCT build_id) FROM movements WHERE on_date BETWEEN '${YEAR.from}' AND '${YEAR.to}' AND build_id IS NOT NULL`,
  ].map((statement) => db.prepare(statement));
  return () => {
    for (const statement of plain) statement.all();
    for (const on of monthEnds) held.all({ on });
    return sold.all({ on: YEAR.to }).reduce((sum, row) => sum + row.cost, 0);
  };
}

const folder = freshFolder();
await fillYear(folder, ENTRIES);
const core = await openBooks(folder);
const bare = new Database(join(folder, 'workshop.db'), { readonly: true });
const sums = bareSums(bare);
const report = await call(core, 'year.report', YEAR);
assert.equal(report.direct.value, sums());
assert.ok((report.rates.sold.value ?? 0) > 4000);
const ours = { run: () => core.call('year.report', YEAR) };
await compare({
  name: `yearly report over ${ENTRIES.toLocaleString('en')} entries`,
  limit: 1.5,
  pairs: 7,
  floorIs: 'the same sums with bare better-sqlite3 on the same file, the statements prepared once',
  ours,
  floor: { run: sums },
});

/** The longest another call waited while a report ran. */
async function longestWait(): Promise<number> {
  let longest = 0;
  const running = { yes: true };
  const done = ours.run().then(() => (running.yes = false));
  while (running.yes) {
    const from = performance.now();
    await core.call('workshop.taxPlaces', {});
    longest = Math.max(longest, performance.now() - from);
    await new Promise((resolve) => setImmediate(resolve));
  }
  await done;
  return longest;
}
const waits: number[] = [];
for (let at = 0; at < 7; at += 1) waits.push(await longestWait());
const wait = waits.toSorted((a, b) => a - b)[3] ?? Number.NaN;
process.stdout.write(
  `longest wait of another call while it runs: ${wait.toFixed(1)} ms (allowed ${LONGEST_WAIT})\n`,
);
if (wait > LONGEST_WAIT) process.exitCode = 1;
bare.close();

const took = async (run: () => unknown): Promise<number> => {
  const from = performance.now();
  await run();
  return performance.now() - from;
};
const large = freshFolder();
await fillYear(large, 10 * ENTRIES);
const largeCore = await openBooks(large);
const oursLarge = (): unknown => largeCore.call('year.report', YEAR);
// The first report after opening reads everything from the disk.
await oursLarge();
const best = async (run: () => unknown): Promise<number> => Math.min(await took(run), await took(run));
const growths: number[] = [];
for (let at = 0; at < 3; at += 1) growths.push((await best(oursLarge)) / (await best(ours.run)));
const growth = growths.toSorted((a, b) => a - b)[1] ?? Number.NaN;
process.stdout.write(`ten times the entries: ${growth.toFixed(1)} times the time (allowed ${MOST_GROWTH})\n`);
if (growth > MOST_GROWTH) process.exitCode = 1;
await largeCore.close();
await core.close();
removeFolder(large);
removeFolder(folder);
