/** Laws of the year's reckoning: nothing is lost between years, in part payments, or between the two costs of goods. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays } from '../../electron/domain/calendar.ts';
import { keptTax, restocking } from '../../electron/domain/restocking.ts';
import { cashLines, type PaidInvoice, receiptsOf } from '../../electron/domain/year-cash.ts';
import { costOfGoods, type StockMicro, totalOf } from '../../electron/domain/year-goods.ts';
import { besides, changePpm, type Line } from '../../electron/domain/year-lines.ts';
import { type SaleFacts, saleIn, standingAt } from '../../electron/domain/year-sales.ts';

const day = fc.integer({ min: 0, max: 1095 }).map((n) => addDays('2024-01-01', n));
const minor = fc.integer({ min: 0, max: 1_000_000 });
const years = ['2024', '2025', '2026'].map((year) => ({ from: `${year}-01-01`, to: `${year}-12-31` }));

describe('sales by what happened when', () => {
  const sale = fc
    .record({
      on: day,
      back: fc.option(fc.integer({ min: 0, max: 400 })),
      hasInvoice: fc.boolean(),
      priceMinor: minor,
      shippingMinor: minor,
      keptMinor: fc.integer({ min: 0, max: 500 }),
      credits: fc.array(
        fc.record({ after: fc.integer({ min: 0, max: 400 }), share: fc.integer({ min: 0, max: 30 }) }),
        {
          maxLength: 3,
        },
      ),
    })
    .map((made): SaleFacts => ({
      ...{
        id: 's',
        buildId: 'b',
        on: made.on,
        hasInvoice: made.hasInvoice,
        keptMinor: made.keptMinor,
        keptTaxMinor: 7,
      },
      takenBackOn: made.back === null ? null : addDays(made.on, made.back),
      ...{ priceMinor: made.priceMinor, shippingMinor: made.shippingMinor, taxMinor: 100 },
      credits: made.credits.map(({ after, share }) => ({
        on: addDays(made.on, after),
        netMinor: Math.floor(((made.priceMinor + made.shippingMinor) * share) / 100),
        taxMinor: share,
      })),
      ...{ postageMinor: 1205, feeMinor: 500, minutes: 400 },
    }));

  test('what the years bring adds up to what stands at the end, and postage and fee count once', () => {
    fc.assert(
      fc.property(sale, (facts) => {
        const parts = years.map((span) => saleIn(facts, span));
        const sum = (pick: (part: (typeof parts)[number]) => number): number =>
          parts.reduce((so, part) => so + pick(part), 0);
        const end = standingAt(facts, '2026-12-31');
        const sold = facts.on <= '2026-12-31';
        expect([sum((p) => p.priceMinor), sum((p) => p.shippingMinor), sum((p) => p.taxMinor)]).toEqual([
          end.priceMinor,
          end.shippingMinor,
          end.taxMinor,
        ]);
        expect([sum((p) => p.count), sum((p) => p.postageMinor), sum((p) => p.feeMinor)]).toEqual([
          Number(end.out),
          sold ? 1205 : 0,
          sold ? 500 : 0,
        ]);
        expect(end.priceMinor + end.shippingMinor).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 300 },
    );
  });
});

test('the tax in what was kept of a return is the one that was taken out of it, to a minor unit', () => {
  // 15.00 kept at 19 % within: 12.61 and 2.39. 21.30 kept at 6.5 % beside: 1.38.
  expect(keptTax(1261, { ratePpm: 190_000, inclusive: true })).toBe(239);
  expect(keptTax(2130, { ratePpm: 65_000, inclusive: false })).toBe(138);
  fc.assert(
    fc.property(minor, fc.constantFrom(65_000, 100_000, 190_000, 250_000), (kept, ratePpm) => {
      for (const inclusive of [true, false]) {
        const parted = restocking({ priceMinor: 1_000_000, ratePpm, inclusive, totalMinor: 9_000_000 }, kept);
        if (!parted.ok) throw new Error(parted.message);
        const found = keptTax(parted.value.keptNetMinor, { ratePpm, inclusive });
        expect(Math.abs(found - parted.value.keptTaxMinor)).toBeLessThanOrEqual(Number(inclusive));
      }
    }),
  );
});

describe('receipts without tax', () => {
  const invoice = fc
    .record({
      net: fc.integer({ min: 1, max: 500_000 }),
      rate: fc.constantFrom(0, 65_000, 190_000),
      paid: fc.array(fc.record({ on: day, minor: fc.integer({ min: 1, max: 200_000 }) }), { maxLength: 6 }),
    })
    .map(({ net, rate, paid }) => {
      const taxMinor = Math.round((net * rate) / 1_000_000);
      return { askedMinor: net + taxMinor, taxMinor, paid };
    });
  const between = (
    given: { askedMinor: number; taxMinor: number; paid: { on: string; minor: number }[] },
    at: number,
  ) => {
    const span = years[at] ?? { from: '', to: '' };
    const own: PaidInvoice = {
      ...{
        id: 'i',
        kind: 'sale',
        entity: 'sale s',
        askedMinor: given.askedMinor,
        taxMinor: given.taxMinor,
        credits: [],
      },
      paidBeforeMinor: given.paid.filter(({ on }) => on < span.from).reduce((so, one) => so + one.minor, 0),
      payments: given.paid
        .filter(({ on }) => on >= span.from && on <= span.to)
        .map((one, n) => ({ id: String(n), ...one })),
    };
    return receiptsOf(own, span);
  };

  test('of payments in parts over years no cent of net or tax is lost', () => {
    fc.assert(
      fc.property(invoice, (given) => {
        const all = years.map((_, at) => between(given, at));
        const receipts = all.flatMap((one) => one.receipts);
        const paid = given.paid.filter(({ on }) => on <= '2026-12-31').reduce((so, one) => so + one.minor, 0);
        const net = receipts.reduce((so, one) => so + one.netMinor, 0);
        const tax = receipts.reduce((so, one) => so + one.taxMinor, 0);
        expect(net + tax).toBe(paid);
        if (paid >= given.askedMinor) expect(tax).toBe(given.taxMinor);
        expect(tax).toBeLessThanOrEqual(given.taxMinor);
        // What a year begins with is what the years before received.
        const before = all.slice(0, 2).flatMap((one) => one.receipts);
        expect(all[2]?.beforeMinor).toBe(before.reduce((so, one) => so + one.netMinor, 0));
      }),
      { numRuns: 300 },
    );
  });

  test('the lines from earned to received add up to the difference', () => {
    const money = fc.integer({ min: -50_000, max: 50_000 });
    const entity = fc.record({
      ...{ earnedMinor: money, receivedMinor: money, receivedBeforeMinor: money },
      when: fc.constantFrom('open' as const, 'now' as const, 'earlier' as const),
    });
    fc.assert(
      fc.property(fc.array(entity, { maxLength: 12 }), (entities) => {
        const lines = [...cashLines(entities).values()].reduce((so, minorOf) => so + minorOf, 0);
        const difference = entities.reduce((so, one) => so + one.receivedMinor - one.earnedMinor, 0);
        expect(lines).toBe(difference);
      }),
      { numRuns: 200 },
    );
  });
});

describe('cost of goods by count and by use', () => {
  const micro = fc.integer({ min: 0, max: 1_000_000_000 });
  const signed = fc.integer({ min: -1_000_000_000, max: 1_000_000_000 });
  const stock: fc.Arbitrary<StockMicro> = fc.record({
    ...{ rack: micro, opened: micro, baths: micro, makings: micro, work: micro, finished: micro },
  });
  const input = fc.record({
    opening: stock,
    ...{ opened: micro, baths: micro, makings: micro, finished: micro },
    moves: fc.record({
      receipt: micro,
      return: micro.map((value) => 0 - value),
      knife: signed,
      making: signed,
      opened: signed,
      intoBath: signed,
      count: signed,
      personal: signed,
    }),
    charges: fc.record({
      flatConsumable: micro,
      flatEnergy: micro,
      flatOther: micro,
      burn: micro,
      bath: micro,
      count: micro,
    }),
    ...{ looseKnife: micro, sold: micro, scrapKnives: micro, scrapMakings: micro, kept: micro },
  });

  test('with a ledger that adds up, the lines explain the difference to the last millionth', () => {
    fc.assert(
      fc.property(input, (given) => {
        const { moves, charges } = given;
        const all = Object.values(charges).reduce((so, value) => so + value, 0);
        // Knives hold what was taken for them and charged to them, less those that went.
        const knives =
          given.opening.work +
          given.opening.finished -
          moves.knife +
          given.looseKnife +
          all -
          given.sold -
          given.scrapKnives -
          given.kept;
        const closing: StockMicro = {
          rack: given.opening.rack + Object.values(moves).reduce((so, value) => so + value, 0),
          ...{ opened: given.opened, baths: given.baths, makings: given.makings },
          ...{ finished: given.finished, work: knives - given.finished },
        };
        const goods = costOfGoods({
          ...{ opening: given.opening, closing },
          flows: {
            stock: new Map(Object.entries(moves)),
            ...{ looseKnife: given.looseKnife, looseBought: 0, charges },
          },
          ...{
            soldMicro: given.sold,
            scrapKnivesMicro: given.scrapKnives,
            scrapMakingsMicro: given.scrapMakings,
          },
          keptMicro: given.kept,
        });
        expect(goods.lines.map(([key]) => key)).not.toContain('rounding');
        expect(goods.lines.reduce((so, [, value]) => so + value, 0)).toBe(goods.byUse - goods.byCount);
        // What was sent back was not bought after all.
        expect(goods.byCount).toBe(totalOf(given.opening) + moves.receipt + moves.return - totalOf(closing));
      }),
      { numRuns: 300 },
    );
  });
});

test('a line only one of two years has stands at nothing in the other; no change is told from nothing', () => {
  const line = (key: string, value: number): Line => ({ key, label: key, unit: 'money', value, opens: true });
  expect(
    besides([line('a', 1)], [line('b', 2)]).map(({ key, value, before }) => [key, value, before]),
  ).toEqual([
    ['a', 1, 0],
    ['b', 0, 2],
  ]);
  expect(besides([line('a', 1)], null)[0]?.before).toBeNull();
  expect([changePpm(150, 100), changePpm(-50, -100), changePpm(5, 0), changePpm(5, null)]).toEqual([
    500_000,
    500_000,
    null,
    null,
  ]);
});
