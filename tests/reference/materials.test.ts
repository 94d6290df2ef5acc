/** E1 to E4: densities, woods, weights of bars and gauges, each against one named table. */
import { Decimal } from 'decimal.js';
import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import { airDryDensity, densityOf, ovenDryDensity, woodOf } from '../../electron/domain/densities.ts';
import { gauges, gaugeThickness } from '../../electron/domain/gauges.ts';
import {
  densityFromMetric,
  densityFromPounds,
  flatMass,
  HANDBOOK_STEEL,
  roundMass,
  STEEL_785,
} from '../../electron/domain/mass.ts';
import type { Density } from '../../electron/domain/mass.ts';
import { parseQuantity, toBase } from '../../electron/domain/quantity.ts';
import { value } from '../domain/figures.ts';

const inch = (text: string): number => value(parseQuantity(text, 'length', 'in')).base;
const pounds = (nanograms: number): number => nanograms / toBase(1, 'lb');
const grams = (nanograms: number): number => nanograms / toBase(1, 'g');

describe('E1: densities', () => {
  it.each([
    ['E1a', 'Carbon steel', 7.85],
    ['E1b', 'Steel, 0.06 % carbon', 7.871],
    ['E1b', 'Steel, 0.23 % carbon', 7.859],
    ['E1b', 'Steel, 0.435 % carbon', 7.844],
    ['E1b', 'Steel, 1.22 % carbon', 7.83],
    ['E1d (2nd)', 'Stainless 304', 7.93],
    ['E1d (2nd)', 'Stainless 316', 7.98],
    ['E1d (2nd)', 'Stainless 410', 7.75],
    ['E1d (2nd)', 'Stainless 420', 7.75],
    ['E1d (2nd)', 'Stainless 430', 7.7],
    ['E1f', 'Copper', 8.94],
    ['E1f', 'Brass 60/40', 8.52],
    ['E1f', 'Admiralty brass', 8.53],
    ['E1g', 'Glass-epoxy laminate G-10/FR-4', 1.82],
    ['E1g', 'Canvas phenolic C/CE', 1.35],
    ['E1g', 'Linen phenolic L/LE', 1.34],
    ['E1g', 'Paper phenolic X', 1.36],
    ['E1g', 'Paper phenolic XX', 1.34],
    ['E1g', 'Paper phenolic XXX', 1.32],
  ])('%s: %s is %d g/cm³ in the table its row names (READ)', (_, material, gramsPerCm3) => {
    expect(densityOf(material)?.kgPerM3).toBe(Math.round(gramsPerCm3 * 1000));
  });

  it.each([
    ['Brass, rolled', 8430, 8730],
    ['Phosphor bronze', 8780, 8920],
    ['Nickel silver', 8400, 8900],
    ['Ebony, dry', 960, 1120],
    ['Lignum vitae, dry', 1280, 1370],
    ['Teak, dry', 630, 720],
    ['Apple, dry', 660, 830],
  ])('E1f, E2i: %s keeps the printed range %i to %i kg/m³ (READ, simetric.co.uk)', (material, low, high) => {
    expect(densityOf(material)?.range).toEqual([low, high]);
  });

  it('E2i: iroko is 655 kg/m³ (READ, simetric.co.uk)', () => {
    expect(densityOf('Iroko, dry')?.kgPerM3).toBe(655);
  });
});

describe('E2: wood specific gravity', () => {
  it.each([
    ['Black cherry', 0.5],
    ['White ash', 0.6],
    ['American beech', 0.64],
    ['Yellow birch', 0.62],
    ['Shagbark hickory', 0.72],
    ['Pignut hickory', 0.75],
    ['Black locust', 0.69],
    ['Sweet birch', 0.65],
    ['Sugar maple', 0.63],
    ['Red maple', 0.54],
    ['Bigleaf maple', 0.48],
    ['Black walnut', 0.55],
  ])('%s is %d (USDA Wood Handbook, READ 2nd; black walnut MEM-hi)', (species, gravity) => {
    expect(woodOf(species)?.gravityHundredths).toBe(Math.round(gravity * 100));
  });

  it('E2j: a pair of scales of specific gravity 0.55 weighs 56.78 g air-dry and 50.70 g oven-dry (CALC)', () => {
    const pair = (density: Density): number => 2 * flatMass(inch('3/8'), inch('1 1/2'), inch('5'), density);
    expect(grams(pair(airDryDensity(55))).toFixed(2)).toBe('56.78');
    expect(grams(pair(ovenDryDensity(55))).toFixed(2)).toBe('50.70');
    expect((2 * Qty('5 in').mul(Qty('1.5 in')).mul(Qty('0.375 in')).to('cm3').scalar).toFixed(3)).toBe(
      '92.177',
    );
  });
});

