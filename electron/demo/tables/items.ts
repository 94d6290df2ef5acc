/** What lies on the racks of the demo workshop. */
import type { Input } from '../../api/contract.ts';
import { parseGrit } from '../../domain/grits.ts';
import type { UnitCode } from '../../domain/units.ts';
import { amount } from '../amounts.ts';
import type { SupplierKey } from './setting.ts';

export interface DemoItem {
  readonly item: Omit<Input<'stock.saveItem'>, 'supplierId' | 'unit'> & { readonly unit: UnitCode };
  readonly supplier: SupplierKey;
  /** Size of one bar, kit or fill in the item's unit. */
  readonly each: string;
  readonly place: string;
}

/** Densities of steel, g/cm³ × 1000; common practice, no source. */
const carbonSteel = 7_850;
const stainlessSteel = 7_750;

const bar = (name: string, thick: string, wide: string, densityMilli: number): DemoItem => ({
  item: {
    name,
    kind: 'steel',
    form: 'length',
    unit: 'in',
    kerfNm: amount('0.0625', 'in'),
    thicknessNm: amount(thick, 'in'),
    widthNm: amount(wide, 'in'),
    densityMilli,
  },
  supplier: 'greyfen',
  each: '48',
  place: 'Steel rack',
});

/** @param grit as it stands on the back of the belt, and the backing behind it */
const belt = (name: string, low: string, grit: string, backing = ''): DemoItem => ({
  item: {
    name: `Belt 2 × 72, ${name}`,
    kind: 'belt',
    gritScale: parseGrit(grit)?.scale ?? null,
    grit,
    backing,
    form: 'piece',
    unit: 'piece',
    pieceWord: 'belt',
    lowLevel: amount(low, 'piece'),
  },
  supplier: 'pellwick',
  each: '1',
  place: 'Belt pegs',
});

const wood = (name: string, unit: 'piece' | 'pair'): DemoItem => ({
  item: { name, kind: 'handle', form: unit, unit, pieceWord: unit === 'pair' ? 'pair' : 'block' },
  supplier: 'thornapple',
  each: '1',
  place: 'Wood shelf',
});

export const items = {
  stainless070: bar('Stainless strip 0.070 × 1.25 in', '0.070', '1.25', stainlessSteel),
  stainless080: bar('Stainless strip 0.080 × 1.5 in', '0.080', '1.5', stainlessSteel),
  crv125: bar('80CrV2 bar 1/8 × 1.5 in', '0.125', '1.5', carbonSteel),
  crv187: bar('80CrV2 bar 3/16 × 2 in', '0.1875', '2', carbonSteel),
  b52100: bar('52100 bar 3/16 × 1.5 in', '0.1875', '1.5', carbonSteel),
  b1084: bar('1084 bar 1/8 × 1.5 in', '0.125', '1.5', carbonSteel),
  nickel: bar('Nickel band-saw steel 0.070 × 1.5 in', '0.070', '1.5', carbonSteel),
  billet: {
    item: {
      name: 'Pattern-welded billet',
      kind: 'steel',
      form: 'weight',
      unit: 'g',
      densityMilli: carbonSteel,
    },
    supplier: 'greyfen',
    each: '1',
    place: 'Steel rack',
  },
  walnut: wood('Walnut scales', 'pair'),
  maple: wood('Maple block', 'piece'),
  burl: wood('Burl block', 'piece'),
  burlPair: wood('Burl scales', 'pair'),
  premium: wood('Premium burl block', 'piece'),
  premiumPair: wood('Premium burl scales', 'pair'),
  laminate: {
    item: {
      name: 'Laminate sheet 12 × 12 × 3/8 in',
      kind: 'handle',
      form: 'area',
      unit: 'sqin',
      thicknessNm: amount('0.375', 'in'),
    },
    supplier: 'nook',
    each: '144',
    place: 'Sheet bin',
  },
  fittings: {
    item: { name: 'Pins, spacers, guard bar, assorted', kind: 'fitting', form: 'worth', unit: 'worth' },
    supplier: 'copperpint',
    each: '1',
    place: 'Pin drawers',
  },
  epoxy: {
    item: {
      name: 'Slow epoxy, 16 oz kit',
      kind: 'adhesive',
      form: 'volume',
      unit: 'floz',
      lowLevel: amount('4', 'floz'),
    },
    supplier: 'copperpint',
    each: '16',
    place: 'Glue shelf',
  },
  leather: {
    item: {
      name: 'Saddle leather 8 oz',
      kind: 'sheath',
      form: 'area',
      unit: 'sqft',
      lowLevel: amount('3', 'sqft'),
    },
    supplier: 'dunmarrow',
    each: '14',
    place: 'Leather roll',
  },
  sheathSundries: {
    item: { name: 'Thread, snaps, dye, assorted', kind: 'sheath', form: 'worth', unit: 'worth' },
    supplier: 'dunmarrow',
    each: '1',
    place: 'Leather drawer',
  },
  B36: belt('36 ceramic Y', '2', '36', 'Y'),
  B60: belt('60 ceramic Y', '2', '60', 'Y'),
  B120: belt('120 ceramic X', '2', '120', 'X'),
  B220: belt('220 aluminium oxide J', '2', '220', 'J'),
  B400: belt('400 aluminium oxide J', '1', '400', 'J'),
  BS4: belt('structured P400', '1', 'P400'),
  BS12: belt('structured P1200', '1', 'P1200'),
  BSC: belt('non-woven fine', '0.5', 'non-woven fine'),
  BW80: belt('handle 80 J', '1', '80', 'J'),
  BW220: belt('handle 220 J', '1', '220', 'J'),
  paper: {
    item: {
      name: 'Abrasive paper, mixed grits',
      kind: 'paper',
      form: 'piece',
      unit: 'piece',
      pieceWord: 'sheet',
      lowLevel: amount('10', 'piece'),
    },
    supplier: 'pellwick',
    each: '1',
    place: 'Paper tray',
  },
  stones: {
    item: {
      name: 'Finishing stones, set of three',
      kind: 'stone',
      form: 'piece',
      unit: 'piece',
      pieceWord: 'set',
    },
    supplier: 'pellwick',
    each: '1',
    place: 'Paper tray',
  },
  oil: {
    item: { name: 'Quench oil', kind: 'oil', form: 'volume', unit: 'gal', incidental: true },
    supplier: 'wickerlee',
    each: '1',
    place: 'Quench tank',
  },
  shopLot: {
    item: {
      name: 'Etchant, gloves, solvent, bits, assorted',
      kind: 'chemical',
      form: 'worth',
      unit: 'worth',
      incidental: true,
    },
    supplier: 'wickerlee',
    each: '1',
    place: 'Etch bench',
  },
  propane: {
    item: { name: 'Propane', kind: 'fuel', form: 'weight', unit: 'lb', incidental: true },
    supplier: 'ashkettle',
    each: '20',
    place: 'Outside',
  },
  packaging: {
    item: {
      name: 'Packaging set',
      kind: 'packaging',
      form: 'piece',
      unit: 'piece',
      pieceWord: 'set',
      lowLevel: amount('5', 'piece'),
    },
    supplier: 'lanternhook',
    each: '1',
    place: 'Packing table',
  },
} as const satisfies Readonly<Record<string, DemoItem>>;

export type ItemKey = keyof typeof items;

/** Bought for the whole shop and never drawn for one knife: each knife carries a usual flat cost instead. */
export const incidental: readonly ItemKey[] = ['oil', 'shopLot', 'propane'];
