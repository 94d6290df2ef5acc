/** Sets the demo workshop up: who it is, places, suppliers, stock items, models, buyers. */
import type { ModelDetail } from '../api/builds.ts';
import type { Output } from '../api/contract.ts';
import { amount, cents, micro } from './amounts.ts';
import type { Ask } from './desk.ts';
import { setUpFires } from './fires.ts';
import { items, type DemoItem, type ItemKey } from './tables/items.ts';
import {
  careOf,
  flats,
  minutesOf,
  models,
  optionsOf,
  partsOf,
  variants,
  type Variant,
} from './tables/models.ts';
import { buyers, type BuyerKey, type Where } from './tables/people.ts';
import { channelName } from './tables/sales.ts';
import { otherPlaces, suppliers, workshop, type SupplierKey } from './tables/setting.ts';
import { supporterLevel } from './tables/supporters.ts';

type Ids<K extends string> = Readonly<Record<K, string>>;

/** Identifiers of what was set up, by the keys of the tables. */
export interface House {
  readonly suppliers: Ids<SupplierKey>;
  readonly items: Ids<ItemKey>;
  readonly models: Readonly<Record<Variant, ModelDetail>>;
  readonly places: Ids<Where>;
  readonly buyers: Ids<BuyerKey>;
  readonly channelId: string;
  readonly levelId: string;
}

/** Makes one thing per key, in the order of the table. */
async function each<K extends string, V, R>(
  table: Readonly<Record<K, V>>,
  make: (key: K, value: V) => Promise<R>,
) {
  const made: Partial<Record<K, R>> = {};
  for (const key of Object.keys(table) as K[]) made[key] = await make(key, table[key]);
  return made as Readonly<Record<K, R>>;
}

/** A model as the tables say. @param stones since hand finishing is done with stones */
export const modelInput = (variant: Variant, itemIds: Ids<ItemKey>, stones = false) => {
  const { name, family, method, bladeMm, steel, finish } = models[variant];
  const at = variants.indexOf(variant);
  return {
    code: variant,
    name,
    family,
    method,
    bladeNm: amount(String(bladeMm), 'mm'),
    steel,
    finish,
    stages: minutesOf(variant).map(([code, minutes]) => ({ code, minutes })),
    parts: partsOf(variant, stones).map((part) => ({
      label: part.label,
      itemId: itemIds[part.item],
      use: part.use,
      qty: amount(part.qty, part.unit),
      perBar: part.perBar,
      stageCode: part.stage,
    })),
    flats: flats.map(({ label, use, of }) => ({ label, use, amountMicro: micro(of[at] ?? '0') })),
  };
};

async function makeModel(ask: Ask, variant: Variant, itemIds: Ids<ItemKey>): Promise<ModelDetail> {
  const options = (optionsOf[variant] ?? []).map(([name, price]) => ({ name, priceMinor: cents(price) }));
  const model = await ask('builds.saveModel', {
    ...modelInput(variant, itemIds),
    options,
    care: careOf(variant),
  });
  const { price } = models[variant];
  if (price === null) return model;
  return ask('builds.setPrice', { modelId: model.id, from: workshop.labourFrom, priceMinor: cents(price) });
}

async function findChannel(ask: Ask): Promise<string> {
  const channels: Output<'workshop.channels'> = await ask('workshop.channels', {});
  const known = channels.find((channel) => channel.name === channelName);
  if (known !== undefined) return known.id;
  const rule = { name: channelName, feePpm: 29_000, feeFixedMinor: 30, abroadExtraPpm: 15_000 };
  return (await ask('workshop.saveChannel', rule)).id;
}

/** Everything that stands before the first day at the bench. */
export async function setUpHouse(ask: Ask): Promise<House> {
  const home = (await ask('workshop.setUp', workshop)).homeTaxPlaceId;
  // Calendar years; the first one is short.
  await ask('year.saveRule', { fromOn: workshop.labourFrom, month: 1, day: 1 });
  const away = (await ask('workshop.saveTaxPlace', otherPlaces.away)).id;
  const abroad = (await ask('workshop.saveTaxPlace', otherPlaces.abroad)).id;
  const places = { home, away, abroad };
  const supplierIds = await each(
    suppliers,
    async (_key, supplier) => (await ask('stock.saveSupplier', supplier)).id,
  );
  const table: Readonly<Record<ItemKey, DemoItem>> = items;
  const itemIds = await each(table, async (_key, { item, supplier }) => {
    const saved = await ask('stock.saveItem', { ...item, supplierId: supplierIds[supplier] });
    return saved.id;
  });
  await setUpFires(ask, itemIds);
  const modelDetails = await each(models, (variant) => makeModel(ask, variant, itemIds));
  const buyerIds = await each(buyers, async (_key, { buyer, where }) => {
    const saved = await ask('selling.saveBuyer', { ...buyer, taxPlaceId: places[where] });
    return saved.id;
  });
  const channelId = await findChannel(ask);
  const { perMonth, ...level } = supporterLevel;
  const levelId = (await ask('buyers.saveLevel', { ...level, perMonthMinor: cents(perMonth) })).id;
  return {
    suppliers: supplierIds,
    items: itemIds,
    models: modelDetails,
    places,
    buyers: buyerIds,
    channelId,
    levelId,
  };
}
