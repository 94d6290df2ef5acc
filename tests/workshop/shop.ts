/** A small stocked workshop for tests of hours, costs, selling, margins and imports: the demo workshop's first paring knife. */
import type { Input, Output } from '../../electron/api/contract.ts';
import type { CostSheetPaper, InvoicePaper } from '../../electron/documents/types.ts';
import type { Renderer } from '../../electron/workshop/context.ts';
import { openRig, type Rig, type RigOptions } from './rig.ts';

/** A printer that keeps what it was asked to print. The bytes hold the paper's data, so that each paper differs. */
export interface Press extends Renderer {
  readonly invoices: InvoicePaper[];
  readonly sheets: CostSheetPaper[];
  /** Every other paper, with what kind it is. */
  readonly others: { readonly kind: string; readonly data: unknown }[];
  /** The next paper fails. */
  jam(): void;
}

function press(): Press {
  const invoices: InvoicePaper[] = [];
  const sheets: CostSheetPaper[] = [];
  const others: { kind: string; data: unknown }[] = [];
  let jammed = false;
  const bytes = (data: unknown): Promise<Uint8Array> => {
    if (jammed) {
      jammed = false;
      return Promise.reject(new Error('the press is jammed'));
    }
    return Promise.resolve(new TextEncoder().encode(JSON.stringify(data)));
  };
  const own = {
    invoices,
    sheets,
    others,
    jam: () => {
      jammed = true;
    },
    invoice: (data: InvoicePaper) => {
      if (!jammed) invoices.push(data);
      return bytes(data);
    },
    costSheet: (data: CostSheetPaper) => {
      sheets.push(data);
      return bytes(data);
    },
  };
  const other = (kind: string) => (data: unknown) => {
    others.push({ kind, data });
    return bytes(data);
  };
  return new Proxy(own as Partial<Press> as Press, {
    get: (target, key) => (key in target ? Reflect.get(target, key) : other(String(key))) as unknown,
  });
}

export const INCH = 25_400_000;
export const PIECE = 1_000_000;
/** One unit of currency in the scale of costs. */
export const ONE = 1_000_000;

export interface Shop extends Rig {
  readonly press: Press;
  readonly items: Readonly<Record<string, string>>;
  readonly supplierId: string;
  readonly modelId: string;
  readonly channels: Output<'workshop.channels'>;
  readonly places: Output<'workshop.taxPlaces'>;
  readonly buyerId: string;
  /** Ids of planned knives by serial. */
  readonly knives: Readonly<Record<string, string>>;
}

type ItemInput = Parameters<Rig['call']>[1];

async function stockUp(rig: Rig): Promise<{ items: Record<string, string>; supplierId: string }> {
  const supplier = await rig.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
  const items: Record<string, string> = {};
  const goods = [
    ['steel', 'Stainless strip 0.070 × 1.25', 'steel', 'length', 'in', 'bar', 48 * INCH, 1, 24],
    ['walnut', 'Walnut scales', 'handle', 'pair', 'pair', 'pair', PIECE, 8, 112],
    ['fittings', 'Pins and liners', 'fitting', 'worth', 'worth', '', 118 * ONE, 1, 118],
    ['epoxy', 'Epoxy kit', 'adhesive', 'volume', 'floz', '', 473_176_473, 1, 28.16],
    ['belt', 'Belt 36 grit', 'belt', 'piece', 'piece', 'belt', PIECE, 7, 68.6],
    ['box', 'Packaging set', 'packaging', 'piece', 'piece', 'set', PIECE, 25, 170],
  ] as const;
  const lines = [];
  for (const [key, name, kind, form, unit, pieceWord, qtyEach, pieces, price] of goods) {
    const item = await rig.call('stock.saveItem', { name, kind, form, unit, pieceWord } satisfies ItemInput);
    items[key] = item.id;
    lines.push({ itemId: item.id, pieces, qtyEach, priceMicro: Math.round(price * ONE) });
  }
  await rig.call('stock.buy', { supplierId: supplier.id, on: '2024-07-02', lines });
  return { items, supplierId: supplier.id };
}

