/** The models: stage minutes before learning, usual parts, usual costs, list prices. */
import type { Use } from '../../api/stock.ts';
import type { UnitCode } from '../../domain/units.ts';
import type { ItemKey } from './items.ts';

export const variants = ['PAR', 'PET', 'CHF', 'CHFP', 'HUNB', 'HUNH', 'HUNP', 'CMPB', 'CMPH'] as const;
export type Variant = (typeof variants)[number];
type PerVariant<T> = readonly [T, T, T, T, T, T, T, T, T];

/** Models whose blades are rubbed out by hand. */
export const handFinished: readonly Variant[] = ['CHF', 'CHFP', 'HUNH', 'HUNP', 'CMPH'];

export interface DemoModel {
  readonly name: string;
  readonly family: string;
  readonly method: 'belt' | 'paper' | 'stone';
  /** Length of the blade. */
  readonly bladeMm: number;
  readonly steel: string;
  readonly finish: string;
  /** List price from 2024-07-01; null is by quote. */
  readonly price: string | null;
  /** List price from 2025-06-01. */
  readonly priceLater: string | null;
}

export const models: Readonly<Record<Variant, DemoModel>> = {
  PAR: {
    name: 'Tessel paring, full tang',
    family: 'PAR',
    method: 'belt',
    bladeMm: 90,
    steel: 'stainless strip',
    finish: 'belt',
    price: '150.00',
    priceLater: '165.00',
  },
  PET: {
    name: 'Orrin petty, hidden tang, ferrule',
    family: 'PET',
    method: 'belt',
    bladeMm: 140,
    steel: 'stainless strip',
    finish: 'belt',
    price: '265.00',
    priceLater: '285.00',
  },
  CHF: {
    name: 'Quenby chef, forged, hand-finished',
    family: 'CHF',
    method: 'paper',
    bladeMm: 220,
    steel: '52100',
    finish: 'hand-rubbed',
    price: '540.00',
    priceLater: '590.00',
  },
  CHFP: {
    name: 'Quenby chef, pattern-welded',
    family: 'CHF',
    method: 'stone',
    bladeMm: 220,
    steel: 'pattern-welded, 240 layers',
    finish: 'hand-rubbed and etched',
    price: null,
    priceLater: null,
  },
  HUNB: {
    name: 'Fallow hunter, belt finish, sheath',
    family: 'HUN',
    method: 'belt',
    bladeMm: 100,
    steel: '80CrV2',
    finish: 'belt',
    price: '325.00',
    priceLater: '345.00',
  },
  HUNH: {
    name: 'Fallow hunter, hand finish, bolsters, sheath',
    family: 'HUN',
    method: 'paper',
    bladeMm: 100,
    steel: '80CrV2',
    finish: 'hand-rubbed',
    price: '420.00',
    priceLater: '445.00',
  },
  HUNP: {
    name: 'Fallow hunter, pattern-welded',
    family: 'HUN',
    method: 'stone',
    bladeMm: 100,
    steel: 'pattern-welded, 240 layers',
    finish: 'hand-rubbed and etched',
    price: null,
    priceLater: null,
  },
  CMPB: {
    name: 'Harrock camp, belt finish, sheath',
    family: 'CMP',
    method: 'belt',
    bladeMm: 230,
    steel: '80CrV2',
    finish: 'belt',
    price: '480.00',
    priceLater: '510.00',
  },
  CMPH: {
    name: 'Harrock camp, hand finish, sheath',
    family: 'CMP',
    method: 'stone',
    bladeMm: 230,
    steel: '80CrV2',
    finish: 'hand-rubbed',
    price: '560.00',
    priceLater: '590.00',
  },
};

/** Attended minutes by stage, in the order of work. */
const stageMinutes: readonly (readonly [code: string, minutes: PerVariant<number>])[] = [
  ['DES', [5, 10, 20, 20, 10, 15, 20, 15, 15]],
  ['CUT', [35, 40, 20, 20, 45, 45, 35, 60, 60]],
  ['FRG', [0, 0, 110, 95, 0, 0, 80, 0, 0]],
  ['GR1', [0, 0, 70, 70, 55, 60, 60, 95, 95]],
  ['HTA', [15, 15, 25, 25, 15, 15, 20, 20, 20]],
  ['STR', [5, 10, 20, 20, 5, 5, 10, 10, 10]],
  ['GR2', [70, 105, 150, 170, 65, 65, 75, 120, 120]],
  ['BLT', [25, 35, 0, 0, 40, 0, 0, 55, 0]],
  ['HND', [0, 0, 300, 240, 0, 210, 200, 0, 260]],
  ['ETC', [0, 0, 0, 60, 0, 0, 50, 0, 0]],
  ['FIT', [0, 45, 55, 70, 0, 75, 85, 0, 0]],
  ['HDL', [55, 80, 85, 85, 60, 65, 70, 75, 75]],
  ['FIN', [75, 95, 110, 110, 90, 95, 95, 110, 110]],
  ['SHP', [25, 30, 40, 40, 25, 25, 25, 55, 55]],
  ['SHE', [0, 0, 0, 0, 110, 120, 130, 165, 165]],
  ['PHO', [15, 20, 25, 35, 20, 20, 30, 20, 20]],
  ['LST', [15, 20, 25, 30, 20, 20, 30, 20, 20]],
  ['PCK', [20, 20, 20, 20, 20, 20, 20, 25, 25]],
  ['MSG', [5, 10, 15, 20, 10, 15, 20, 10, 10]],
];

