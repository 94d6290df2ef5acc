/** Temperatures between Fahrenheit and Celsius, exact: °C = (°F − 32) × 5/9. */
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import {
  compare,
  decimalText,
  fromDecimal,
  minus,
  over,
  plus,
  rational,
  times,
  toScaled,
  trimZeros,
} from './rational.ts';
import type { Rational } from './rational.ts';

export type TemperatureScale = 'C' | 'F';

const NINE_FIFTHS = rational(9, 5);
const ICE = rational(32);

/** Exact. */
export const toCelsius = (fahrenheit: Rational): Rational => over(minus(fahrenheit, ICE), NINE_FIFTHS);

/** Exact. */
export const toFahrenheit = (celsius: Rational): Rational => plus(times(celsius, NINE_FIFTHS), ICE);

/** Absolute zero in °C. */
const COLDEST = rational(-27_315, 100);

/**
 * Reads `1500 F`, `1500°F`, `815.5 °C` or a bare number in `scale` into exact degrees Celsius.
 * Refuses what is not a temperature and anything below absolute zero.
 */
export const parseTemperature = (text: string, scale: TemperatureScale): Outcome<Rational> => {
  const match = /^([-−]?)\s*(\d+(?:\.\d+)?)\s*°?\s*([CF])?$/i.exec(text.trim());
  const value = match === null ? undefined : fromDecimal(`${match[1] === '' ? '' : '-'}${match[2] ?? ''}`);
  if (match === null || value === undefined) {
    return refuse(`“${text.trim()}” is not a temperature. Write it like 1500 F or 815 C.`);
  }
  const celsius = (match[3]?.toUpperCase() ?? scale) === 'F' ? toCelsius(value) : value;
  if (compare(celsius, COLDEST) < 0)
    return refuse(`“${text.trim()}” is colder than anything can be. Check the number and its scale.`);
  return ok(celsius);
};

/** Writes degrees Celsius on a scale with at most `decimals` decimals, e.g. `815.6 °C`. */
export const formatTemperature = (celsius: Rational, scale: TemperatureScale, decimals = 0): string => {
  const shown = scale === 'F' ? toFahrenheit(celsius) : celsius;
  return `${trimZeros(decimalText(toScaled(shown, decimals), decimals))} °${scale}`;
};
