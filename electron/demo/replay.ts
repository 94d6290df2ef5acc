/** What the maker did, day by day, as steps that each ask the workshop once or a few times. */
import type { WorkKind } from '../api/hours.ts';
import { addDays } from '../domain/calendar.ts';
import { allocate, mulDiv } from '../domain/integers.ts';
import { amount, cents, micro, microTimes } from './amounts.ts';
import { type BeltsInUse, useBelt } from './belts.ts';
import type { Ask } from './desk.ts';
import { minutesFor } from './learning.ts';
import { pictureOf, type Picture } from './pictures/knives.ts';
import { planBatch, type DayBook, type PlannedSession } from './sessions.ts';
import type { House } from './set-up.ts';
import { batches, type DemoBatch, type DemoBuild } from './tables/builds.ts';
import { incidental, items, type DemoItem, type ItemKey } from './tables/items.ts';
import { models, partsOf, type Variant } from './tables/models.ts';
import { otherMinutes, otherWeeks, otherWork } from './tables/other-work.ts';
import { purchases, type DemoPurchase } from './tables/purchases.ts';
import { buyers, sales, type DemoSale } from './tables/sales.ts';
import { workshop } from './tables/setting.ts';

/** What is known while the half year is replayed: identifiers by serial and item. */
export interface Ledger {
  readonly ask: Ask;
  readonly house: House;
  readonly buildIds: Map<string, string>;
  readonly lotIds: Map<ItemKey, string[]>;
  /** By item. */
  readonly belts: BeltsInUse;
  /** Drawn once per model. */
  readonly pictures: Map<Variant, Promise<Picture>>;
}

/** One thing done on a day. Of one day, the lower order comes first. */
export interface Step {
  readonly on: string;
  readonly order: number;
  run(ledger: Ledger): Promise<void>;
}

const idOf = (ledger: Ledger, serial: string): string => {
  const id = ledger.buildIds.get(serial);
  if (id === undefined) throw new Error(`${serial} is not planned yet`);
  return id;
};

const tableItem = (key: ItemKey): DemoItem => items[key];

async function buy(ledger: Ledger, purchase: DemoPurchase): Promise<void> {
  const { ask, house, lotIds } = ledger;
  const bought = await ask('stock.buy', {
    supplierId: house.suppliers[purchase.supplier],
    on: purchase.on,
    lines: purchase.lines.map(([pieces, key, price]) => {
      const { item, each, place } = tableItem(key);
      // An assortment is measured by what it is worth.
      const qtyEach = item.form === 'worth' ? micro(price) : amount(each, item.unit);
      return { itemId: house.items[key], pieces, qtyEach, priceMicro: microTimes(pieces, price), place };
    }),
  });
  for (const lotId of bought.lotIds) {
    const lot = await ask('stock.lot', { id: lotId });
    const key = purchase.lines.map(([, each]) => each).find((each) => house.items[each] === lot.itemId);
    if (key === undefined) throw new Error('A lot came in that was not bought');
    lotIds.set(key, [...(lotIds.get(key) ?? []), lotId]);
    if (incidental.includes(key)) {
      const reason = 'For the whole shop: each knife carries a usual flat cost instead.';
      await ask('stock.count', { lotId, countedQty: 0, reason, on: purchase.on });
    }
  }
}

const buying = (purchase: DemoPurchase): Step => ({
  on: purchase.on,
  order: 0,
  run: (ledger) => buy(ledger, purchase),
});

async function startBatch(ledger: Ledger, batch: DemoBatch): Promise<void> {
  const { ask, house, buildIds, lotIds } = ledger;
  const on = batch.start;
  for (const { serial, variant } of batch.builds) {
    const planned = await ask('builds.plan', {
      modelId: house.models[variant].id,
      serial,
      batch: batch.name,
      on,
    });
    const [id] = planned.ids;
    if (id === undefined) throw new Error(`${serial} was not planned`);
    buildIds.set(serial, id);
    await ask('builds.start', { id, on });
  }
  for (const { steel, serials } of batch.cuts) {
    const [lotId] = lotIds.get(steel) ?? [];
    const variant = batch.builds.find((build) => build.serial === serials[0])?.variant;
    const part = variant === undefined ? undefined : partsOf(variant).find(({ item }) => item === steel);
    if (lotId === undefined || part?.perBar == null) throw new Error(`No bar of ${steel} to cut`);
    const kerf = tableItem(steel).item.kerfNm ?? 0;
    const blank = {
      lotId,
      blankLength: amount(part.qty, part.unit),
      kerf,
      sharing: 'whole-bar',
      blanksPerBar: part.perBar,
    } as const;
    await ask('stock.cut', { ...blank, buildIds: serials.map((serial) => idOf(ledger, serial)), on });
  }
}

