/** What came back for sharpening in 2025, and what left in parcels. Invented. */
import type { BuyerKey } from './people.ts';
import type { Variant } from './models.ts';

export interface DemoService {
  readonly receivedOn: string;
  readonly doneOn: string;
  readonly sentOn: string;
  readonly buyer: BuyerKey;
  /** Of the workshop's own knives; else `knife` says which. */
  readonly serial?: string;
  readonly knife?: string;
  /** Left out where the first sharpening within the year was free. */
  readonly price?: string;
  readonly note: string;
}

/** Seven sharpenings: three free within the first year, four at 15.00. */
export const services: readonly DemoService[] = [
  {
    serial: 'W01',
    buyer: 'C01',
    receivedOn: '2025-02-10',
    doneOn: '2025-02-12',
    sentOn: '2025-02-13',
    note: 'Dull from a glass board; a new edge at 15 degrees a side.',
  },
  {
    knife: 'Old carbon paring knife, no mark',
    buyer: 'C12',
    receivedOn: '2025-04-07',
    doneOn: '2025-04-09',
    sentOn: '2025-04-10',
    price: '15.00',
    note: 'Came along as a favour. Thinned a little behind the edge.',
  },
  {
    serial: 'W04',
    buyer: 'C04',
    receivedOn: '2025-05-12',
    doneOn: '2025-05-14',
    sentOn: '2025-05-15',
    note: 'Two small chips at the heel ground out.',
  },
  {
    knife: 'Carving knife of a grandfather, 240 mm',
    buyer: 'C15',
    receivedOn: '2025-06-16',
    doneOn: '2025-06-18',
    sentOn: '2025-06-19',
    price: '15.00',
    note: 'Edge only; the patina stays.',
  },
  {
    serial: 'W08',
    buyer: 'C08',
    receivedOn: '2025-09-08',
    doneOn: '2025-09-10',
    sentOn: '2025-09-11',
    note: 'Stropped and checked; the handle oiled.',
  },
  {
    serial: 'W02',
    buyer: 'C02',
    receivedOn: '2025-09-22',
    doneOn: '2025-09-24',
    sentOn: '2025-09-25',
    price: '15.00',
    note: '',
  },
  {
    serial: 'W05',
    buyer: 'C05',
    receivedOn: '2025-11-03',
    doneOn: '2025-11-05',
    sentOn: '2025-11-06',
    price: '15.00',
    note: 'A rolled edge along the tip.',
  },
];

/** Knives whose parcel is written down, by serial: the two that went abroad, and all of the last release. */
export const parcels: readonly string[] = ['W10', 'W27', 'W30', 'W39', 'W33', 'W32', 'W36', 'W41'];

/** What each variant weighs, grams, with its sheath where it has one. */
export const weights: Readonly<Record<Variant, number>> = {
  PAR: 82,
  PET: 118,
  CHF: 196,
  CHFP: 204,
  HUNB: 268,
  HUNH: 281,
  HUNP: 290,
  CMPB: 512,
  CMPH: 520,
};

/** Box, insert and corrosion paper, grams. */
export const wrapping = { small: 145, large: 230 } as const;
