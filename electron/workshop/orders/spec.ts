/** What is wanted, what it costs and when it is promised: checked, compared with what stood there, and written. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { orderTotal } from '../../domain/deposits.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelRow } from '../../storage/queries/models.ts';
import {
  orderOptionRows,
  orderPaperRows,
  type OrderRecord,
  replaceOrderOptions,
  updateOrder,
} from '../../storage/queries/orders.ts';
import { channelRecord } from '../../storage/queries/selling.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { OrderOptionsTable } from '../../storage/schema-selling.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { demandHoldable } from '../selling/reckon.ts';
import { note, type OrderChange } from './history.ts';
import { askedAhead, isDeposit } from './money.ts';

type Spec = Omit<Parsed<'orders.change'>, 'id' | 'on' | 'reason'>;
type SpecColumns = Pick<
  OrderRecord,
  | 'model_id'
  | 'wish'
  | 'price_minor'
  | 'special_minor'
  | 'shipping_minor'
  | 'channel_id'
  | 'tax_place_id'
  | 'abroad'
  | 'address_id'
  | 'promised_on'
  | 'note'
>;
type Option = Omit<OrderOptionsTable, 'order_id' | 'position'>;

function demandKnown(db: ReadDb, spec: Spec): void {
  if (spec.modelId !== null && modelRow(db, spec.modelId) === undefined)
    throw invalid('This model is not in the books. Choose another.', 'modelId');
  if (spec.channelId !== null && channelRecord(db, spec.channelId) === undefined)
    throw invalid('This way of selling is not in the books. Choose another.', 'channelId');
  if (spec.taxPlaceId !== null && taxPlaceRow(db, spec.taxPlaceId) === undefined)
    throw invalid('This tax place is not in the books. Choose another.', 'taxPlaceId');
}

/** The address must be one of the buyer's own. */
function demandOwnAddress(db: ReadDb, buyerId: string, addressId: string | null): void {
  if (addressId === null) return;
  const found = db.one(
    db.q.selectFrom('buyer_addresses').select('buyer_id').where('id', '=', addressId),
  )?.buyer_id;
  if (found !== buyerId)
    throw invalid('This address is not one of the buyer’s. Choose another.', 'addressId');
}

/** Price, options and special material must stay above zero and above what was asked ahead. */
function demandPrice(db: ReadDb, order: OrderRecord, spec: Spec): void {
  const { currency } = houseOf(db);
  demandHoldable(
    { priceMinor: (spec.priceMinor ?? 0) + spec.specialMinor, shippingMinor: spec.shippingMinor },
    decimalsOf(currency),
  );
  if (spec.priceMinor === null) {
    if (order.state === 'asked') return;
    throw invalid('The price was named to the buyer already. Write what the knife costs.', 'priceMinor');
  }
  const optionsMinor = sumOf(spec.options, (option) => option.priceMinor);
  const total = orderTotal({ priceMinor: spec.priceMinor, optionsMinor, specialMinor: spec.specialMinor });
  if (total < 0)
    throw invalid('The options take off more than the knife costs. Check price and options.', 'priceMinor');
  const papers = orderPaperRows(db, order.id);
  const agreed = order.state === 'agreed' ? order.deposit_minor : 0;
  // Once it is invoiced, what of it was credited stands in the way no more.
  const deposit = papers.some(isDeposit) ? askedAhead(db, spec.taxPlaceId, papers) : agreed;
  if (total < deposit)
    throw refused(
      `A deposit of ${formatMinor(deposit, currency)} was agreed, which is more than ${formatMinor(total, currency)}. Take a part of the deposit back first, or write a higher price.`,
      'priceMinor',
    );
}

function demandPromise(order: OrderRecord, promisedOn: string | null): void {
  if (promisedOn === null) return;
  const from = order.agreed_on ?? order.asked_on;
  if (promisedOn < from)
    throw invalid(
      `It was ${order.agreed_on === null ? 'asked for' : 'agreed'} on ${from}; it cannot be promised for a day before. Change the date.`,
      'promisedOn',
    );
}

