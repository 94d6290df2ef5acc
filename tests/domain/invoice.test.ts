import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTotals } from '../../electron/domain/invoice-check.ts';
import type { GivenInvoice } from '../../electron/domain/invoice-check.ts';
import { invoiceTotals, priceTimesQty, scaled } from '../../electron/domain/invoice-totals.ts';
import type { InvoiceInput, InvoiceLine } from '../../electron/domain/invoice-totals.ts';

const line = (qty: string, price: string, more: Partial<InvoiceLine> = {}): InvoiceLine => ({
  qty: scaled(qty),
  price: scaled(price),
  category: 'S',
  ratePpm: 250_000,
  ...more,
});

const paper: InvoiceInput = {
  decimals: 2,
  lines: [line('2', '100'), line('1', '50', { category: 'E', ratePpm: 0 })],
  allowances: [{ amountMinor: 1000, category: 'S', ratePpm: 250_000 }],
  charges: [{ amountMinor: 500, category: 'S', ratePpm: 250_000 }],
  prepaidMinor: 10_000,
  roundingMinor: 25,
};

/** The same invoice as someone else would print it. */
const printed = (input: InvoiceInput, change: Partial<GivenInvoice> = {}): GivenInvoice => {
  const { lineNetMinor, ...totals } = invoiceTotals(input);
  return {
    ...totals,
    decimals: input.decimals,
    lines: input.lines.map((each, at) => ({ ...each, netMinor: lineNetMinor[at] ?? 0 })),
    allowances: input.allowances ?? [],
    charges: input.charges ?? [],
    ...change,
  };
};

describe('totals of an invoice', () => {
  it('follow from lines, allowances, charges, payment and rounding', () => {
    expect(invoiceTotals(paper)).toEqual({
      lineNetMinor: [20_000, 5000],
      linesMinor: 25_000,
      allowancesMinor: 1000,
      chargesMinor: 500,
      exTaxMinor: 24_500,
      groups: [
        { category: 'S', ratePpm: 250_000, taxableMinor: 19_500, taxMinor: 4875 },
        { category: 'E', ratePpm: 0, taxableMinor: 5000, taxMinor: 0 },
      ],
      taxMinor: 4875,
      incTaxMinor: 29_375,
      prepaidMinor: 10_000,
      roundingMinor: 25,
      dueMinor: 19_400,
    });
  });

  it('round each part of a line on its own', () => {
    expect(priceTimesQty(line('3', '0.335'), 2)).toBe(101);
    expect(priceTimesQty(line('-3', '0.335'), 2)).toBe(-101);
    expect(priceTimesQty(line('10', '200', { baseQty: scaled('2') }), 2)).toBe(100_000);
    expect(priceTimesQty(line('1.5', '99', {}), 0)).toBe(149);
    expect(priceTimesQty(line('1', '0.0000005'), 2)).toBe(0);
  });

  it('refuse a base quantity of zero and a price that is no number', () => {
    expect(() => priceTimesQty(line('1', '1', { baseQty: scaled('0') }), 2)).toThrow(RangeError);
    expect(() => scaled('1,5')).toThrow(RangeError);
  });
});

