/** Contract of the Stock and Consumables areas: suppliers, items, purchases, lots and the ledger of movements. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** How an item is measured; the domain knows the same forms. */
export const forms = ['length', 'area', 'weight', 'volume', 'piece', 'pair', 'worth'] as const;
export type ItemForm = (typeof forms)[number];
/** What an item is, in the trade's words; decides which line of the cost sheet it lands on. */
export const itemKinds = [
  'steel',
  'handle',
  'fitting',
  'adhesive',
  'sheath',
  'blank',
  'belt',
  'paper',
  'stone',
  'disc',
  'oil',
  'fuel',
  'chemical',
  'sundry',
  'packaging',
] as const;
export type ItemKind = (typeof itemKinds)[number];
/** Kinds that are used up across knives and live on the Consumables screen. */
export const consumableKinds = [
  'belt',
  'paper',
  'stone',
  'disc',
  'oil',
  'fuel',
  'chemical',
  'sundry',
] as const satisfies readonly ItemKind[];
/** What a draw for a knife counts as on its cost sheet. */
export const uses = ['material', 'consumable', 'energy', 'packaging'] as const;
export type Use = (typeof uses)[number];
/** Why stock came or went. */
export const movementKinds = [
  'receipt',
  'draw',
  'scrap',
  'count',
  'personal',
  'sample',
  'return',
  'shortEnd',
  'reversal',
  /** Came out of a making, went into one. */
  'made',
  'intoMaking',
  /** An offcut gets a lot of its own: out of one, into the other. */
  'split',
  /** Values of an item's lots drawn level for the moving average; no quantity moves. */
  'evenOut',
  /** Taken into use, not yet shared over knives. */
  'opened',
  /** Oil poured into a bath. */
  'intoBath',
] as const;
export type MovementKind = (typeof movementKinds)[number];
/** How draws choose a lot and what they cost: oldest first, a lot named by the person, or oldest first at the moving average. */
export const costings = ['fifo', 'specific', 'average'] as const;
export type Costing = (typeof costings)[number];
/** Scales of coated abrasives; grades of different scales never merge: P400 is coarser than 400. */
export const gritScales = ['fepa', 'cami', 'micron', 'other'] as const;
export type GritScale = (typeof gritScales)[number];

export interface Supplier {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly website: string;
  readonly leadDays: number;
  readonly note: string;
  readonly archived: boolean;
}

export interface Item {
  readonly id: string;
  readonly name: string;
  readonly kind: ItemKind;
  readonly form: ItemForm;
  /** Unit the item is shown and asked for in, e.g. `in`, `ft`, `g`, `oz`, `sqft`, `piece`. */
  readonly unit: string;
  /** What one piece is called, e.g. "belt", "sheet", "bar". */
  readonly pieceWord: string;
  readonly costing: Costing;
  /** Below this much left, a short end's value rests in the pieces cut. Zero for none. */
  readonly usefulRemnant: number;
  /** Usual saw kerf for cutting by length, nanometre. */
  readonly kerfNm: number;
  readonly thicknessNm: number | null;
  readonly widthNm: number | null;
  /** Grams per cubic centimetre × 1000, for weights from dimensions. */
  readonly densityMilli: number | null;
  readonly supplierId: string | null;
  /** Warn when less than this is left; zero for never. */
  readonly lowLevel: number;
  readonly note: string;
  readonly archived: boolean;
  /** How its stock falls: by what knives take, or when a new one is opened. */
  readonly consumedBy: 'use' | 'opening';
  readonly gritScale: GritScale | null;
  readonly grit: string;
  readonly backing: string;
  /** A supply of which no count is kept: an expense when bought, never stock in the year's figures. */
  readonly incidental: boolean;
}

export interface ItemRow extends Item {
  readonly supplierName: string | null;
  readonly qtyLeft: number;
  readonly valueLeftMicro: number;
  readonly lotsLeft: number;
  /** Last price paid per whole `unit`, freight included; null when never bought. */
  readonly lastUnitPriceMicro: number | null;
  readonly low: boolean;
}

export interface LotRow {
  readonly id: string;
  /** Short name to write on the rack, unique, e.g. `L-0042`. */
  readonly tag: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly kind: ItemKind;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  readonly supplierName: string | null;
  readonly receivedOn: string;
  readonly heatNumber: string;
  readonly place: string;
  readonly qtyReceived: number;
  readonly valueReceivedMicro: number;
  readonly qtyLeft: number;
  readonly valueLeftMicro: number;
  /** Size of a sheet as it lies on the rack. */
  readonly lengthNm: number | null;
  readonly widthNm: number | null;
  readonly makingId: string | null;
  readonly makingTag: string | null;
  /** The lot this was cut off from. */
  readonly parentId: string | null;
  readonly parentTag: string | null;
  /** Scientific name, listing, origin and document number of a material somebody may ask papers for. */
  readonly species: string;
  readonly listing: string;
  readonly origin: string;
  readonly paperNumber: string;
}