/** A usual part: how much of what, and the stage it is taken at. */
export interface DemoPart {
  readonly label: string;
  readonly item: ItemKey;
  readonly use: Use;
  readonly qty: string;
  readonly unit: UnitCode;
  readonly perBar: number | null;
  readonly stage: string;
}

interface PartColumn {
  readonly label: string;
  readonly use: Use;
  readonly stage: string;
  /** Item, amount, unit; null where the variant has none. A fourth entry plans the bar for so many blanks. */
  readonly of: PerVariant<readonly [ItemKey, string, UnitCode, number?] | null>;
}

const money = (item: ItemKey, ...amounts: PerVariant<string>): PartColumn['of'] =>
  amounts.map((text) =>
    text === '' ? null : ([item, text, 'worth'] as const),
  ) as unknown as PartColumn['of'];

const columns: readonly PartColumn[] = [
  {
    label: 'Steel',
    use: 'material',
    stage: 'CUT',
    of: [
      ['stainless070', '7.75', 'in', 6],
      ['stainless080', '11.25', 'in', 4],
      ['b52100', '7.25', 'in', 6],
      ['billet', '380', 'g'],
      ['crv125', '9.25', 'in', 5],
      ['crv125', '9.25', 'in', 5],
      ['billet', '300', 'g'],
      ['crv187', '14.5', 'in', 3],
      ['crv187', '14.5', 'in', 3],
    ],
  },
  {
    label: 'Handle',
    use: 'material',
    stage: 'HDL',
    of: [
      ['walnut', '1', 'pair'],
      ['maple', '1', 'piece'],
      ['burl', '1', 'piece'],
      ['premium', '1', 'piece'],
      ['walnut', '1', 'pair'],
      ['burlPair', '1', 'pair'],
      ['premiumPair', '1', 'pair'],
      ['laminate', '24', 'sqin'],
      ['laminate', '24', 'sqin'],
    ],
  },
  {
    label: 'Pins and ferrule',
    use: 'material',
    stage: 'HDL',
    of: money('fittings', '1.20', '4.20', '4.20', '6.50', '2.60', '3.60', '5.60', '3.60', '3.60'),
  },
  {
    label: 'Guard, spacer, liner',
    use: 'material',
    stage: 'HDL',
    of: money('fittings', '0.90', '2.80', '2.80', '4.70', '0.40', '7.92', '7.92', '0.75', '0.75'),
  },
  {
    label: 'Epoxy',
    use: 'material',
    stage: 'HDL',
    of: variants.map(() => ['epoxy', '0.5', 'floz'] as const) as unknown as PartColumn['of'],
  },
  {
    label: 'Leather',
    use: 'material',
    stage: 'SHE',
    of: [
      null,
      null,
      null,
      null,
      ['leather', '1.0', 'sqft'],
      ['leather', '1.0', 'sqft'],
      ['leather', '1.0', 'sqft'],
      ['leather', '1.9', 'sqft'],
      ['leather', '1.9', 'sqft'],
    ],
  },
  {
    label: 'Sheath sundries',
    use: 'material',
    stage: 'SHE',
    of: money('sheathSundries', '', '', '', '', '4.50', '4.50', '5.50', '6.20', '6.20'),
  },
  {
    label: 'Packaging',
    use: 'packaging',
    stage: 'PCK',
    of: variants.map(() => ['packaging', '1', 'piece'] as const) as unknown as PartColumn['of'],
  },
];

