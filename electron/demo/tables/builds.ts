/** The knives begun in 2024, by batch. */
import type { ItemKey } from './items.ts';
import type { Variant } from './models.ts';

export interface DemoBuild {
  readonly serial: string;
  readonly variant: Variant;
  /** How many of its family it is: what was learned before shortens it. */
  readonly nth: number;
}

export interface DemoBatch {
  readonly name: string;
  readonly start: string;
  readonly hardened: string;
  readonly finished: string;
  readonly builds: readonly DemoBuild[];
  /** Blanks cut at the start: from the first bar that came in of each steel. */
  readonly cuts: readonly { readonly steel: ItemKey; readonly serials: readonly string[] }[];
}

const build = (serial: string, variant: Variant, nth: number): DemoBuild => ({ serial, variant, nth });

export const batches: readonly DemoBatch[] = [
  {
    name: 'B1',
    start: '2024-07-06',
    hardened: '2024-07-13',
    finished: '2024-08-03',
    builds: [build('W01', 'PAR', 1), build('W02', 'PAR', 2), build('W03', 'PAR', 3)],
    cuts: [{ steel: 'stainless070', serials: ['W01', 'W02', 'W03'] }],
  },
  {
    name: 'B2',
    start: '2024-08-10',
    hardened: '2024-08-24',
    finished: '2024-09-21',
    builds: [build('W04', 'CHF', 1), build('W05', 'CHF', 2)],
    cuts: [{ steel: 'b52100', serials: ['W04', 'W05'] }],
  },
  {
    name: 'B3',
    start: '2024-09-14',
    hardened: '2024-09-28',
    finished: '2024-10-19',
    builds: [build('W06', 'HUNB', 1), build('W07', 'HUNB', 2)],
    cuts: [{ steel: 'crv125', serials: ['W06', 'W07'] }],
  },
  {
    name: 'B4',
    start: '2024-10-05',
    hardened: '2024-10-19',
    finished: '2024-11-09',
    builds: [build('W08', 'PET', 1), build('W09', 'PET', 2), build('W10', 'PET', 3)],
    cuts: [{ steel: 'stainless080', serials: ['W08', 'W09', 'W10'] }],
  },
  {
    name: 'B5',
    start: '2024-10-26',
    hardened: '2024-11-09',
    finished: '2024-12-07',
    builds: [build('W11', 'CHF', 3), build('W12', 'HUNH', 3)],
    cuts: [
      { steel: 'b52100', serials: ['W11'] },
      { steel: 'crv125', serials: ['W12'] },
    ],
  },
  {
    name: 'B6',
    start: '2024-11-23',
    hardened: '2024-12-07',
    finished: '2024-12-28',
    builds: [build('W13', 'PAR', 4), build('W14', 'PAR', 5), build('W15', 'CMPB', 1)],
    cuts: [
      { steel: 'stainless070', serials: ['W13', 'W14'] },
      { steel: 'crv187', serials: ['W15'] },
    ],
  },
];