export interface Movement {
  readonly id: string;
  readonly seq: number;
  readonly on: string;
  readonly kind: MovementKind;
  readonly lotId: string;
  readonly lotTag: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  /** Signed: in is positive, out is negative. */
  readonly qty: number;
  readonly valueMicro: number;
  readonly use: Use | null;
  readonly stageCode: string | null;
  readonly buildId: string | null;
  readonly buildSerial: string | null;
  /** Length of the blank itself, without kerf and its share of the short end. */
  readonly netQty: number | null;
  readonly reason: string;
  /** The movement this one takes back. */
  readonly reversesId: string | null;
  /** The movement that took this one back. */
  readonly reversedById: string | null;
  readonly makingId: string | null;
  readonly makingTag: string | null;
  readonly openingId: string | null;
  readonly rung: 1 | 2 | 3 | 4 | null;
}

export interface LotDetail extends LotRow {
  readonly purchaseId: string | null;
  readonly note: string;
  readonly movements: readonly Movement[];
  /** Knives that came out of this lot. */
  readonly builds: readonly { readonly id: string; readonly serial: string; readonly title: string }[];
}

export interface ItemDetail extends ItemRow {
  readonly lots: readonly LotRow[];
  readonly movements: readonly Movement[];
}

export interface PurchaseRow {
  readonly id: string;
  readonly on: string;
  readonly supplierId: string;
  readonly supplierName: string;
  readonly reference: string;
  readonly lines: number;
  readonly goodsMicro: number;
  readonly freightMicro: number;
  readonly freightRule: 'spread' | 'overhead';
  readonly totalMicro: number;
}

export interface PurchaseLine {
  readonly id: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  readonly pieces: number;
  readonly qtyEach: number;
  readonly priceMicro: number;
  readonly freightShareMicro: number;
  readonly heatNumber: string;
  readonly place: string;
  readonly lots: readonly LotRow[];
  /** Ids of those lots whose receipt was taken back: they never came, or went into the books by mistake. */
  readonly takenBack: readonly string[];
}

export interface PurchaseDetail extends PurchaseRow {
  /** Value of the lots whose receipt still stands, as it came in: freight included where it was spread. */
  readonly standsMicro: number;
  readonly note: string;
  readonly lineItems: readonly PurchaseLine[];
}

export interface CutPlan {
  /** What each blank takes off the bar, in order: its length, kerf and share of the short end. */
  readonly blanks: readonly { readonly qty: number; readonly valueMicro: number }[];
  readonly leftQty: number;
  readonly leftValueMicro: number;
  /** Metal that goes to the scrap bin: kerf and a short end below the least useful remnant. */
  readonly shortEnd: number;
  readonly sentence: string;
}

const itemFields = {
  name: f.requiredText,
  kind: z.enum(itemKinds),
  form: z.enum(forms),
  unit: z.string().min(1).max(12),
  pieceWord: f.shortText.default(''),
  costing: z.enum(costings).default('fifo'),
  usefulRemnant: f.quantityOrZero.default(0),
  kerfNm: f.quantityOrZero.default(0),
  thicknessNm: f.quantity.nullable().default(null),
  widthNm: f.quantity.nullable().default(null),
  densityMilli: z.int().min(1).max(30_000).nullable().default(null),
  supplierId: f.id.nullable().default(null),
  lowLevel: f.quantityOrZero.default(0),
  note: f.longText.default(''),
  archived: z.boolean().default(false),
  consumedBy: z.enum(['use', 'opening']).default('use'),
  gritScale: z.enum(gritScales).nullable().default(null),
  grit: z.string().trim().max(20).default(''),
  backing: z.string().trim().max(20).default(''),
  incidental: z.boolean().default(false),
};
const cutFields = {
  lotId: f.id,
  blankLength: f.quantity,
  kerf: f.quantityOrZero,
  /** `by-length`: pay for what is cut. `whole-bar`: the bar is planned for so many blanks and each carries an equal share. */
  sharing: z.enum(['by-length', 'whole-bar']),
  blanksPerBar: z.int().min(1).max(500).optional(),
};

