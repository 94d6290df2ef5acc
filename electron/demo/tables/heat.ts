/** How each steel is hardened, and what its gates ask for. Figures are usual practice, to be replaced by one's own. */
import type { HeatStepKind } from '../../api/heats.ts';
import type { Variant } from './models.ts';
import type { ItemKey } from './items.ts';

export type SteelKey = 'stainless070' | 'stainless080' | 'crv125' | 'crv187' | 'b52100' | 'billet';

export interface HeatRow {
  readonly kind: HeatStepKind;
  /** Degrees Fahrenheit; null where nothing is set. */
  readonly fahrenheit: number | null;
  readonly minutes: number;
  readonly note: string;
}

export interface Hardening {
  readonly name: string;
  readonly steels: readonly SteelKey[];
  /** Tenths of an HRC point. */
  readonly target: number;
  readonly kilnMinutes: number;
  readonly steps: readonly HeatRow[];
}

const row = (kind: HeatStepKind, fahrenheit: number | null, minutes: number, note = ''): HeatRow => ({
  kind,
  fahrenheit,
  minutes,
  note,
});

export const hardenings: readonly Hardening[] = [
  {
    name: 'Stainless strip',
    steels: ['stainless070', 'stainless080'],
    target: 610,
    kilnMinutes: 210,
    steps: [
      row('preheat', 1550, 10),
      row('soak', 1925, 20, 'In foil'),
      row('quench', null, 5, 'Between plates'),
      row('temper', 375, 120),
      row('temper', 375, 120),
    ],
  },
  {
    name: '52100',
    steels: ['b52100'],
    target: 615,
    kilnMinutes: 180,
    steps: [
      row('normalise', 1650, 10),
      row('normalise', 1550, 10),
      row('soak', 1500, 10),
      row('quench', 130, 1, 'Oil'),
      row('temper', 400, 120),
      row('temper', 400, 120),
    ],
  },
  {
    name: '80CrV2',
    steels: ['crv125', 'crv187'],
    target: 595,
    kilnMinutes: 180,
    steps: [
      row('normalise', 1600, 10),
      row('soak', 1525, 8),
      row('quench', 130, 1, 'Oil'),
      row('temper', 425, 120),
      row('temper', 425, 120),
    ],
  },
  {
    name: 'Pattern-welded 1084 and nickel steel',
    steels: ['billet'],
    target: 605,
    kilnMinutes: 180,
    steps: [
      row('normalise', 1600, 10),
      row('soak', 1490, 8),
      row('quench', 130, 1, 'Oil'),
      row('temper', 400, 120),
      row('temper', 400, 120),
    ],
  },
];

/** The steel of each model. */
export const steelOf: Readonly<Record<Variant, SteelKey & ItemKey>> = {
  PAR: 'stainless070',
  PET: 'stainless080',
  CHF: 'b52100',
  CHFP: 'billet',
  HUNB: 'crv125',
  HUNH: 'crv125',
  HUNP: 'billet',
  CMPB: 'crv187',
  CMPH: 'crv187',
};

/** Behind the edge, thousandths of an inch. */
export const edgeOf: Readonly<Record<Variant, readonly [low: number, high: number]>> = {
  PAR: [8, 10],
  PET: [7, 10],
  CHF: [6, 9],
  CHFP: [7, 9],
  HUNB: [15, 18],
  HUNH: [15, 18],
  HUNP: [15, 18],
  CMPB: [22, 28],
  CMPH: [22, 28],
};

/** Warp after the quench above half a millimetre, hundredths of a millimetre. */
export const warped: Readonly<Record<string, number>> = { W05: 200, W17: 120, W30: 150, W33: 110, W45: 90 };
/** Still crooked at the end. */
export const stillWarped = 'W45';
/** What failed over the brass rod. */
export const chipped = 'W28';
/** Hardness that was measured on the blade that failed, tenths of an HRC point. */
export const chippedHardness = 625;
export const chopped: readonly string[] = ['W15', 'W25', 'W26', 'W38'];
