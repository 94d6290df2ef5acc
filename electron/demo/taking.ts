/** What goes into a knife at the end of a stage: usual parts, what came short, usual costs. */
import { mulDiv } from '../domain/integers.ts';
import type { ModelPart } from '../api/builds.ts';
import { amount, micro } from './amounts.ts';
import { useBelt } from './belts.ts';
import { idOf, type Ledger } from './ledger.ts';
import type { DemoBuild } from './tables/builds.ts';
import { items, type ItemKey } from './tables/items.ts';

/** What a unit of an assortment, of leather or of paper cost at the first purchase: it never changed. */
const priceOf: Readonly<Partial<Record<ItemKey, { readonly price: string; readonly per: number }>>> = {
  fittings: { price: '1.00', per: 1_000_000 },
  sheathSundries: { price: '1.00', per: 1_000_000 },
  leather: { price: '11.50', per: amount('1', 'sqft') },
  paper: { price: '1.05', per: 1_000_000 },
  packaging: { price: '6.80', per: 1_000_000 },
};

const keyOf = (ledger: Ledger, itemId: string): ItemKey => {
  const found = (Object.keys(items) as ItemKey[]).find((key) => ledger.house.items[key] === itemId);
  if (found === undefined) throw new Error('A part names an item that is not in the tables');
  return found;
};

/** The share of the usual belts a knife that went no further used up. */
const qtyOf = (build: DemoBuild, part: ModelPart, key: ItemKey): number =>
  build.belts !== undefined && items[key].item.kind === 'belt'
    ? mulDiv(part.qty, micro(build.belts), 1_000_000)
    : part.qty;

interface Taken {
  readonly partId: string;
  readonly qty: number;
}

/** Takes what there is and charges the rest, to come off the next purchase. */
async function split(
  ledger: Ledger,
  build: DemoBuild,
  part: ModelPart,
  key: ItemKey,
  on: string,
): Promise<Taken[]> {
  const wanted = qtyOf(build, part, key);
  const left = ledger.left.get(key) ?? 0;
  const qty = Math.min(wanted, left);
  ledger.left.set(key, left - qty);
  const short = wanted - qty;
  if (short > 0) {
    const price = priceOf[key];
    if (price === undefined) throw new Error(`${part.itemName} runs out at ${build.serial}`);
    ledger.owed.set(key, (ledger.owed.get(key) ?? 0) + short);
    await ledger.ask('builds.charge', {
      buildId: idOf(ledger, build.serial),
      on,
      label: part.label,
      use: part.use,
      amountMicro: mulDiv(micro(price.price), short, price.per),
      rung: 2,
    });
  }
  return qty > 0 ? [{ partId: part.id, qty }] : [];
}

async function chargeOther(ledger: Ledger, build: DemoBuild, on: string): Promise<void> {
  if (build.other === undefined) return;
  await ledger.ask('builds.charge', {
    buildId: idOf(ledger, build.serial),
    on,
    label: 'Oil, gloves, solvent, bits, compound',
    use: 'consumable',
    amountMicro: micro(build.other),
    rung: 1,
  });
}

/** Belts of a knife that never saw the grinder again are booked with its last stage. */
const stageOfWear = (build: DemoBuild, part: ModelPart, key: ItemKey): string | null => {
  const last = build.stagesDone?.at(-1);
  if (build.belts === undefined || items[key].item.kind !== 'belt') return part.stageCode;
  return last ?? 'SHP';
};

/**
 * Takes the usual parts of the stages that end on a day; steel was cut before, a billet is weighed out.
 * The flat costs are booked with the rough grind after hardening, or with the last stage of a knife that ends earlier.
 */
export async function take(
  ledger: Ledger,
  build: DemoBuild,
  on: string,
  stages: readonly string[],
): Promise<void> {
  const model = ledger.house.models[build.variant];
  const lastStage = build.stagesDone?.at(-1);
  const flatsNow = lastStage === undefined ? stages.includes('GR2') : stages.includes(lastStage);
  const wanted = model.parts
    .map((part) => ({ part, key: keyOf(ledger, part.itemId) }))
    .filter(
      ({ part, key }) => part.stageCode !== 'CUT' && stages.includes(stageOfWear(build, part, key) ?? ''),
    );
  const parts: Taken[] = [];
  for (const { part, key } of wanted) parts.push(...(await split(ledger, build, part, key, on)));
  const flatIds = flatsNow
    ? model.flats
        .filter((flat) => build.other === undefined || flat.use !== 'consumable')
        .map((flat) => flat.id)
    : [];
  if (parts.length + flatIds.length > 0) {
    await ledger.ask('builds.takeUsual', { id: idOf(ledger, build.serial), on, parts, flatIds });
  }
  if (flatsNow) await chargeOther(ledger, build, on);
  for (const { part, key } of wanted) {
    if (items[key].item.kind !== 'belt') continue;
    const use = {
      itemId: part.itemId,
      buildId: idOf(ledger, build.serial),
      stageCode: part.stageCode ?? 'GR2',
      on,
    };
    await useBelt(ledger.ask, ledger.belts, use, qtyOf(build, part, key));
  }
}