/** Every call of the Stock and Consumables areas. */
export const stockEndpoints = {
  'stock.suppliers': query(z.strictObject({}))<readonly Supplier[]>(),
  'stock.saveSupplier': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      email: f.shortText.default(''),
      phone: f.shortText.default(''),
      website: f.shortText.default(''),
      leadDays: z.int().min(0).max(730).default(0),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<Supplier>(),
  'stock.items': query(
    z.strictObject({
      text: f.shortText.default(''),
      kinds: z.array(z.enum(itemKinds)).default([]),
      includeArchived: z.boolean().default(false),
    }),
  )<readonly ItemRow[]>(),
  'stock.item': query(z.strictObject({ id: f.id }))<ItemDetail>(),
  'stock.saveItem': command(z.strictObject({ id: f.id.optional(), ...itemFields }))<Item>(),
  'stock.lots': query(
    z.strictObject({
      text: f.shortText.default(''),
      itemId: f.id.optional(),
      kinds: z.array(z.enum(itemKinds)).default([]),
      onlyLeft: z.boolean().default(true),
      ...f.page,
    }),
  )<f.Page<LotRow>>(),
  'stock.lot': query(z.strictObject({ id: f.id }))<LotDetail>(),
  'stock.purchases': query(
    z.strictObject({
      text: f.shortText.default(''),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
      ...f.page,
    }),
  )<f.Page<PurchaseRow>>(),
  'stock.purchase': query(z.strictObject({ id: f.id }))<PurchaseDetail>(),
  'stock.buy': command(
    z.strictObject({
      supplierId: f.id,
      on: f.isoDate,
      reference: f.shortText.default(''),
      freightMicro: f.microPositive.default(0),
      freightRule: z.enum(['spread', 'overhead']).default('spread'),
      note: f.longText.default(''),
      lines: z
        .array(
          z.strictObject({
            itemId: f.id,
            /** How many bars, sheets, belts, kits. Bars and sheets become one lot each; everything else one lot. */
            pieces: z.int('Write how many.').min(1, 'At least one.').max(10_000),
            qtyEach: f.quantity,
            /** For the whole line, before freight. */
            priceMicro: f.microPositive,
            heatNumber: f.shortText.default(''),
            place: f.shortText.default(''),
            /** Size of each sheet of an item by area; `qtyEach` is then length × width. */
            sheet: z.strictObject({ lengthNm: f.quantity, widthNm: f.quantity }).optional(),
          }),
        )
        .min(1, 'A purchase needs at least one line.')
        .max(500),
    }),
  )<{ readonly purchaseId: string; readonly lotIds: readonly string[] }>(),
  'stock.draw': command(
    z.strictObject({
      buildId: f.id,
      itemId: f.id,
      /** Leave out to take the oldest first. */
      lotId: f.id.optional(),
      qty: f.quantity,
      use: z.enum(uses),
      stageCode: f.shortText.optional(),
      on: f.isoDate,
      reason: f.shortText.default(''),
    }),
  )<{ readonly movementIds: readonly string[]; readonly valueMicro: number }>(),
  'stock.planCut': query(z.strictObject({ ...cutFields, blanks: z.int().min(1).max(100) }))<CutPlan>(),
  'stock.cut': command(
    z.strictObject({
      ...cutFields,
      buildIds: z.array(f.id).min(1, 'Choose the knives to cut for.').max(100),
      on: f.isoDate,
    }),
  )<CutPlan>(),
  'stock.takeOut': command(
    z.strictObject({
      lotId: f.id,
      kind: z.enum(['scrap', 'personal', 'sample', 'return']),
      qty: f.quantity,
      reason: f.requiredText,
      on: f.isoDate,
    }),
  )<Movement>(),
  'stock.count': command(
    z.strictObject({ lotId: f.id, countedQty: f.quantityOrZero, reason: f.requiredText, on: f.isoDate }),
  )<Movement | null>(),
  'stock.reverse': command(z.strictObject({ movementId: f.id, reason: f.requiredText }))<Movement>(),
  'stock.moveLot': command(
    z.strictObject({
      lotId: f.id,
      place: f.shortText,
      heatNumber: f.shortText,
      note: f.longText,
      species: f.shortText.optional(),
      listing: f.shortText.optional(),
      origin: f.shortText.optional(),
      paperNumber: f.shortText.optional(),
    }),
  )<LotRow>(),
  'stock.movements': query(
    z.strictObject({
      itemId: f.id.optional(),
      buildId: f.id.optional(),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
      ...f.page,
    }),
  )<f.Page<Movement>>(),
} as const;
