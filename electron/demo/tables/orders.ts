/** Knives made to order, August 2024 to December 2025, and wishes that still wait. Everything here is invented. */
import type { Input } from '../../api/contract.ts';
import type { Variant } from './models.ts';
import type { BuyerKey } from './people.ts';

const usual = {
  name: 'Usual deposit',
  leastMinor: 0,
  specialPpm: 1_000_000,
  refundable: 'untilWork',
  keptPpm: 500_000,
  depositDays: 7,
  balanceDays: 7,
} as const;

/** A quarter ahead in 2024, 30 % from 2025, 40 % where the material is special. */
export const depositRules = {
  quarter: { ...usual, from: '2024-07-01', percentPpm: 250_000 },
  thirty: { ...usual, from: '2025-01-01', percentPpm: 300_000 },
  special: { ...usual, name: 'Special material', from: '2025-01-01', percentPpm: 400_000 },
} as const satisfies Readonly<Record<string, Input<'orders.savePolicy'>>>;

export type RuleKey = keyof typeof depositRules;

/** The knife made for an order from a day on. */
export interface DemoLink {
  readonly on: string;
  readonly serial: string;
  /** Why it takes over from another. */
  readonly reason?: string;
}

export interface DemoOrder {
  readonly key: string;
  readonly buyer: BuyerKey;
  readonly variant: Variant;
  readonly wish: string;
  /** Agreed, with the deposit paid. */
  readonly ordered: string;
  readonly price: string;
  readonly rule: RuleKey;
  readonly promised: string;
  readonly links: readonly DemoLink[];
  readonly moved?: { readonly on: string; readonly promised: string; readonly reason: string };
  readonly cancelled?: { readonly on: string; readonly reason: string; readonly refundedOn: string };
}

export const orders: readonly DemoOrder[] = [
  {
    key: 'P1',
    buyer: 'C09',
    variant: 'CHF',
    wish: 'For a right-handed cook, slim handle.',
    ordered: '2024-08-30',
    price: '540.00',
    rule: 'quarter',
    promised: '2024-12-15',
    links: [{ on: '2024-10-26', serial: 'W11' }],
  },
  {
    key: 'P2',
    buyer: 'C10',
    variant: 'HUNH',
    wish: 'Burl with much figure, sheath for the left side.',
    ordered: '2024-09-12',
    price: '420.00',
    rule: 'quarter',
    promised: '2024-12-15',
    links: [{ on: '2024-10-26', serial: 'W12' }],
  },
  {
    key: 'P3',
    buyer: 'C21',
    variant: 'CMPH',
    wish: 'Black laminate, satin blade.',
    ordered: '2025-02-03',
    price: '560.00',
    rule: 'thirty',
    promised: '2025-05-31',
    links: [{ on: '2025-03-29', serial: 'W26' }],
  },
  {
    key: 'P4',
    buyer: 'C24',
    variant: 'CHF',
    wish: 'Thin behind the edge, for vegetables.',
    ordered: '2025-02-20',
    price: '540.00',
    rule: 'thirty',
    promised: '2025-06-07',
    links: [
      { on: '2025-03-29', serial: 'W28' },
      { on: '2025-05-17', serial: 'W31', reason: 'W28 chipped at the edge-flex test and was scrapped' },
    ],
    moved: {
      on: '2025-05-11',
      promised: '2025-07-12',
      reason: 'The blade was scrapped at the edge-flex test; a new one is made',
    },
  },
  {
    key: 'P5',
    buyer: 'C25',
    variant: 'CHFP',
    wish: 'Pattern-welded, bold pattern, premium burl.',
    ordered: '2025-03-22',
    price: '1280.00',
    rule: 'special',
    promised: '2025-07-31',
    links: [{ on: '2025-05-17', serial: 'W29' }],
  },
  {
    key: 'P6',
    buyer: 'C26',
    variant: 'HUNH',
    wish: 'Like the one at the spring market.',
    ordered: '2025-05-24',
    price: '420.00',
    rule: 'thirty',
    promised: '2025-08-31',
    links: [{ on: '2025-07-05', serial: 'W35' }],
  },
  {
    key: 'P7',
    buyer: 'C31',
    variant: 'PET',
    wish: 'Maple, no ferrule marks.',
    ordered: '2025-06-14',
    price: '285.00',
    rule: 'thirty',
    promised: '2025-09-15',
    links: [{ on: '2025-07-05', serial: 'W33' }],
    cancelled: { on: '2025-08-02', reason: 'Has to save money', refundedOn: '2025-08-04' },
  },
  {
    key: 'P8',
    buyer: 'C32',
    variant: 'CHF',
    wish: 'A wedding present, initials on the spine.',
    ordered: '2025-11-08',
    price: '590.00',
    rule: 'thirty',
    promised: '2026-02-15',
    links: [{ on: '2025-11-15', serial: 'W42' }],
  },
  {
    key: 'P9',
    buyer: 'C33',
    variant: 'CMPB',
    wish: 'Orange liners, sheath with a fire-steel loop.',
    ordered: '2025-12-06',
    price: '510.00',
    rule: 'thirty',
    promised: '2026-03-31',
    links: [],
  },
];

/** Asked for and not agreed: the waiting list. No money hangs on them. */
export interface DemoWish {
  readonly on: string;
  readonly buyer: BuyerKey;
  readonly variant: Variant | null;
  readonly wish: string;
  readonly offered?: { readonly on: string; readonly answerBy: string; readonly price: string };
}

export const wishes: readonly DemoWish[] = [
  {
    on: '2025-10-26',
    buyer: 'C20',
    variant: 'HUNH',
    wish: 'Stag-coloured burl, to match an old fork.',
    offered: { on: '2025-12-28', answerBy: '2026-01-11', price: '445.00' },
  },
  { on: '2025-11-02', buyer: 'C14', variant: 'PET', wish: 'A smaller one for the camp kitchen.' },
  {
    on: '2025-12-13',
    buyer: 'C02',
    variant: null,
    wish: 'A boning knife, flexible. Asked whether you make any.',
  },
];
