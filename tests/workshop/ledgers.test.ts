/** Hours and invoice numbers through any sequence of bookings, corrections, failures and takings back. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sumOf } from '../../electron/domain/integers.ts';
import { numbersOf, openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(() => shop.close());

const pick = <T>(list: readonly T[], at: number): T => {
  const one = list[at % Math.max(1, list.length)];
  if (one === undefined) throw new Error('nothing to pick from');
  return one;
};

const n = fc.nat({ max: 9999 });
const hoursStep = fc.record({
  do: fc.constantFrom('book', 'correct', 'correct', 'cancel', 'start', 'stop', 'switch', 'back'),
  minutes: fc.integer({ min: 1, max: 300 }),
  knives: fc.uniqueArray(fc.nat({ max: 2 }), { minLength: 1, maxLength: 3 }),
  weights: fc.tuple(
    fc.integer({ min: 1, max: 9 }),
    fc.integer({ min: 1, max: 9 }),
    fc.integer({ min: 1, max: 9 }),
  ),
  stage: fc.constantFrom('GR2', 'HND', 'SHP'),
  at: n,
});
type HoursStep = typeof hoursStep extends fc.Arbitrary<infer T> ? T : never;

async function doHours(knives: readonly string[], step: HoursStep, minute: number): Promise<void> {
  const on = '2024-07-20';
  const named = step.knives.map((at) => pick(knives, at));
  const shares = named.map((buildId, at) => ({ buildId, weight: step.weights[at] ?? 1 }));
  const entry = { on, minutes: step.minutes, stageCode: step.stage, workKind: null, shares };
  const { rows } = await shop.call('hours.sessions', { from: on, to: '2024-12-31' });
  const sessionId = rows[step.at % Math.max(1, rows.length)]?.id ?? 'none';
  const later = new Date(Date.parse('2024-12-01T06:00:00Z') + minute * 60_000).toISOString();
  if (step.do !== 'back') shop.clock.set(later);
  const work = { stageCode: step.stage, workKind: null, buildIds: named, note: '' };
  if (step.do === 'book') await shop.core.call('hours.book', entry);
  else if (step.do === 'correct')
    await shop.core.call('hours.correct', { ...entry, sessionId, reason: 'slip' });
  else if (step.do === 'cancel') await shop.core.call('hours.cancel', { sessionId, reason: 'slip' });
  else if (step.do === 'start') await shop.core.call('hours.start', work);
  else if (step.do === 'switch') await shop.core.call('hours.switch', work);
  else if (step.do === 'back') shop.clock.set('2024-11-30T06:00:00.000Z');
  else await shop.core.call('hours.stop', step.at % 2 === 0 ? {} : { minutes: step.minutes });
}

describe('hours', () => {
  it('on a knife, on its sheet, on its sessions and of the week are the same through any corrections', async () => {
    const knives = Object.values(shop.knives);
    let minute = 0;
    const steps = fc.array(hoursStep, { minLength: 3, maxLength: 10 });
    await fc.assert(
      fc.asyncProperty(steps, async (list) => {
        for (const step of list) {
          minute += 1 + (step.at % 90);
          await doHours(knives, step, minute);
        }
        const { rows } = await shop.call('hours.sessions', { limit: 20_000 });
        for (const row of rows) expect(sumOf(row.shares, (share) => share.minutes)).toBe(row.minutes);
        for (const id of knives) {
          const own = rows.flatMap((row) => row.shares.filter((share) => share.buildId === id));
          const build = await shop.call('builds.get', { id });
          const sheet = await shop.call('costs.sheet', { buildId: id });
          const minutes = sumOf(own, (share) => share.minutes);
          expect([build.minutes, sheet.minutes, sumOf(build.stages, (stage) => stage.minutes)]).toEqual([
            minutes,
            minutes,
            minutes,
          ]);
          expect(sumOf(sheet.stages, (stage) => stage.labourMinor)).toBe(sheet.labour.amountMinor);
        }
        const week = await shop.call('hours.week', { on: '2024-07-20' });
        const inWeek = rows.filter((row) => row.on >= '2024-07-15' && row.on <= '2024-07-21');
        expect(sumOf(week.days, (day) => day.benchMinutes)).toBe(sumOf(inWeek, (row) => row.minutes));
      }),
      { numRuns: 20 },
    );
    expect(shop.log).toEqual([]);
  }, 60_000);
});

const saleStep = fc.record({
  do: fc.constantFrom('sell', 'sell', 'sellLater', 'issue', 'credit', 'jam', 'pattern', 'day', 'import'),
  at: n,
});

const PATTERNS = ['{YYYY}-{NNNN}', '{YYYY}-{NN}', 'R{N}', '{YY}/{MM}/{NNN}', '2024-{NNNN}'];

async function doSale(step: { readonly do: string; readonly at: number }, day: string): Promise<void> {
  const rows = (await shop.call('selling.invoices', { limit: 500 })).rows;
  if (step.do === 'sell' || step.do === 'sellLater') {
    const sale = saleOf(shop, await plainKnife(shop), { on: day, invoice: step.do === 'sell' });
    await shop.core.call('selling.sell', sale);
  } else if (step.do === 'import') {
    const id = await plainKnife(shop);
    const { serial } = await shop.call('builds.get', { id });
    const text = `Date,Knife,Buyer,Price,Issue invoice\n${day},${serial},Ottoline Fernshaw,100,yes\n${day},NONE,X,1,yes\n`;
    const good = step.at % 2 === 0 ? text.replace(/\n[^\n]*NONE[^\n]*/, '') : text;
    const { mapping } = await shop.call('imports.look', { kind: 'sales', text: good });
    await shop.core.call('imports.run', { kind: 'sales', text: good, mapping });
  } else if (step.do === 'issue') {
    const open = (await shop.call('selling.sales', { limit: 500 })).rows.filter(
      (row) => row.invoiceId === null,
    );
    const saleId = open[step.at % Math.max(1, open.length)]?.id ?? 'none';
    await shop.core.call('selling.issue', { saleId, issuedOn: day });
  } else if (step.do === 'credit') {
    const invoiceId = rows[step.at % Math.max(1, rows.length)]?.id ?? 'none';
    const input = { invoiceId, on: day, reason: 'back', knifeComesBack: step.at % 3 !== 0 };
    await shop.core.call('selling.credit', input);
  } else if (step.do === 'jam') {
    shop.press.jam();
    await shop.core.call('selling.sell', saleOf(shop, await plainKnife(shop), { on: day, invoice: true }));
  } else if (step.do === 'pattern') {
    const { workshop } = await shop.call('workshop.state', {});
    await shop.core.call('workshop.update', { ...workshop, invoicePattern: pick(PATTERNS, step.at) });
  }
}