/** Opens a stocked workshop with a model, three planned knives W01 to W03 and one buyer. */
export async function openShop(options: RigOptions = {}): Promise<Shop> {
  const printer = press();
  const rig = await openRig({ now: '2024-12-31', renderer: printer, ...options });
  const { items, supplierId } = await stockUp(rig);
  const model = await rig.call('builds.saveModel', {
    code: 'PAR',
    name: 'Tessel paring',
    stages: [
      { code: 'GR2', minutes: 70 },
      { code: 'HND', minutes: 0 },
    ],
    parts: [{ label: 'Steel', itemId: items['steel'] ?? '', use: 'material', qty: 7.75 * INCH, perBar: 6 }],
    flats: [{ label: 'Gas and current', use: 'energy', amountMicro: 750_000 }],
  });
  const { ids, serials } = await rig.call('builds.plan', { modelId: model.id, count: 3, on: '2024-07-06' });
  const buyer = await rig.call('selling.saveBuyer', {
    name: 'Ottoline Fernshaw',
    address: '1 Reed Row\nFernshaw',
    country: 'us',
  });
  return {
    ...rig,
    press: printer,
    items,
    supplierId,
    modelId: model.id,
    channels: await rig.call('workshop.channels', {}),
    places: await rig.call('workshop.taxPlaces', {}),
    buyerId: buyer.id,
    knives: Object.fromEntries(serials.map((serial, at) => [serial, ids[at] ?? ''])),
  };
}

/** The id behind a name, or a clear failure of the test itself. */
export function idOf(map: Readonly<Record<string, string>>, name: string): string {
  const id = map[name];
  if (id === undefined) throw new Error(`the test knows no ${name}`);
  return id;
}

/** The channel that charges 2.9 % and 0.30, the demo workshop's processor. */
export function siteOf(shop: Shop): string {
  const site = shop.channels.find((channel) => channel.feePpm === 29_000);
  if (!site) throw new Error('the books hold no channel with a fee');
  return site.id;
}

/** Puts into a knife what tables 10.4 and 10.5 of the demo workshop say of a paring knife, and finishes it. */
export async function makeParing(shop: Shop, serial: string, minutes = 410): Promise<string> {
  const id = idOf(shop.knives, serial);
  const model = await shop.call('builds.model', { id: shop.modelId });
  await shop.call('builds.takeUsual', {
    id,
    on: '2024-07-06',
    parts: model.parts.map((part) => ({ partId: part.id })),
    flatIds: model.flats.map((flat) => flat.id),
  });
  const draw = (item: string, qty: number): Promise<unknown> =>
    shop.call('stock.draw', {
      buildId: id,
      itemId: idOf(shop.items, item),
      qty,
      use: 'material',
      on: '2024-07-06',
    });
  await draw('walnut', PIECE);
  await draw('fittings', 2.1 * ONE);
  await draw('epoxy', 14_786_765);
  await shop.call('builds.charge', {
    buildId: id,
    on: '2024-07-20',
    label: 'Belts and other',
    use: 'consumable',
    amountMicro: 13_640_000,
  });
  await shop.call('hours.book', {
    on: '2024-07-20',
    minutes,
    stageCode: 'GR2',
    workKind: null,
    shares: [{ buildId: id }],
  });
  await shop.call('builds.finish', { id, on: '2024-08-03' });
  return id;
}

/** Draws the packing of a knife. */
export const pack = (shop: Shop, buildId: string, on = '2024-08-06'): Promise<unknown> =>
  shop.call('stock.draw', { buildId, itemId: idOf(shop.items, 'box'), qty: PIECE, use: 'packaging', on });

export type Sale = Input<'selling.sell'>;

/** A sale of table 10.9's paring knife in the home state; `more` changes what it says. */
export const saleOf = (shop: Shop, buildId: string, more: Partial<Sale> = {}): Sale => ({
  buildId,
  channelId: siteOf(shop),
  taxPlaceId: shop.places[0]?.id ?? null,
  priceMinor: 15_000,
  shippingMinor: 1200,
  postagePaidMinor: 1205,
  buyerId: shop.buyerId,
  on: '2024-08-25',
  ...more,
});

/** Finishes a further knife of the model without any material. */
export async function plainKnife(shop: Shop): Promise<string> {
  const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2024-07-06' });
  const id = ids[0] ?? '';
  await shop.call('builds.start', { id, on: '2024-07-06' });
  await shop.call('builds.finish', { id, on: '2024-07-06' });
  return id;
}

/** Numbers of all invoices issued, in order. */
export const numbersOf = async (shop: Shop): Promise<readonly string[]> =>
  (await shop.call('selling.invoices', {})).rows.map((row) => row.number).sort();
