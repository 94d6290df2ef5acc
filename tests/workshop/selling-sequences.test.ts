/** Orders and sales through any sequence of agreeing, paying, bouncing, crediting, cancelling, delivering and taking back. */
import fs from 'node:fs';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addDays } from '../../electron/domain/calendar.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { wholeBooks } from './rig.ts';
import { openOn, openTill, perform, step, stockTill } from './till.ts';
import { checkLook } from './till-look.ts';
import type { Step, Stocked, Till } from './till-scene.ts';
import {
  cash,
  earned,
  families,
  fees,
  heldMinor,
  type Raw,
  rawRows,
  standingOf,
  taxDue,
} from './till-sums.ts';

let stocked: Stocked;
beforeAll(async () => {
  stocked = await stockTill();
});
afterAll(() => {
  fs.rmSync(stocked.folder, { recursive: true, force: true });
});

/** Each invoice, each customer and the order book say what the raw rows say. */
async function checkNow(till: Till, raw: Raw): Promise<void> {
  const today = till.clock.today();
  const { rows } = await till.call('selling.invoices', { limit: 500 });
  const plain = rows.filter((row) => row.kind !== 'credit');
  for (const row of plain) {
    const { askedMinor, paidMinor } = standingOf(raw, row.id);
    expect([row.number, row.openMinor], 'open').toEqual([row.number, askedMinor - paidMinor]);
    expect(row.creditedMinor, 'never more is credited than was asked').toBeLessThanOrEqual(row.totalMinor);
  }
  for (const ids of families(raw)) {
    const all = ids.map((id) => standingOf(raw, id));
    const asked = sumOf(all, (one) => one.askedMinor);
    expect(asked, `${ids.join(' ')} together ask for no less than nothing`).toBeGreaterThanOrEqual(0);
    if (asked === 0)
      expect(
        sumOf(all, (one) => one.taxMinor),
        `no tax is left on ${ids.join(' ')}`,
      ).toBe(0);
  }
  const owed = await till.call('billing.ageing', { on: today });
  expect(owed.owedMinor - owed.toGiveBackMinor, 'ageing').toBe(sumOf(plain, (row) => row.openMinor));
  for (const buyerId of till.stocked.buyers) {
    const own = plain.filter((row) => row.buyerId === buyerId);
    const told = await till.call('billing.statement', { buyerId, from: '2024-11-01', to: today });
    expect(told.closingMinor, 'statement').toBe(sumOf(own, (row) => row.openMinor));
  }
  const head = await till.call('orders.head', {});
  expect(head.heldMinor + head.giveBackMinor, 'customers’ money').toBe(heldMinor(raw, today));
}

/** A knife is out as often as a sale of it stands; stock in is stock out and left. */
function checkThings(raw: Raw): void {
  for (const build of raw.builds) {
    const out = raw.sales.filter((sale) => sale.build_id === build.id && sale.taken_back_on === null);
    expect(out.length, `sales of ${build.serial} that stand`).toBe(build.state === 'sold' ? 1 : 0);
    const links = raw.links.filter((link) => link.build_id === build.id && link.until_on === null);
    expect(links.length).toBeLessThanOrEqual(1);
  }
  for (const lot of raw.lots) {
    const own = raw.movements.filter((row) => row.lot_id === lot.id);
    expect([lot.qty_left, lot.value_left_micro]).toEqual([
      sumOf(own, (row) => row.qty),
      sumOf(own, (row) => row.value_micro),
    ]);
  }
}

const FIRST = { from: '2024-01-01', to: '2024-12-31' };
const YEARS = [FIRST, { from: '2025-01-01', to: '2025-12-31' }];

/** The figures of a year, as its report tells them. */
async function reported(till: Till, year: { readonly from: string; readonly to: string }) {
  const report = await till.call('year.report', year);
  const of = (key: string): number =>
    [...report.income.figures, ...report.costs.figures].find((one) => one.key === key)?.value ?? 0;
  return {
    knives: of('income.knives') + of('income.shipping'),
    service: of('income.service'),
    kept: of('income.kept'),
    fees: of('costs.fees'),
    held: report.heldMinor,
    cash: (report.cash.total.value ?? 0) + sumOf(report.tax, (row) => row.collectedMinor),
    taxDue: sumOf(report.tax, (row) => row.dueMinor),
    bridged: sumOf(report.cashBridge, (line) => line.amountMinor),
    apart: (report.cash.total.value ?? 0) - (report.income.total.value ?? 0),
    byRate: report.tax,
    goods: report.goods,
  };
}

