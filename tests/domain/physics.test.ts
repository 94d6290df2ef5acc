import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { densities, densityOf, woodOf, woods } from '../../electron/domain/densities.ts';
import { gauges, gaugeThickness, nearestGauge } from '../../electron/domain/gauges.ts';
import {
  densityFromMetric,
  densityFromPounds,
  flatMass,
  roundMass,
  STEEL_785,
} from '../../electron/domain/mass.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { fromDecimal, rational, toScaled } from '../../electron/domain/rational.ts';
import {
  formatTemperature,
  parseTemperature,
  toCelsius,
  toFahrenheit,
} from '../../electron/domain/temperature.ts';
import { sentence, value } from './figures.ts';

const mm = (n: number): number => toBase(n, 'mm');

describe('weights from dimensions', () => {
  it('weigh a litre of water and a cube of steel', () => {
    expect(flatMass(mm(100), mm(100), mm(100), densityFromMetric(1000))).toBe(toBase(1, 'kg'));
    expect(flatMass(mm(10), mm(10), mm(10), STEEL_785)).toBe(toBase(7.85 * 1000, 'g') / 1000);
  });

  it('grow in proportion to each dimension', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100 }), fc.integer({ min: 1, max: 400 }), (thick, wide) => {
        const one = flatMass(mm(thick), mm(wide), mm(1000), STEEL_785);
        expect(flatMass(mm(wide), mm(thick), mm(1000), STEEL_785)).toBe(one);
        expect(flatMass(mm(2 * thick), mm(wide), mm(1000), STEEL_785)).toBe(2 * one);
      }),
    );
  });

  it('weigh a round bar as pi over four of the square one', () => {
    const square = flatMass(mm(12), mm(12), mm(1000), STEEL_785);
    expect(roundMass(mm(12), mm(1000), STEEL_785) / square).toBeCloseTo(Math.PI / 4, 9);
  });

  it('refuse a density that is no number', () => {
    expect(() => densityFromPounds('0,28')).toThrow(RangeError);
  });
});

describe('tables', () => {
  it('name a source and a plausible density for every material once', () => {
    expect(new Set(densities.map((row) => row.material)).size).toBe(densities.length);
    for (const row of densities) {
      expect(row.source).not.toBe('');
      expect(row.kgPerM3).toBeGreaterThan(500);
      expect(row.kgPerM3).toBeLessThan(9000);
      if (row.range !== undefined)
        expect(row.range[0] < row.kgPerM3 && row.kgPerM3 < row.range[1]).toBe(true);
    }
    expect([densityOf('Unobtainable'), woodOf('Unobtainable')]).toEqual([undefined, undefined]);
    expect(woods.every((row) => row.gravityHundredths > 30 && row.gravityHundredths < 140)).toBe(true);
  });

  it('finds the gauge of a thickness and back', () => {
    for (const row of gauges) expect(nearestGauge(gaugeThickness(row.gauge) ?? 0).gauge).toBe(row.gauge);
    expect(gaugeThickness(21)).toBeUndefined();
    expect(nearestGauge(mm(1.5 * 2) / 2).gauge).toBe(16);
  });
});

describe('temperatures', () => {
  it('go both ways without loss', () => {
    fc.assert(
      fc.property(fc.integer({ min: -4000, max: 30_000 }), (tenths) => {
        const given = rational(tenths, 10);
        expect(toScaled(toFahrenheit(toCelsius(given)), 1)).toBe(tenths);
      }),
    );
  });

  it('are read with either scale and written on either', () => {
    expect(formatTemperature(value(parseTemperature('1500 F', 'C')), 'C')).toBe('816 °C');
    expect(formatTemperature(value(parseTemperature('1500°F', 'C')), 'C', 1)).toBe('815.6 °C');
    expect(formatTemperature(value(parseTemperature('-40', 'F')), 'C')).toBe('-40 °C');
    expect(formatTemperature(value(parseTemperature('200 c', 'F')), 'F')).toBe('392 °F');
    expect(fromDecimal('1e5')).toBeUndefined();
  });

  it('are refused when they are none or below absolute zero', () => {
    expect(sentence(parseTemperature('hot', 'F'))).toBe(
      '“hot” is not a temperature. Write it like 1500 F or 815 C.',
    );
    expect(sentence(parseTemperature('-300 C', 'F'))).toBe(
      '“-300 C” is colder than anything can be. Check the number and its scale.',
    );
  });
});