const bench = (session: PlannedSession): Step => ({
  on: session.on,
  order: 2,
  async run(ledger) {
    await ledger.ask('hours.book', {
      on: session.on,
      minutes: session.shares.reduce((sum, share) => sum + share.minutes, 0),
      stageCode: session.stageCode,
      workKind: null,
      shares: session.shares.map(({ serial, minutes }) => ({
        buildId: idOf(ledger, serial),
        weight: minutes,
      })),
    });
  },
});

const beltKeys = (Object.keys(items) as ItemKey[]).filter((key) => items[key].item.kind === 'belt');
const beltIds = ({ house }: Ledger): readonly string[] => beltKeys.map((key) => house.items[key]);

/** Usual parts and flats of the stages that end on a day; steel was cut before. */
async function take(ledger: Ledger, build: DemoBuild, on: string, stages: readonly string[]): Promise<void> {
  const model = ledger.house.models[build.variant];
  const parts = model.parts.filter(
    (part) => part.stageCode !== 'CUT' && stages.includes(part.stageCode ?? ''),
  );
  const flatIds = stages.includes('GR2') ? model.flats.map((flat) => flat.id) : [];
  if (parts.length === 0 && flatIds.length === 0) return;
  const id = idOf(ledger, build.serial);
  await ledger.ask('builds.takeUsual', {
    id,
    on,
    parts: parts.map((part) => ({ partId: part.id })),
    flatIds,
  });
  for (const { itemId, qty, stageCode } of parts) {
    if (!beltIds(ledger).includes(itemId)) continue;
    const use = { itemId, buildId: id, stageCode: stageCode ?? 'GR2', on };
    await useBelt(ledger.ask, ledger.belts, use, qty);
  }
}

/** Pins the picture to a knife on the day of its photos. */
async function photograph(ledger: Ledger, build: DemoBuild): Promise<void> {
  const drawn = ledger.pictures.get(build.variant) ?? pictureOf(build.variant);
  ledger.pictures.set(build.variant, drawn);
  const { base64, thumbBase64 } = await drawn;
  const about = {
    name: `${build.serial}.png`,
    caption: 'Outline of the model, in place of a photo',
    base64,
    thumbBase64,
  };
  await ledger.ask('files.attach', {
    ownerKind: 'build',
    ownerId: idOf(ledger, build.serial),
    role: 'photo',
    ...about,
  });
}

async function endStages(
  ledger: Ledger,
  build: DemoBuild,
  on: string,
  stages: readonly string[],
): Promise<void> {
  await take(ledger, build, on, stages);
  if (stages.includes('PHO')) await photograph(ledger, build);
  for (const code of stages) {
    await ledger.ask('builds.stage', { id: idOf(ledger, build.serial), code, done: true, on });
  }
}

/** The day each stage of a knife ends, from its sessions. */
function stageEnds(
  serial: string,
  sessions: readonly PlannedSession[],
): ReadonlyMap<string, readonly string[]> {
  const last = new Map<string, string>();
  for (const session of sessions) {
    if (session.shares.some((share) => share.serial === serial)) last.set(session.stageCode, session.on);
  }
  const ends = new Map<string, readonly string[]>();
  for (const [code, on] of last) ends.set(on, [...(ends.get(on) ?? []), code]);
  return ends;
}

