/**
 * Hardness of steel on three scales, after table 1 of ASTM E140 (non-austenitic steels, Rockwell C range).
 * A converted number is an estimate; it is given in whole numbers behind the measured one, in brackets.
 */
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

/** The scales hardness is read on. */
export const scales = ['HRC', 'HV', 'HBW'] as const;
/** Rockwell C, Vickers, Brinell with a tungsten carbide ball at 3000 kgf. */
export type Scale = (typeof scales)[number];

interface Row {
  readonly hrc: number;
  readonly hv: number;
  /** Null above the range of the ball. */
  readonly hbw: number | null;
}

/**
 * HRC, HV, HBW. Rows 66, 65, 63, 62, 60, 58, 56, 55, 54, 51 and 50 were read in published copies of the table; the
 * others are from memory and stand between them. Copies differ by 1 HV at 62.
 */
const TABLE: readonly Row[] = [
  [68, 940, null],
  [67, 900, null],
  [66, 865, null],
  [65, 832, 739],
  [64, 800, 722],
  [63, 772, 705],
  [62, 746, 688],
  [61, 720, 670],
  [60, 697, 654],
  [59, 674, 634],
  [58, 653, 615],
  [57, 633, 595],
  [56, 613, 577],
  [55, 595, 560],
  [54, 577, 543],
  [53, 560, 525],
  [52, 544, 512],
  [51, 528, 496],
  [50, 513, 481],
  [49, 498, 469],
  [48, 484, 455],
  [47, 471, 443],
  [46, 458, 432],
  [45, 446, 421],
  [44, 434, 409],
  [43, 423, 400],
  [42, 412, 390],
  [41, 402, 381],
  [40, 392, 371],
  [39, 382, 362],
  [38, 372, 353],
  [37, 363, 344],
  [36, 354, 336],
  [35, 345, 327],
  [34, 336, 319],
  [33, 327, 311],
  [32, 318, 301],
  [31, 310, 294],
  [30, 302, 286],
  [29, 294, 279],
  [28, 286, 271],
  [27, 279, 264],
  [26, 272, 258],
  [25, 266, 253],
  [24, 260, 247],
  [23, 254, 243],
  [22, 248, 237],
  [21, 243, 231],
  [20, 238, 226],
].map(([hrc, hv, hbw]) => ({ hrc: hrc ?? 0, hv: hv ?? 0, hbw: hbw ?? null }));

/** Above this the Brinell ball is outside its recommended range. */
const BALL_UP_TO = 58;
const LEAST = 20;
const MOST = 68;

const onScale = (row: Row, scale: Scale): number | null =>
  scale === 'HRC' ? row.hrc : scale === 'HV' ? row.hv : row.hbw;

/** The table as checked: every scale falls from row to row. Copies carry typing errors, so this is asked of it in a test. */
export const hardnessTable: readonly Row[] = TABLE;

const between = (x: number, x0: number, x1: number, y0: number, y1: number): number =>
  x1 === x0 ? y0 : y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);

const refuseRange = (value: number, scale: Scale): Outcome<never> => {
  const known = TABLE.map((row) => onScale(row, scale)).filter((each) => each !== null);
  return refuse(
    `${String(value)} ${scale} lies outside the table, which goes from ${String(Math.min(...known))} to ${String(Math.max(...known))} ${scale}. Check the number and its scale.`,
  );
};

/**
 * Converts a hardness, straight between the rows of the table.
 * Refuses what lies outside 20 to 68 HRC or outside the scale's own rows.
 */
export const convertHardness = (value: number, from: Scale, to: Scale): Outcome<number> => {
  for (const [at, row] of TABLE.entries()) {
    const next = TABLE[at + 1] ?? row;
    const [high, low] = [onScale(row, from), onScale(next, from)];
    if (high === null || low === null || value > high || value < low) continue;
    const [top, bottom] = [onScale(row, to), onScale(next, to)];
    if (value === low && bottom !== null) return ok(bottom);
    if (top === null || bottom === null) continue;
    return ok(between(value, high, low, top, bottom));
  }
  return refuseRange(value, from);
};

/** A measured hardness in thousandths of its scale as HRC in thousandths. */
export const toMilliHrc = (milli: number, scale: Scale): Outcome<number> => {
  if (scale === 'HRC') {
    const points = milli / 1000;
    return points < LEAST || points > MOST ? refuseRange(points, 'HRC') : ok(milli);
  }
  const found = convertHardness(milli / 1000, scale, 'HRC');
  return found.ok ? ok(Math.round(found.value * 1000)) : found;
};

/** One decimal at most, none where it is zero: `61.5`, `62`. */
const plain = (value: number): string => String(Math.round(value * 10) / 10);

/**
 * As the standards ask: the measured value first, the converted one behind it in brackets as a whole number, e.g.
 * `62 HRC (746 HV)`, `353 HBW (38 HRC)`. Outside the table the measured value stands alone.
 * @param milli thousandths of the scale
 */
export const hardnessWords = (milli: number, scale: Scale): string => {
  const value = milli / 1000;
  const other: Scale = scale === 'HRC' ? 'HV' : 'HRC';
  const converted = convertHardness(value, scale, other);
  const measured = `${plain(value)} ${scale}`;
  return converted.ok ? `${measured} (${String(Math.round(converted.value))} ${other})` : measured;
};

/** True where the Brinell ball would be used beyond what is recommended for it. */
export const beyondBall = (milliHrc: number): boolean => milliHrc / 1000 > BALL_UP_TO;
