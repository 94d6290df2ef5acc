/** E7: temperatures. */
import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import { fromDecimal, rational, toScaled } from '../../electron/domain/rational.ts';
import { formatTemperature, toCelsius } from '../../electron/domain/temperature.ts';

const celsius = (fahrenheit: string, decimals: number): number =>
  toScaled(toCelsius(fromDecimal(fahrenheit) ?? rational(0)), decimals) / 10 ** decimals;

describe('temperatures', () => {
  it.each([
    ['-40', -40],
    ['32', 0],
    ['212', 100],
    ['199.4', 93],
    ['932', 500],
  ])('E7a: %s °F is exactly %d °C (definition; 93 READ in 29 CFR 1910.125)', (fahrenheit, wanted) => {
    expect(celsius(fahrenheit, 9)).toBe(wanted);
  });

  it.each([
    ['400', 204.44],
    ['380', 193.33],
    ['100', 37.78],
  ])('E7c: %s °F is %d °C (CALC; the regulation prints 37.8)', (fahrenheit, wanted) => {
    expect(celsius(fahrenheit, 2)).toBe(wanted);
    expect(Qty(Number(fahrenheit), 'tempF').to('tempC').scalar).toBeCloseTo(wanted, 2);
  });

  it.each([
    ['2000', '1093 °C'],
    ['1500', '816 °C'],
    ['1200', '649 °C'],
    ['520', '271 °C'],
    ['390', '199 °C'],
  ])('E7e: %s °F is shown as %s (READ, doublegunshop.com)', (fahrenheit, wanted) => {
    expect(formatTemperature(toCelsius(fromDecimal(fahrenheit) ?? rational(0)), 'C')).toBe(wanted);
  });
});
