import { Decimal } from 'decimal.js';
import { dinero, multiply, halfAwayFromZero, transformScale, toSnapshot, USD } from 'dinero.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { feeOn } from '../../electron/domain/fees.ts';
import { computeTax, taxOn } from '../../electron/domain/tax.ts';
import type { TaxRule } from '../../electron/domain/tax.ts';
import { cents } from './figures.ts';

const homeState: TaxRule = {
  ratePpm: 65_000,
  onPrice: true,
  onShipping: true,
  rounding: 'invoice',
  inclusive: false,
};
const sale = [
  { kind: 'price', amountMinor: cents(150) },
  { kind: 'shipping', amountMinor: cents(12) },
] as const;

describe('sales tax', () => {
  it('is on price and shipping, rounded once', () => {
    expect(computeTax(homeState, sale)).toEqual({
      netMinor: 16_200,
      taxableMinor: 16_200,
      taxMinor: 1053,
      grossMinor: 17_253,
    });
  });

  it('leaves shipping or price out by rule', () => {
    expect(computeTax({ ...homeState, onShipping: false }, sale)).toEqual({
      netMinor: 16_200,
      taxableMinor: 15_000,
      taxMinor: 975,
      grossMinor: 17_175,
    });
    expect(computeTax({ ...homeState, onPrice: false }, sale).taxMinor).toBe(78);
  });

  it('differs between line and invoice rounding as the rule says', () => {
    const lines = [0, 1, 2].map(() => ({ kind: 'price' as const, amountMinor: 70 }));
    expect(computeTax(homeState, lines).taxMinor).toBe(14);
    expect(computeTax({ ...homeState, rounding: 'line' }, lines)).toEqual({
      netMinor: 210,
      taxableMinor: 210,
      taxMinor: 15,
      grossMinor: 225,
      lineTaxMinor: [5, 5, 5],
    });
  });

  it('takes the tax out of a price that contains it', () => {
    expect(
      computeTax({ ...homeState, ratePpm: 190_000, inclusive: true }, [
        { kind: 'price', amountMinor: 11_900 },
      ]),
    ).toEqual({
      netMinor: 10_000,
      taxableMinor: 10_000,
      taxMinor: 1900,
      grossMinor: 11_900,
    });
  });

  it('is the same amount with the other sign for a credit', () => {
    fc.assert(
      fc.property(fc.nat(10_000_000), fc.nat(400_000), fc.boolean(), (amount, rate, inclusive) => {
        expect(taxOn(amount, rate, inclusive) + taxOn(-amount, rate, inclusive)).toBe(0);
      }),
    );
  });

  it('agrees with decimal.js and with dinero.js for any amount and rate', () => {
    fc.assert(
      fc.property(fc.nat(100_000_000), fc.nat(400_000), (amount, rate) => {
        const wanted = new Decimal(amount)
          .times(rate)
          .div(1_000_000)
          .toDecimalPlaces(0, Decimal.ROUND_HALF_UP)
          .toNumber();
        const theirs = transformScale(
          multiply(dinero({ amount, currency: USD }), { amount: rate, scale: 6 }),
          2,
          halfAwayFromZero,
        );
        expect([taxOn(amount, rate, false), toSnapshot(theirs).amount]).toEqual([wanted, wanted]);
      }),
    );
  });

  it('splits a price with tax inside into two parts that make it up', () => {
    fc.assert(
      fc.property(fc.nat(100_000_000), fc.nat(400_000), (amountMinor, ratePpm) => {
        const split = computeTax({ ...homeState, ratePpm, inclusive: true }, [
          { kind: 'price', amountMinor },
        ]);
        expect(split.netMinor + split.taxMinor).toBe(amountMinor);
        expect(split.grossMinor).toBe(amountMinor);
      }),
    );
  });
});

describe('payment fees', () => {
  const card = { percentPpm: 29_000, fixedMinor: 30, abroadExtraPpm: 15_000 };
  const charge = { priceMinor: cents(150), shippingMinor: cents(12), taxMinor: 0, abroad: false };

  it('are a percentage of the whole charge and a fixed part', () => {
    expect(feeOn(card, charge)).toBe(500);
    expect(feeOn(card, { ...charge, taxMinor: 1053 })).toBe(530);
    expect(
      feeOn(card, { priceMinor: cents(540), shippingMinor: cents(18), taxMinor: 0, abroad: false }),
    ).toBe(1648);
  });

  it('are higher from abroad and nothing on nothing', () => {
    expect(feeOn(card, { priceMinor: cents(265), shippingMinor: cents(48), taxMinor: 0, abroad: true })).toBe(
      1407,
    );
    expect(feeOn(card, { priceMinor: 0, shippingMinor: 0, taxMinor: 0, abroad: true })).toBe(0);
    expect(
      feeOn(
        { percentPpm: 100_000, fixedMinor: 0, abroadExtraPpm: 0 },
        { ...charge, priceMinor: 600, shippingMinor: 0 },
      ),
    ).toBe(60);
  });
});
