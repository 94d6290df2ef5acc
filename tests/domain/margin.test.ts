import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leftOf, marginReport } from '../../electron/domain/margin.ts';
import type { SoldKnife } from '../../electron/domain/margin.ts';
import { cents } from './figures.ts';

const paring = (on: string, minutes: number, fee: string, tax = '0'): SoldKnife => ({
  modelCode: 'PAR',
  modelName: 'Tessel paring',
  on,
  priceMinor: cents(150),
  shippingMinor: cents(12),
  postageMinor: cents('12.05'),
  feeMinor: cents(fee),
  taxMinor: cents(tax),
  materialsMinor: cents('20.98'),
  consumablesMinor: cents('13.64'),
  energyMinor: cents('0.75'),
  packagingMinor: cents('6.80'),
  minutes,
});
const chef: SoldKnife = {
  modelCode: 'CHF',
  modelName: 'Quenby chef',
  on: '2024-09-24',
  priceMinor: cents(540),
  shippingMinor: cents(18),
  postageMinor: cents('23.59'),
  feeMinor: cents('16.48'),
  taxMinor: 0,
  materialsMinor: cents('65.55'),
  consumablesMinor: cents('32.73'),
  energyMinor: cents('3.95'),
  packagingMinor: cents('6.80'),
  minutes: 1240,
};
const knives = [paring('2024-08-06', 410, '5.00'), paring('2024-08-25', 380, '5.30', '10.53'), chef];

describe('where the money went', () => {
  const report = marginReport(knives);

  it('adds up all knives sold', () => {
    expect(report.total).toEqual({
      count: 3,
      salesMinor: 84_000,
      directMinor: 19_337,
      contributionMinor: 10_278 + 10_248 + 40_890,
      minutes: 2030,
      perHourMinor: 1815,
      taxCollectedMinor: 1053,
    });
  });

  it('adds up each model, the one that brought most first', () => {
    expect(report.models).toEqual([
      {
        modelCode: 'CHF',
        modelName: 'Quenby chef',
        count: 1,
        salesMinor: 54_000,
        directMinor: 10_903,
        contributionMinor: 40_890,
        minutes: 1240,
        perHourMinor: 1979,
      },
      {
        modelCode: 'PAR',
        modelName: 'Tessel paring',
        count: 2,
        salesMinor: 30_000,
        directMinor: 8434,
        contributionMinor: 20_526,
        minutes: 790,
        perHourMinor: 1559,
      },
    ]);
  });

  it('goes month by month', () => {
    expect(report.months).toEqual([
      { month: '2024-08', count: 2, salesMinor: 30_000, contributionMinor: 20_526 },
      { month: '2024-09', count: 1, salesMinor: 54_000, contributionMinor: 40_890 },
    ]);
  });

  it('splits prices and shipping into parts that add up to them', () => {
    expect(report.went.map((part) => [part.key, part.amountMinor])).toEqual([
      ['materials', 10_751],
      ['consumables', 6001],
      ['energy', 545],
      ['packaging', 2040],
      ['postage', 4769],
      ['fees', 2678],
      ['left', 61_416],
    ]);
    const amount = fc.nat(1_000_000);
    const knife = fc.record({
      modelCode: fc.constantFrom('A', 'B'),
      modelName: fc.constant('Model'),
      on: fc.constantFrom('2024-08-06', '2024-09-06'),
      priceMinor: amount,
      shippingMinor: amount,
      postageMinor: amount,
      feeMinor: amount,
      taxMinor: amount,
      materialsMinor: amount,
      consumablesMinor: amount,
      energyMinor: amount,
      packagingMinor: amount,
      minutes: amount,
    });
    fc.assert(
      fc.property(fc.array(knife, { maxLength: 20 }), (sold) => {
        const { went, models, months, total } = marginReport(sold);
        const charged = sold.reduce((so, each) => so + each.priceMinor + each.shippingMinor, 0);
        expect(went.reduce((so, each) => so + each.amountMinor, 0)).toBe(charged);
        expect(models.reduce((so, each) => so + each.contributionMinor, 0)).toBe(total.contributionMinor);
        expect(months.reduce((so, each) => so + each.count, 0)).toBe(sold.length);
      }),
    );
  });

  it('has no figure per hour without hours', () => {
    expect(marginReport([]).total).toEqual({
      count: 0,
      salesMinor: 0,
      directMinor: 0,
      contributionMinor: 0,
      minutes: 0,
      perHourMinor: null,
      taxCollectedMinor: 0,
    });
    expect(leftOf(chef)).toBe(40_890);
  });
});
