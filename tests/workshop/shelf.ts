/** Stock and a model to work with: a stainless bar, walnut pairs, belts, a sheet, glue, an assortment, packaging. */
import type { Input } from '../../electron/api/contract.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import type { Rig } from './rig.ts';

/** An amount in millionths of the currency unit. */
export const micro = (amount: number): number => Math.round(amount * 1_000_000);

const items = {
  bar: {
    name: 'Stainless bar 0.070 × 1.25',
    kind: 'steel',
    form: 'length',
    unit: 'in',
    pieceWord: 'bar',
    kerfNm: toBase(1, 'in') / 16,
  },
  walnut: { name: 'Walnut pair', kind: 'handle', form: 'pair', unit: 'pair' },
  belt: {
    name: 'Belt 36 ceramic',
    kind: 'belt',
    form: 'piece',
    unit: 'piece',
    pieceWord: 'belt',
    lowLevel: 2_000_000,
  },
  sheet: { name: 'Laminate sheet', kind: 'handle', form: 'area', unit: 'sqin', pieceWord: 'sheet' },
  epoxy: { name: 'Epoxy kit', kind: 'adhesive', form: 'volume', unit: 'floz', pieceWord: 'kit' },
  pins: { name: 'Pins and spacers', kind: 'fitting', form: 'worth', unit: 'worth' },
  box: { name: 'Packaging set', kind: 'packaging', form: 'piece', unit: 'piece', pieceWord: 'set' },
} as const satisfies Readonly<Record<string, Input<'stock.saveItem'>>>;

export type ItemKey = keyof typeof items;

export interface Shelf {
  readonly supplierId: string;
  readonly itemIds: Readonly<Record<ItemKey, string>>;
  readonly modelId: string;
  /** Buys one line and answers its lots. */
  buy(key: ItemKey, pieces: number, qtyEach: number, price: number, on?: string): Promise<readonly string[]>;
  /** Plans knives and answers their ids. */
  plan(count?: number): Promise<readonly string[]>;
}

async function saveItems(rig: Rig): Promise<Readonly<Record<ItemKey, string>>> {
  const ids: [string, string][] = [];
  for (const [key, item] of Object.entries(items))
    ids.push([key, (await rig.call('stock.saveItem', item)).id]);
  return Object.fromEntries(ids) as Record<ItemKey, string>;
}

const saveModel = async (rig: Rig, itemIds: Shelf['itemIds']): Promise<string> => {
  const model = await rig.call('builds.saveModel', {
    code: 'PAR',
    name: 'Tessel paring',
    family: 'PAR',
    method: 'belt',
    stages: [
      { code: 'CUT', minutes: 35 },
      { code: 'GR2', minutes: 70 },
      { code: 'FIN', minutes: 75 },
    ],
    parts: [
      {
        label: 'Steel',
        itemId: itemIds.bar,
        use: 'material',
        qty: 7.75 * 25_400_000,
        perBar: 6,
        stageCode: 'CUT',
      },
      { label: 'Handle', itemId: itemIds.walnut, use: 'material', qty: 1_000_000 },
      { label: 'Belt 36', itemId: itemIds.belt, use: 'consumable', qty: 150_000, stageCode: 'GR2' },
    ],
    flats: [
      { label: 'Oil and gloves', use: 'consumable', amountMicro: micro(3.1) },
      { label: 'Kiln power', use: 'energy', amountMicro: micro(0.75) },
    ],
  });
  return model.id;
};

/** Fills the books with items and a model; nothing is bought yet. */
export async function stockShelf(rig: Rig): Promise<Shelf> {
  const supplier = await rig.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
  const itemIds = await saveItems(rig);
  const modelId = await saveModel(rig, itemIds);
  return {
    supplierId: supplier.id,
    itemIds,
    modelId,
    async buy(key, pieces, qtyEach, price, on = '2024-07-02') {
      const line = { itemId: itemIds[key], pieces, qtyEach, priceMicro: micro(price) };
      return (await rig.call('stock.buy', { supplierId: supplier.id, on, lines: [line] })).lotIds;
    },
    async plan(count = 1) {
      return (await rig.call('builds.plan', { modelId, count, on: '2024-07-06' })).ids;
    },
  };
}

/** The first of a list that must have one. */
export function first<T>(list: readonly T[]): T {
  const [value] = list;
  if (value === undefined) throw new Error('the list is empty');
  return value;
}