/** @throws FaultError naming the field that is wrong */
export function demandSpec(db: ReadDb, order: OrderRecord, spec: Spec): void {
  demandKnown(db, spec);
  demandOwnAddress(db, order.buyer_id, spec.addressId);
  demandPrice(db, order, spec);
  demandPromise(order, spec.promisedOn);
}

const columnsOf = (spec: Spec): SpecColumns => ({
  model_id: spec.modelId,
  wish: spec.wish,
  price_minor: spec.priceMinor,
  special_minor: spec.specialMinor,
  shipping_minor: spec.shippingMinor,
  channel_id: spec.channelId,
  tax_place_id: spec.taxPlaceId,
  abroad: spec.abroad ? 1 : 0,
  address_id: spec.addressId,
  promised_on: spec.promisedOn,
  note: spec.note,
});

type Words = (value: SpecColumns, db: ReadDb) => string;

const money = (minor: number | null, db: ReadDb): string =>
  minor === null ? '' : formatMinor(minor, houseOf(db).currency);

/** What each part of a specification is called, and how it reads. */
const parts: readonly (readonly [what: string, words: Words])[] = [
  ['Model', (value, db) => (value.model_id === null ? '' : (modelRow(db, value.model_id)?.name ?? ''))],
  ['Wish', (value) => value.wish],
  ['Price', (value, db) => money(value.price_minor, db)],
  ['Special material', (value, db) => money(value.special_minor || null, db)],
  ['Shipping', (value, db) => money(value.shipping_minor || null, db)],
  [
    'Paid through',
    (value, db) => (value.channel_id === null ? '' : (channelRecord(db, value.channel_id)?.name ?? '')),
  ],
  [
    'Tax place',
    (value, db) => (value.tax_place_id === null ? '' : (taxPlaceRow(db, value.tax_place_id)?.name ?? '')),
  ],
  ['Goes abroad', (value) => (value.abroad === 1 ? 'yes' : 'no')],
  ['Promised for', (value) => value.promised_on ?? ''],
  ['Note', (value) => value.note],
];

const optionWords = (options: readonly Option[], db: ReadDb): string =>
  options.map((option) => `${option.name} ${money(option.price_minor, db)}`).join(', ');

function addressWords(db: ReadDb, id: string | null): string {
  if (id === null) return 'invoice address';
  return db.one(db.q.selectFrom('buyer_addresses').select('label').where('id', '=', id))?.label ?? '';
}

/** Every difference between two specifications, in words. */
function differences(
  db: ReadDb,
  before: SpecColumns & { readonly options: readonly Option[] },
  after: SpecColumns & { readonly options: readonly Option[] },
): readonly OrderChange[] {
  const all: readonly OrderChange[] = [
    ...parts.map(([what, words]) => ({ what, before: words(before, db), after: words(after, db) })),
    { what: 'Options', before: optionWords(before.options, db), after: optionWords(after.options, db) },
    {
      what: 'Ship to',
      before: addressWords(db, before.address_id),
      after: addressWords(db, after.address_id),
    },
  ];
  return all.filter((change) => change.before !== change.after);
}

/**
 * Writes a specification in the place of an order's and keeps every difference.
 * @returns how many parts changed
 */
export function writeSpec(
  ctx: CommandContext,
  order: OrderRecord,
  spec: Spec,
  when: { readonly on: string; readonly reason: string },
): number {
  const options = spec.options.map((option) => ({
    option_id: option.optionId,
    name: option.name,
    price_minor: option.priceMinor,
  }));
  const before = { ...order, options: orderOptionRows(ctx.db, order.id) };
  const after = { ...columnsOf(spec), options };
  const changes = differences(ctx.db, before, after);
  updateOrder(ctx.db, order.id, columnsOf(spec));
  replaceOrderOptions(ctx.db, order.id, options);
  for (const change of changes) note(ctx, order.id, { ...change, ...when });
  return changes.length;
}