const batchSteps = (batch: DemoBatch, book: DayBook): readonly Step[] => {
  const sessions = planBatch(batch, book);
  const ends = batch.builds.flatMap((build) =>
    [...stageEnds(build.serial, sessions)].map(([on, stages]): Step => ({
      on,
      order: 3,
      run: (ledger) => endStages(ledger, build, on, stages),
    })),
  );
  const finish = batch.builds.map(({ serial }): Step => ({
    on: batch.finished,
    order: 4,
    async run(ledger) {
      await ledger.ask('builds.finish', { id: idOf(ledger, serial), on: batch.finished });
    },
  }));
  const begin: Step = { on: batch.start, order: 1, run: (ledger) => startBatch(ledger, batch) };
  return [begin, ...sessions.map(bench), ...ends, ...finish];
};

/** Knives up to 90 mm and petty knives go in the small box. */
const smallBox: readonly Variant[] = ['PAR', 'PET'];

/** What posting costs: a base and 1.1 % cover of the price, a signature from 300.00; abroad one rate. */
function postageOf(variant: Variant, priceMinor: number, abroad: boolean): { charged: number; paid: number } {
  if (abroad) return { charged: cents('48.00'), paid: cents('46.20') };
  const small = smallBox.includes(variant);
  const base = cents(small ? '10.40' : '13.90') + (priceMinor >= cents('300.00') ? cents('3.75') : 0);
  return { charged: cents(small ? '12.00' : '18.00'), paid: base + mulDiv(priceMinor, 11, 1000) };
}

async function sell(ledger: Ledger, sale: DemoSale, variant: Variant): Promise<void> {
  const { ask, house } = ledger;
  const { where } = buyers[sale.buyer];
  const abroad = where === 'abroad';
  const priceMinor = cents(models[variant].price ?? '0');
  const postage = postageOf(variant, priceMinor, abroad);
  await ask('selling.sell', {
    buildId: idOf(ledger, sale.serial),
    buyerId: house.buyers[sale.buyer],
    channelId: house.channelId,
    taxPlaceId: house.places[where],
    on: sale.on,
    priceMinor,
    shippingMinor: postage.charged,
    postagePaidMinor: postage.paid,
    abroad,
    invoice: true,
    paidBy: 'card',
  });
}

/** Packing and selling on the day of sale. */
function saleSteps(sale: DemoSale, build: DemoBuild): readonly Step[] {
  const { on, serial } = sale;
  const minutes = minutesFor(build.variant, build.nth).get('PCK') ?? 0;
  return [
    bench({ on, stageCode: 'PCK', shares: [{ serial, minutes }] }),
    { on, order: 5, run: (ledger) => endStages(ledger, build, on, ['PCK']) },
    { on, order: 6, run: (ledger) => sell(ledger, sale, build.variant) },
  ];
}

/** Work that belongs to no knife, every week a share of each kind. */
function otherSteps(): readonly Step[] {
  const byKind = allocate(
    otherMinutes,
    otherWork.map((work) => work.weight),
  );
  return otherWork.flatMap(({ kind, weekday }, at) =>
    allocate(
      byKind[at] ?? 0,
      Array.from({ length: otherWeeks }, () => 1),
    ).map((minutes, week): Step => {
      const on = addDays(workshop.labourFrom, week * 7 + weekday - 1);
      return { on, order: 2, run: (ledger) => bookOther(ledger, kind, on, minutes) };
    }),
  );
}

async function bookOther(ledger: Ledger, kind: WorkKind, on: string, minutes: number): Promise<void> {
  await ledger.ask('hours.book', { on, minutes, stageCode: null, workKind: kind, shares: [] });
}

/** Every step up to and including a day, in the order things happened. */
export function stepsThrough(through: string): readonly Step[] {
  const book: DayBook = new Map();
  const builds = new Map(batches.flatMap((batch) => batch.builds).map((build) => [build.serial, build]));
  const steps = [
    ...purchases.map(buying),
    ...batches.flatMap((batch) => batchSteps(batch, book)),
    ...sales.flatMap((sale) => {
      const build = builds.get(sale.serial);
      if (build === undefined) throw new Error(`${sale.serial} is sold but never built`);
      return saleSteps(sale, build);
    }),
    ...otherSteps(),
  ];
  return steps
    .filter((step) => step.on <= through)
    .sort((a, b) => (a.on === b.on ? a.order - b.order : a.on < b.on ? -1 : 1));
}
