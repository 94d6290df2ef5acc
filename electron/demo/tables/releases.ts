/** The two releases of 2025: who asked when, who let it go. Times are the workshop's own. */
import type { Variant } from './models.ts';
import type { BuyerKey } from './people.ts';

export interface DemoClaim {
  readonly on: string;
  /** Local time the buyer's message came, `HH:MM`. */
  readonly at: string;
  readonly serial: string;
  readonly buyer: BuyerKey;
  readonly note?: string;
}

export interface DemoRelease {
  readonly title: string;
  readonly note: string;
  /** The day it was set, and the day the early group was told. */
  readonly setOn: string;
  readonly previewOn: string;
  readonly opensOn: string;
  readonly closesOn: string;
  /** In the order shown; a price where the model has none of its own. */
  readonly knives: readonly { readonly serial: string; readonly variant: Variant; readonly price?: string }[];
  readonly claims: readonly DemoClaim[];
}

/** Local time at which both windows open and close. */
export const windowTime = '18:00';
/** A hold lasts two days. */
export const holdMinutes = 48 * 60;

/** What is said of a knife beside what its gates found. */
export const wordsOf: Readonly<Partial<Record<Variant, string>>> = {
  PAR: '90 mm blade, full tang, belt finish.',
  PET: 'Petty with a hidden tang and a ferrule, belt finish.',
  CHF: '220 mm blade, forged, rubbed out by hand.',
  CHFP: 'Chef, pattern-welded from the workshop’s own billet, etched.',
  HUNB: 'Hunter, belt finish, with a sheath.',
  HUNH: 'Hunter with bolsters, rubbed out by hand, with a sheath.',
  HUNP: 'Hunter, pattern-welded from the workshop’s own billet, with a sheath.',
  CMPB: 'Camp knife, belt finish, with a sheath.',
};

export const releases: readonly DemoRelease[] = [
  {
    title: 'Nine for the spring',
    note: 'Seven kitchen knives and two hunters from the winter’s bench.',
    setOn: '2025-03-10',
    previewOn: '2025-03-11',
    opensOn: '2025-03-14',
    closesOn: '2025-03-16',
    knives: [
      { serial: 'W19', variant: 'CHF' },
      { serial: 'W20', variant: 'CHF' },
      { serial: 'W21', variant: 'HUNH' },
      { serial: 'W22', variant: 'HUNB' },
      { serial: 'W16', variant: 'PET' },
      { serial: 'W17', variant: 'PET' },
      { serial: 'W18', variant: 'PET' },
      { serial: 'W23', variant: 'PAR' },
      { serial: 'W24', variant: 'PAR' },
    ],
    claims: [
      { on: '2025-03-14', at: '18:02', serial: 'W19', buyer: 'C15' },
      { on: '2025-03-14', at: '18:07', serial: 'W20', buyer: 'C04' },
      { on: '2025-03-14', at: '18:31', serial: 'W16', buyer: 'C16' },
      { on: '2025-03-15', at: '10:15', serial: 'W21', buyer: 'C17' },
      { on: '2025-03-15', at: '14:40', serial: 'W17', buyer: 'C08' },
      { on: '2025-03-16', at: '12:20', serial: 'W23', buyer: 'C01' },
      { on: '2025-03-16', at: '18:04', serial: 'W22', buyer: 'C18' },
      // Held, never paid: it ran out by itself and went to the next who asked.
      {
        on: '2025-03-16',
        at: '18:30',
        serial: 'W18',
        buyer: 'C31',
        note: 'Wants to measure a drawer first.',
      },
      { on: '2025-03-18', at: '19:10', serial: 'W18', buyer: 'C19' },
      { on: '2025-03-25', at: '12:30', serial: 'W24', buyer: 'C20' },
    ],
  },
  {
    title: 'Autumn table',
    note: 'Two of them from the pattern-welded billet. W33 was ordered and let go again; it is a sound knife.',
    setOn: '2025-10-13',
    previewOn: '2025-10-14',
    opensOn: '2025-10-17',
    closesOn: '2025-10-19',
    knives: [
      { serial: 'W30', variant: 'CHFP', price: '1350.00' },
      { serial: 'W32', variant: 'HUNP', price: '780.00' },
      { serial: 'W39', variant: 'CHF' },
      { serial: 'W38', variant: 'CMPB' },
      { serial: 'W40', variant: 'HUNB' },
      { serial: 'W33', variant: 'PET' },
      { serial: 'W41', variant: 'PET' },
      { serial: 'W36', variant: 'PAR' },
      { serial: 'W37', variant: 'PAR' },
    ],
    claims: [
      { on: '2025-10-17', at: '18:01', serial: 'W30', buyer: 'C15' },
      { on: '2025-10-17', at: '18:05', serial: 'W39', buyer: 'C28' },
      { on: '2025-10-17', at: '18:20', serial: 'W33', buyer: 'C16' },
      { on: '2025-10-18', at: '11:00', serial: 'W32', buyer: 'C25' },
      { on: '2025-10-19', at: '15:30', serial: 'W36', buyer: 'C29' },
      { on: '2025-10-21', at: '19:05', serial: 'W41', buyer: 'C30' },
    ],
  },
];

/** Sold as seconds, with what is wrong with them. */
export const flaws: readonly { readonly on: string; readonly serial: string; readonly flaw: string }[] = [
  {
    on: '2025-08-19',
    serial: 'W34',
    flaw: 'A gap of 0.3 mm at the ferrule after rework; the blade is sound',
  },
];