async function checkYears(till: Till, raw: Raw): Promise<void> {
  for (const year of YEARS) {
    const before = addDays(year.from, -1);
    const told = await reported(till, year);
    const [then, now] = [earned(raw, before), earned(raw, year.to)];
    const dues = [taxDue(raw, before), taxDue(raw, year.to)] as const;
    const own = {
      knives: now.knives - then.knives,
      service: now.service - then.service,
      kept: now.kept - then.kept,
      fees: fees(raw, year.to) - fees(raw, before),
      held: heldMinor(raw, year.to),
      cash: cash(raw, year.to) - cash(raw, before),
      taxDue: sumOf([...dues[1].values()], (minor) => minor) - sumOf([...dues[0].values()], (minor) => minor),
    };
    expect(told, year.from).toMatchObject(own);
    expect(told.bridged, 'the bridge leads from earned to received').toBe(told.apart);
    for (const [rate, minor] of dues[1]) {
      const rows = told.byRate.filter((row) => row.ratePpm === rate);
      expect(
        sumOf(rows, (row) => row.dueMinor),
        `due at ${rate}`,
      ).toBe(minor - (dues[0].get(rate) ?? 0));
    }
    const { goods } = told;
    expect(
      sumOf(goods.bridge, (line) => line.amountMinor),
      'goods',
    ).toBe(goods.bridgeMinor);
  }
}

/** With nothing open, the tax collected is the tax that became due, at each rate. */
async function checkCollected(till: Till): Promise<void> {
  const left = new Map<number, number>();
  for (let year = 2024; year <= Number(till.clock.today().slice(0, 4)); year += 1) {
    const { tax } = await till.call('year.report', { from: `${year}-01-01`, to: `${year}-12-31` });
    for (const row of tax)
      left.set(row.ratePpm, (left.get(row.ratePpm) ?? 0) + row.dueMinor - row.collectedMinor);
  }
  expect(
    [...left].filter(([, minor]) => minor !== 0),
    'due, not collected',
  ).toEqual([]);
}

/** Whatever is still open can be paid, and whatever was paid too much can be given back; then nobody owes anything. */
async function settle(till: Till): Promise<void> {
  const on = till.clock.today();
  const { rows } = await till.call('selling.invoices', { limit: 500 });
  for (const row of rows.filter(({ kind }) => kind !== 'credit')) {
    const { setOff } = await till.call('selling.invoice', { id: row.id });
    if (setOff !== null) await till.call('selling.setOff', { invoiceId: row.id });
    const open = await openOn(till, row.id);
    const money = { invoiceId: row.id, on, method: 'cash' };
    if (open > 0) await till.call('selling.pay', { ...money, amountMinor: open });
    if (open < 0) await till.call('billing.refund', { ...money, amountMinor: -open, reason: 'settled' });
    expect(await openOn(till, row.id)).toBe(0);
  }
}

/** Does one thing; what is refused says why and changes nothing. @returns whether something was done */
async function doStep(till: Till, one: Step): Promise<boolean> {
  // Not at every step: the whole books are much to read.
  const dump = (): string => (one.at % 4 === 0 ? JSON.stringify(wholeBooks(till.db)) : '');
  let books = dump();
  const reply = await perform(till, one, async (name, input) => {
    const answer = await till.core.call(name, input);
    const after = dump();
    if (!answer.ok) {
      expect(after, `${name} was refused: ${answer.fault.message}`).toBe(books);
      expect(answer.fault.message).toMatch(/^\S.*[.!?]$/su);
    }
    books = after;
    return answer;
  });
  return reply.ok;
}

/** One sequence from first to last. */
async function live(till: Till, steps: readonly Step[]): Promise<void> {
  let closed: { readonly seal: string; readonly figures: unknown } | undefined;
  for (const [at, one] of steps.entries()) {
    const done = await doStep(till, one);
    if (done && (one.how === 0 || at === steps.length - 1)) {
      const raw = rawRows(till);
      await checkNow(till, raw);
      checkThings(raw);
      await checkLook(till);
    }
    if (!done || (one.do !== 'close' && one.do !== 'reopen')) continue;
    const seal = (await till.call('seals.list', {})).seals.find((row) => row.reopened === null);
    closed = seal && { seal: seal.id, figures: await reported(till, FIRST) };
  }
  await checkYears(till, rawRows(till));
  if (closed !== undefined) {
    expect(await reported(till, FIRST), 'a closed year').toEqual(closed.figures);
    expect(await till.call('seals.prove', { id: closed.seal })).toMatchObject({ holds: true });
  }
  await settle(till);
  await checkCollected(till);
  expect(till.log).toEqual([]);
}

/** More by hand: `KNIFEWRIGHT_RUNS=2000`. */
const RUNS = Number(process.env['KNIFEWRIGHT_RUNS'] ?? 8);

describe('orders and sales', () => {
  it('agree with their raw rows, their year and their cash through any sequence', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.noBias(fc.array(step, { minLength: 1, maxLength: 40, size: 'max' })),
        async (steps) => {
          const till = await openTill(stocked);
          try {
            await live(till, steps);
          } finally {
            await till.close();
          }
        },
      ),
      { numRuns: RUNS, plugins: [fc.interruptAfterTimeLimit(540_000)] },
    );
  }, 600_000);
});
