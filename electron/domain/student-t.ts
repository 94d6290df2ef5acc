/**
 * Student's t distribution, for degrees of freedom that need not be whole (Welch–Satterthwaite).
 * The incomplete beta function is reckoned by its continued fraction (Abramowitz and Stegun, 26.5.8) with the
 * modified Lentz method; log-gamma by the Lanczos approximation (g = 7, nine terms). Good to about twelve digits.
 */

const LANCZOS = [
  0.999_999_999_999_809_93, 676.520_368_121_885_1, -1259.139_216_722_402_8, 771.323_428_777_653_13,
  -176.615_029_162_140_6, 12.507_343_278_686_905, -0.138_571_095_265_720_12, 9.984_369_578_019_572e-6,
  1.505_632_735_149_311_6e-7,
] as const;

/** Natural logarithm of the gamma function. @param x above 0 */
const logGamma = (x: number): number => {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const z = x - 1;
  let sum: number = LANCZOS[0];
  for (let at = 1; at < LANCZOS.length; at += 1) sum += (LANCZOS[at] ?? 0) / (z + at);
  const t = z + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
};

const TINY = 1e-300;
const away = (x: number): number => (Math.abs(x) < TINY ? TINY : x);

/** The continued fraction of the incomplete beta function; converges quickly for x below (a + 1) / (a + b + 2). */
const betaFraction = (x: number, a: number, b: number): number => {
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let found = d;
  for (let m = 1; m <= 500; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    found *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    const step = d * c;
    found *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return found;
};

/**
 * Regularised incomplete beta function.
 * @param x 0 to 1 @param rest 1 − x, given apart so that a small one keeps its digits @param a,b above 0
 */
const incompleteBeta = (x: number, rest: number, a: number, b: number): number => {
  if (x <= 0) return 0;
  if (rest <= 0) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(rest));
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(rest, b, a)) / b;
};

/** Chance of a t at least this far from zero on either side. @param df degrees of freedom, above 0 */
export const twoSided = (t: number, df: number): number => {
  const square = t * t;
  return incompleteBeta(df / (df + square), square / (df + square), df / 2, 0.5);
};

/** The t that is passed on either side with the given chance, found by halving. @param chance above 0, below 1 */
export const tFor = (chance: number, df: number): number => {
  let high = 1;
  while (twoSided(high, df) > chance && high < 1e12) high *= 2;
  let low = 0;
  for (let step = 0; step < 200 && high - low > 1e-13 * high; step += 1) {
    const middle = (low + high) / 2;
    if (twoSided(middle, df) > chance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};