describe('invoice numbers', () => {
  it('have no gap in any series and follow the days, whatever fails in between', async () => {
    let day = Date.parse('2024-08-01');
    const steps = fc.array(saleStep, { minLength: 3, maxLength: 10 });
    await fc.assert(
      fc.asyncProperty(steps, async (list) => {
        for (const step of list) {
          if (step.do === 'day') day += (step.at % 3) * 86_400_000;
          await doSale(step, new Date(day).toISOString().slice(0, 10));
        }
        const { q } = shop.db;
        const rows = shop.db.all(q.selectFrom('invoices').selectAll().orderBy('series').orderBy('series_no'));
        const series = new Map<string, typeof rows>();
        for (const row of rows) series.set(row.series, [...(series.get(row.series) ?? []), row]);
        for (const run of series.values()) {
          expect(run.map((row) => row.series_no)).toEqual(run.map((_, at) => at + 1));
          const days = run.map((row) => row.issued_on);
          expect(days).toEqual([...days].sort());
        }
        expect(new Set(rows.map((row) => row.document_path)).size).toBe(rows.length);
        for (const row of rows) await shop.call('selling.invoicePdf', { id: row.id });
        for (const row of rows.filter((each) => each.kind === 'credit')) {
          const before = rows.find((each) => each.id === row.credits_id);
          expect([row.total_minor, row.tax_minor]).toEqual([
            0 - (before?.total_minor ?? 1),
            0 - (before?.tax_minor ?? 1),
          ]);
        }
      }),
      { numRuns: 15 },
    );
    expect((await numbersOf(shop)).length).toBeGreaterThan(5);
    expect(shop.log.filter((line) => !line.includes('the press is jammed'))).toEqual([]);
  }, 120_000);
});
