/** The knives begun in 2024 and 2025, by batch. */
import type { ItemKey } from './items.ts';
import type { Variant } from './models.ts';

/** A knife that went another way than usual. */
export interface Otherwise {
  /** Only these stages were done. */
  readonly stagesDone?: readonly string[];
  readonly without?: readonly string[];
  /** Minutes of a stage in place of the usual ones. */
  readonly minutes?: Readonly<Record<string, number>>;
  /** Minutes on top of the usual ones. */
  readonly more?: Readonly<Record<string, number>>;
  /** The share of the usual belts it used up. */
  readonly belts?: string;
  /** Gloves, solvent and the like in place of the usual amount. */
  readonly other?: string;
  /** The day work on it ended, where that is not the batch's. */
  readonly until?: string;
}

export interface DemoBuild extends Otherwise {
  readonly serial: string;
  readonly variant: Variant;
  /** How many of its family it is: what was learned before shortens it. */
  readonly nth: number;
}

/** Which bar of its kind, in the order they came in. */
export interface DemoCut {
  readonly steel: ItemKey;
  readonly bar: number;
  readonly serials: readonly string[];
}

export interface DemoBatch {
  readonly name: string;
  readonly start: string;
  readonly hardened: string;
  /** Null while it is in work. */
  readonly finished: string | null;
  readonly builds: readonly DemoBuild[];
  readonly cuts: readonly DemoCut[];
}

const build = (serial: string, variant: Variant, nth: number, otherwise: Otherwise = {}): DemoBuild => ({
  serial,
  variant,
  nth,
  ...otherwise,
});

/** Hand finishing was done with paper before this day and with stones from it on. */
export const stonesFrom = '2025-03-29';