/** Fraction of one belt, sheet or set that a knife uses up. */
const wear: readonly (readonly [item: ItemKey, stage: string, of: PerVariant<string>])[] = [
  ['B36', 'GR2', ['0.15', '0.25', '0.60', '0.70', '0.35', '0.35', '0.45', '0.70', '0.70']],
  ['B60', 'GR2', ['0.20', '0.30', '0.45', '0.50', '0.35', '0.35', '0.35', '0.60', '0.60']],
  ['B120', 'GR2', ['0.20', '0.25', '0.35', '0.40', '0.25', '0.25', '0.30', '0.40', '0.40']],
  ['B220', 'GR2', ['0.15', '0.20', '0.35', '0.35', '0.25', '0.25', '0.25', '0.35', '0.35']],
  ['B400', 'GR2', ['', '', '0.25', '0.30', '0.20', '0.20', '0.25', '0.25', '0.30']],
  ['BS4', 'BLT', ['0.12', '0.15', '', '', '0.15', '', '', '0.20', '']],
  ['BS12', 'BLT', ['0.10', '0.12', '', '', '0.12', '', '', '0.15', '']],
  ['BSC', 'BLT', ['0.03', '0.05', '', '', '0.05', '', '', '0.08', '']],
  ['BW80', 'FIN', ['0.15', '0.18', '0.20', '0.20', '0.20', '0.20', '0.20', '0.25', '0.25']],
  ['BW220', 'FIN', ['0.15', '0.20', '0.22', '0.22', '0.20', '0.22', '0.22', '0.25', '0.25']],
  ['paper', 'HND', ['', '', '8.5', '4.5', '', '6.0', '3.5', '', '3.5']],
  ['stones', 'HND', ['', '', '', '0.12', '', '', '0.08', '', '0.10']],
];

/** Paper and stones of the knives that were rubbed with paper, before the maker bought stones. */
const stoneWear: Readonly<Partial<Record<Variant, Readonly<Partial<Record<ItemKey, string>>>>>> = {
  CHF: { paper: '4.0', stones: '0.11' },
  HUNH: { paper: '3.0', stones: '0.07' },
};

const wearLabels: Readonly<Partial<Record<ItemKey, string>>> = {
  paper: 'Abrasive paper',
  stones: 'Finishing stones',
};

/** Usual costs with nothing on the rack behind them. */
export const flats: readonly {
  readonly label: string;
  readonly use: Use;
  readonly of: PerVariant<string>;
}[] = [
  {
    label: 'Oil, gloves, solvent, bits, compound',
    use: 'consumable',
    of: ['3.10', '4.60', '6.40', '9.20', '4.90', '5.40', '8.60', '6.70', '7.20'],
  },
  {
    label: 'Propane and kiln current',
    use: 'energy',
    of: ['0.75', '0.85', '3.95', '3.60', '0.80', '0.80', '3.30', '1.05', '1.05'],
  },
];

/** Variants whose usual parts changed with the stones. */
export const changedByStones = Object.keys(stoneWear) as readonly Variant[];

/**
 * The usual parts of a variant, in the order of the cost sheet.
 * @param stones as they are since hand finishing is done with stones
 */
export function partsOf(variant: Variant, stones = false): readonly DemoPart[] {
  const at = variants.indexOf(variant);
  const parts = columns.flatMap(({ label, use, stage, of }): DemoPart[] => {
    const entry = of[at];
    if (entry == null) return [];
    const [item, qty, unit, perBar = null] = entry;
    return [{ label, use, stage, item, qty, unit, perBar }];
  });
  const worn = wear.flatMap(([item, stage, of]): DemoPart[] => {
    const qty = (stones ? stoneWear[variant]?.[item] : undefined) ?? of[at] ?? '';
    if (qty === '') return [];
    return [
      {
        label: wearLabels[item] ?? 'Belts',
        use: 'consumable',
        stage,
        item,
        qty,
        unit: 'piece',
        perBar: null,
      },
    ];
  });
  return [...parts, ...worn];
}

/** Attended minutes of a variant by stage, stages it does not have left out. */
export function minutesOf(variant: Variant): readonly (readonly [code: string, minutes: number])[] {
  const at = variants.indexOf(variant);
  return stageMinutes.map(([code, of]) => [code, of[at] ?? 0] as const).filter(([, minutes]) => minutes > 0);
}

/** What can be chosen on top of a model, with its price. */
export const optionsOf: Readonly<
  Partial<Record<Variant, readonly (readonly [name: string, price: string])[]>>
> = {
  PET: [['Wooden blade guard', '38.00']],
  CHF: [
    ['Wooden blade guard', '55.00'],
    ['Initials on the spine', '25.00'],
    ['Octagonal handle', '40.00'],
  ],
  HUNH: [
    ['Sheath for the left side', '0.00'],
    ['Fire-steel loop on the sheath', '12.00'],
  ],
  CMPB: [['Fire-steel loop on the sheath', '12.00']],
};

/** Of stainless steel; every other model is of carbon steel. */
const stainless: readonly Variant[] = ['PAR', 'PET'];

/** How a knife of the model is looked after. */
export const careOf = (variant: Variant): string =>
  stainless.includes(variant)
    ? 'Wash by hand and dry at once. The handle likes a little oil now and then.'
    : 'Carbon steel: wipe it during work, wash by hand, dry at once, and oil it before it rests. It will take on a grey or blue bloom, which is no fault.';
