/** Rounding of US sales tax. Rule READ in the Streamlined Sales and Use Tax Agreement, section 324, as enacted in R.I. 44-18.1-25, N.D. 57-39.4-25, K.S.A. 79-3676; expected values CALC from it. */
import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { computeTax, taxOn } from '../../electron/domain/tax.ts';
import { cents } from '../domain/figures.ts';

describe('sales-tax rounding', () => {
  it.each([
    ['D4a', '12.34', '6.5', '0.80'],
    ['D4b', '0.70', '6.5', '0.05'],
    ['D4c', '1.50', '7', '0.11'],
    ['D4d', '1.15', '10', '0.12'],
  ])('%s: %s at %s %% is %s', (_, amount, percent, tax) => {
    const ratePpm = new Decimal(percent).times(10_000).toNumber();
    expect(taxOn(cents(amount), ratePpm, false)).toBe(cents(tax));
    const rule = { ratePpm, onPrice: true, onShipping: true, inclusive: false } as const;
    const line = [{ kind: 'price', amountMinor: cents(amount) }] as const;
    expect(computeTax({ ...rule, rounding: 'invoice' }, line).taxMinor).toBe(cents(tax));
    expect(computeTax({ ...rule, rounding: 'line' }, line).taxMinor).toBe(cents(tax));
  });

  it('carries to the third decimal and rounds up above four, for every cent up to 30 at every tenth of a percent up to 12', () => {
    for (let amount = 0; amount <= 3000; amount += 7) {
      for (let tenths = 0; tenths <= 120; tenths += 1) {
        const thirdDecimal = new Decimal(amount)
          .times(tenths)
          .div(1000)
          .toDecimalPlaces(1, Decimal.ROUND_DOWN);
        const wanted = thirdDecimal.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber();
        expect(taxOn(amount, tenths * 1000, false)).toBe(wanted);
      }
    }
  });
});