describe('checking printed totals', () => {
  it('finds nothing wrong with totals of its own making, whatever the invoice', () => {
    const anyLine = fc.record({
      qty: fc.integer({ min: -500, max: 500 }).map((value) => ({ value, scale: 1 })),
      price: fc.nat(1_000_000).map((value) => ({ value, scale: 4 })),
      category: fc.constant('S' as const),
      ratePpm: fc.constantFrom(70_000, 190_000, 65_000),
    });
    const part = fc.record({
      amountMinor: fc.nat(10_000),
      category: fc.constant('S' as const),
      ratePpm: fc.constantFrom(70_000, 190_000),
    });
    const invoice = fc.record({
      decimals: fc.constantFrom(0, 2, 3),
      lines: fc.array(anyLine, { minLength: 1, maxLength: 12 }),
      allowances: fc.array(part, { maxLength: 3 }),
      charges: fc.array(part, { maxLength: 3 }),
      prepaidMinor: fc.nat(100_000),
      roundingMinor: fc.integer({ min: -50, max: 50 }),
    });
    fc.assert(fc.property(invoice, (input) => checkTotals(printed(input)).length === 0));
  });

  it.each([
    ['BR-CO-10', { linesMinor: 25_001, exTaxMinor: 24_501, incTaxMinor: 29_376, dueMinor: 19_401 }],
    ['BR-CO-11', { allowancesMinor: 1001, exTaxMinor: 24_499, incTaxMinor: 29_374, dueMinor: 19_399 }],
    ['BR-CO-12', { chargesMinor: 501, exTaxMinor: 24_501, incTaxMinor: 29_376, dueMinor: 19_401 }],
    ['BR-CO-13', { exTaxMinor: 24_501, incTaxMinor: 29_376, dueMinor: 19_401 }],
    ['BR-CO-14', { taxMinor: 4876, incTaxMinor: 29_376, dueMinor: 19_401 }],
    ['BR-CO-15', { incTaxMinor: 29_376, dueMinor: 19_401 }],
    ['BR-CO-16', { dueMinor: 19_401 }],
  ] as [string, Partial<GivenInvoice>][])('names %s alone when only that sum is broken', (rule, change) => {
    const findings = checkTotals(printed(paper, change));
    expect(findings.map((found) => [found.rule, found.severity])).toEqual([[rule, 'fail']]);
  });

  it('warns about a line whose net is not price times quantity and leaves it as printed', () => {
    const given = printed({ decimals: 2, lines: [line('2', '100')] });
    const halved = printed(
      { decimals: 2, lines: [line('1', '100')] },
      { lines: given.lines.map((each) => ({ ...each, netMinor: 10_000 })) },
    );
    expect(checkTotals(halved)).toEqual([
      {
        rule: 'line-net',
        severity: 'warn',
        message: 'The net of line 1 is 100.00, but works out as 200.00.',
        expectedMinor: 20_000,
        givenMinor: 10_000,
      },
    ]);
  });

  it('tolerates tax that is off by less than one unit but says so, and fails beyond it', () => {
    const group = { category: 'S', ratePpm: 250_000, taxableMinor: 10_000 } as const;
    const off = (taxMinor: number) => {
      const input = { decimals: 2, lines: [line('1', '100')] };
      const sums = { taxMinor, incTaxMinor: 10_000 + taxMinor, dueMinor: 10_000 + taxMinor };
      return checkTotals(printed(input, { groups: [{ ...group, taxMinor }], ...sums })).map((found) => [
        found.rule,
        found.severity,
      ]);
    };
    expect([off(2500), off(2599), off(2600)]).toEqual([[], [['BR-CO-17', 'warn']], [['BR-CO-17', 'fail']]]);
  });

  it('fails tax on an untaxed category, a missing breakdown and a wrong or unknown base', () => {
    const zero = { decimals: 2, lines: [line('1', '50', { category: 'Z', ratePpm: 0 })] };
    const taxed = printed(zero, {
      groups: [{ category: 'Z', ratePpm: 0, taxableMinor: 5000, taxMinor: 1 }],
      taxMinor: 1,
      incTaxMinor: 5001,
      dueMinor: 5001,
    });
    expect(checkTotals(taxed).map((found) => found.rule)).toEqual(['BR-Z-09']);
    expect(checkTotals(printed(zero, { groups: [] })).map((found) => found.rule)).toEqual([
      'BR-CO-18',
      'BR-Z-08',
    ]);
    const moved = printed(zero, { groups: [{ category: 'E', ratePpm: 0, taxableMinor: 5000, taxMinor: 0 }] });
    expect(checkTotals(moved).map((found) => found.rule)).toEqual(['BR-Z-08', 'BR-E-08']);
  });
});