export const batches: readonly DemoBatch[] = [
  {
    name: 'B1',
    start: '2024-07-06',
    hardened: '2024-07-13',
    finished: '2024-08-03',
    builds: [build('W01', 'PAR', 1), build('W02', 'PAR', 2), build('W03', 'PAR', 3)],
    cuts: [{ steel: 'stainless070', bar: 0, serials: ['W01', 'W02', 'W03'] }],
  },
  {
    name: 'B2',
    start: '2024-08-10',
    hardened: '2024-08-24',
    finished: '2024-09-21',
    builds: [build('W04', 'CHF', 1), build('W05', 'CHF', 2)],
    cuts: [{ steel: 'b52100', bar: 0, serials: ['W04', 'W05'] }],
  },
  {
    name: 'B3',
    start: '2024-09-14',
    hardened: '2024-09-28',
    finished: '2024-10-19',
    builds: [build('W06', 'HUNB', 1), build('W07', 'HUNB', 2)],
    cuts: [{ steel: 'crv125', bar: 0, serials: ['W06', 'W07'] }],
  },
  {
    name: 'B4',
    start: '2024-10-05',
    hardened: '2024-10-19',
    finished: '2024-11-09',
    builds: [build('W08', 'PET', 1), build('W09', 'PET', 2), build('W10', 'PET', 3)],
    cuts: [{ steel: 'stainless080', bar: 0, serials: ['W08', 'W09', 'W10'] }],
  },
  {
    name: 'B5',
    start: '2024-10-26',
    hardened: '2024-11-09',
    finished: '2024-12-07',
    builds: [build('W11', 'CHF', 3), build('W12', 'HUNH', 3)],
    cuts: [
      { steel: 'b52100', bar: 0, serials: ['W11'] },
      { steel: 'crv125', bar: 0, serials: ['W12'] },
    ],
  },
  {
    name: 'B6',
    start: '2024-11-23',
    hardened: '2024-12-07',
    finished: '2024-12-28',
    builds: [build('W13', 'PAR', 4), build('W14', 'PAR', 5), build('W15', 'CMPB', 1)],
    cuts: [
      { steel: 'stainless070', bar: 0, serials: ['W13', 'W14'] },
      { steel: 'crv187', bar: 0, serials: ['W15'] },
    ],
  },
  {
    name: 'B7',
    start: '2025-01-04',
    hardened: '2025-01-18',
    finished: '2025-02-22',
    builds: [
      build('W16', 'PET', 4),
      build('W17', 'PET', 5),
      build('W18', 'PET', 6),
      build('W19', 'CHF', 4),
      build('W20', 'CHF', 5),
    ],
    cuts: [
      { steel: 'stainless080', bar: 0, serials: ['W16'] },
      { steel: 'stainless080', bar: 1, serials: ['W17', 'W18'] },
      { steel: 'b52100', bar: 0, serials: ['W19', 'W20'] },
    ],
  },
  {
    name: 'B8',
    start: '2025-02-01',
    hardened: '2025-02-08',
    finished: '2025-03-08',
    builds: [
      build('W21', 'HUNH', 4),
      build('W22', 'HUNB', 5),
      build('W23', 'PAR', 6),
      build('W24', 'PAR', 7),
    ],
    cuts: [
      { steel: 'crv125', bar: 0, serials: ['W21', 'W22'] },
      { steel: 'stainless070', bar: 0, serials: ['W23'] },
      { steel: 'stainless070', bar: 1, serials: ['W24'] },
    ],
  },
  {
    name: 'B9',
    start: '2025-03-29',
    hardened: '2025-04-12',
    finished: '2025-05-17',
    builds: [
      build('W25', 'CMPB', 2),
      build('W26', 'CMPH', 3),
      build('W27', 'CHF', 6),
      build('W28', 'CHF', 7, {
        without: ['FIT', 'HDL', 'FIN', 'PHO', 'LST', 'PCK', 'MSG'],
        minutes: { SHP: 20 },
        belts: '0.83',
        other: '2.00',
        until: '2025-05-10',
      }),
    ],
    cuts: [
      { steel: 'crv187', bar: 0, serials: ['W25', 'W26'] },
      { steel: 'b52100', bar: 0, serials: ['W27'] },
      { steel: 'b52100', bar: 1, serials: ['W28'] },
    ],
  },
  {
    name: 'B10',
    start: '2025-05-17',
    hardened: '2025-05-31',
    finished: '2025-07-05',
    builds: [
      build('W29', 'CHFP', 8),
      build('W30', 'CHFP', 9),
      build('W31', 'CHF', 10),
      build('W32', 'HUNP', 6),
    ],
    cuts: [{ steel: 'b52100', bar: 1, serials: ['W31'] }],
  },
  {
    name: 'B11',
    start: '2025-07-05',
    hardened: '2025-07-12',
    finished: '2025-08-09',
    builds: [build('W33', 'PET', 7), build('W34', 'PET', 8, { more: { FIT: 25 } }), build('W35', 'HUNH', 7)],
    cuts: [
      { steel: 'stainless080', bar: 1, serials: ['W33', 'W34'] },
      { steel: 'crv125', bar: 1, serials: ['W35'] },
    ],
  },
  {
    name: 'B12',
    start: '2025-08-09',
    hardened: '2025-08-16',
    finished: '2025-09-06',
    builds: [
      build('W36', 'PAR', 8),
      build('W37', 'PAR', 9, { without: ['PCK', 'MSG'] }),
      build('W38', 'CMPB', 4, { without: ['PCK', 'MSG'] }),
    ],
    cuts: [
      { steel: 'stainless070', bar: 1, serials: ['W36', 'W37'] },
      { steel: 'crv187', bar: 1, serials: ['W38'] },
    ],
  },
  {
    name: 'B13',
    start: '2025-09-06',
    hardened: '2025-09-13',
    finished: '2025-10-11',
    builds: [
      build('W39', 'CHF', 11),
      build('W40', 'HUNB', 8, { without: ['PCK', 'MSG'] }),
      build('W41', 'PET', 9),
    ],
    cuts: [
      { steel: 'b52100', bar: 1, serials: ['W39'] },
      { steel: 'crv125', bar: 1, serials: ['W40'] },
      { steel: 'stainless080', bar: 2, serials: ['W41'] },
    ],
  },
  {
    name: 'B14',
    start: '2025-11-15',
    hardened: '2025-12-06',
    finished: null,
    builds: [
      build('W42', 'CHF', 12, {
        stagesDone: ['DES', 'CUT', 'FRG', 'GR1', 'HTA', 'STR'],
        belts: '0.30',
        other: '1.50',
      }),
      build('W43', 'PET', 10, {
        stagesDone: ['DES', 'CUT', 'HTA', 'STR', 'GR2'],
        belts: '0.62',
        other: '1.50',
      }),
      build('W44', 'PAR', 10, {
        stagesDone: ['DES', 'CUT', 'HTA', 'STR', 'GR2', 'BLT'],
        belts: '0.70',
        other: '1.50',
      }),
      build('W45', 'CMPH', 5, { stagesDone: ['DES', 'CUT', 'GR1', 'HTA'], belts: '0.38', other: '1.50' }),
    ],
    cuts: [
      { steel: 'b52100', bar: 1, serials: ['W42'] },
      { steel: 'stainless080', bar: 2, serials: ['W43'] },
      { steel: 'stainless070', bar: 1, serials: ['W44'] },
      { steel: 'crv187', bar: 1, serials: ['W45'] },
    ],
  },
];
