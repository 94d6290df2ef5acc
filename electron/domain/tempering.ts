/**
 * The Hollomon–Jaffe parameter of a tempering: T · (C + log10 t) ÷ 1000 with T in kelvin, C = 20 and t in hours.
 * Several tempers are added as the time at one reference temperature that would do the same.
 * Source of formula and of adding up: the tempering help page at dillinger.de, in hours; a page that puts minutes under
 * the logarithm with C = 20 is wrong. It compares tempers of one steel; it foretells no hardness.
 */

/** The constant for carbon and low-alloy steel when time is in hours. */
const C = 20;

/** 0 °C in kelvin. */
const ICE_K = 273.15;

/** One stay at a temperature. */
export interface Temper {
  /** Thousandths of a degree Celsius. */
  readonly milliC: number;
  /** Minutes, never hours: the unit is turned into hours here and nowhere else. */
  readonly minutes: number;
}

const kelvin = ({ milliC }: Temper): number => milliC / 1000 + ICE_K;

/** The parameter of one stay, in thousands. */
const parameter = (kelvins: number, hours: number): number => (kelvins * (C + Math.log10(hours))) / 1000;

/** Hours at `reference` kelvin that do what this stay did. */
const equivalentHours = (temper: Temper, reference: number): number => {
  const own = parameter(kelvin(temper), temper.minutes / 60);
  return 10 ** ((1000 * own) / reference - C);
};

/**
 * The parameter over all tempers, times a thousand and rounded: 17.463 is 17463. Null without any that took time.
 * The hottest one is the reference; which one is chosen makes no difference that shows.
 */
export const temperParameterMilli = (tempers: readonly Temper[]): number | null => {
  const real = tempers.filter((temper) => temper.minutes > 0 && kelvin(temper) > 0);
  if (real.length === 0) return null;
  const reference = Math.max(...real.map(kelvin));
  const hours = real.reduce((so, temper) => so + equivalentHours(temper, reference), 0);
  return Math.round(parameter(reference, hours) * 1000);
};