describe('E3: weight of flat bar', () => {
  const bars: [string, string, string, string, string, string, string][] = [
    ['E3a', '1/8', '1', '0.425', '0.4250', '0.4254', '192.96'],
    ['E3b', '1/8', '1 1/2', '0.638', '0.6374', '0.6381', '289.44'],
    ['E3d', '3/16', '1 1/2', '0.956', '0.9561', '0.9571', '434.15'],
    ['E3e', '1/4', '1', '0.850', '0.8499', '0.8508', '385.92'],
    ['E3f', '1/4', '1 1/2', '1.275', '1.2749', '1.2762', '578.87'],
    ['E3g', '1/4', '2', '1.700', '1.6998', '1.7016', '771.83'],
  ];

  it.each(bars)(
    '%s: %s × %s weighs %s lb/ft by the handbook rule of 3.40 (rule READ, column MEM-hi)',
    (_, thick, wide, handbook) => {
      const mass = flatMass(inch(thick), inch(wide), inch('1 ft'), HANDBOOK_STEEL);
      expect(new Decimal(mass).div(toBase(1, 'lb')).toFixed(3)).toBe(handbook);
    },
  );

  it.each(bars)(
    '%s: %s × %s agrees with 0.2833 lb/in³ and with 7.85 g/cm³ (CALC)',
    (...[, thick, wide, handbook, byPounds, byMetric, gramsPerFoot]) => {
      const weigh = (density: Density): number => flatMass(inch(thick), inch(wide), inch('1 ft'), density);
      expect(pounds(weigh(densityFromPounds('0.2833'))).toFixed(4)).toBe(byPounds);
      expect(pounds(weigh(STEEL_785)).toFixed(4)).toBe(byMetric);
      expect(grams(weigh(STEEL_785)).toFixed(2)).toBe(gramsPerFoot);
      expect(Math.abs(pounds(weigh(STEEL_785)) / Number(handbook) - 1)).toBeLessThan(0.0015);
    },
  );

  it('E3j: a 1 in square bar of 144 in at 0.2833 is 40.795 lb; the page prints 40.97, which is wrong (READ, jajalger2018.org)', () => {
    const mass = flatMass(inch('1'), inch('1'), inch('144'), densityFromPounds('0.2833'));
    expect(pounds(mass).toFixed(3)).toBe('40.795');
    expect(pounds(mass).toFixed(2)).not.toBe('40.97');
  });

  it('E3k: 1/2 × 2 × 120 in at 0.2833 is 33.996 lb (READ, same page, which prints 33.99)', () => {
    expect(
      pounds(flatMass(inch('1/2'), inch('2'), inch('120'), densityFromPounds('0.2833'))).toFixed(3),
    ).toBe('33.996');
  });

  it('E3n: metric flat, round and plate weigh 2.355, 10.65 and 245.3 kg (READ, PyPI library steel-sections)', () => {
    const mm = (n: number): number => toBase(n, 'mm');
    const kilograms = (nanograms: number): number => nanograms / toBase(1, 'kg');
    expect(kilograms(flatMass(mm(50), mm(6), mm(1000), densityFromMetric(7850)))).toBe(2.355);
    expect(kilograms(roundMass(mm(12), mm(12_000), densityFromMetric(7850))).toFixed(2)).toBe('10.65');
    expect(kilograms(flatMass(mm(2500), mm(1250), mm(10), densityFromMetric(7850))).toFixed(1)).toBe('245.3');
  });

  it('does not mix the conventions: 0.2904 lb/in³ of the same page contradicts its own 3.40 (READ, a trap)', () => {
    const mass = flatMass(inch('1/4'), inch('1'), inch('1 ft'), densityFromPounds('0.2904'));
    expect(Math.abs(pounds(mass) / 0.85 - 1)).toBeGreaterThan(0.02);
  });
});

describe('E4: Manufacturers’ Standard Gauge', () => {
  const GAUGE = [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 22, 24];
  const INCH =
    '.2391 .2242 .2092 .1943 .1793 .1644 .1495 .1345 .1196 .1046 .0897 .0747 .0673 .0598 .0538 .0478 .0418 .0359 .0299 .0239'.split(
      ' ',
    );
  const MM =
    '6.073 5.695 5.314 4.935 4.554 4.176 3.797 3.416 3.038 2.657 2.278 1.897 1.709 1.519 1.367 1.214 1.062 0.912 0.759 0.607'.split(
      ' ',
    );
  const LB = [
    10, 9.375, 8.75, 8.125, 7.5, 6.875, 6.25, 5.625, 5, 4.375, 3.75, 3.125, 2.8125, 2.5, 2.25, 2, 1.75, 1.5,
    1.25, 1,
  ];

  it('E4a: has the published inches and millimetres for every gauge (READ in seven public repositories)', () => {
    expect(gauges.map((row) => row.gauge)).toEqual(GAUGE);
    expect(GAUGE.map((gauge) => gaugeThickness(gauge))).toEqual(INCH.map((text) => inch(text)));
    expect(GAUGE.map((gauge) => ((gaugeThickness(gauge) ?? 0) / toBase(1, 'mm')).toFixed(3))).toEqual(MM);
  });

  it('E4a: gives back the defining weight by 41.82 lb/ft² per inch within 0.005 (MEM-hi, CALC)', () => {
    expect(gauges.map((row) => row.lbPerSqFtTenThousandths / 10_000)).toEqual(LB);
    for (const row of gauges) {
      expect(Math.abs((row.inchTenThousandths * 41.82 - row.lbPerSqFtTenThousandths) / 10_000)).toBeLessThan(
        0.005,
      );
    }
  });
});
