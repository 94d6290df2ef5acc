/** The order book of the demo workshop: deposits taken, promises moved, knives delivered, one order cancelled. */
import type { Input } from '../api/contract.ts';
import { addDays } from '../domain/calendar.ts';
import { cents } from './amounts.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { looked, postageOf } from './postage.ts';
import {
  depositRules,
  orders,
  wishes,
  type DemoOrder,
  type DemoWish,
  type RuleKey,
} from './tables/orders.ts';
import { buyers } from './tables/people.ts';

/** Whoever orders wrote some days before, and got an offer two days later. */
const ASKED_BEFORE = 5;
const OFFERED_BEFORE = 3;

/** What is known of the order book while it is replayed. */
export interface OrderBook {
  readonly rules: Map<RuleKey, string>;
  /** Ids of orders by the keys of the table. */
  readonly ids: Map<string, string>;
}

const known = <K>(map: ReadonlyMap<K, string>, key: K): string => {
  const id = map.get(key);
  if (id === undefined) throw new Error(`${String(key)} is not in the order book yet`);
  return id;
};

const ruleSteps = (book: OrderBook): readonly Step[] =>
  Object.entries(depositRules).map(([key, rule]) => ({
    on: rule.from,
    order: 0,
    async run({ ask }) {
      book.rules.set(key as RuleKey, (await ask('orders.savePolicy', rule)).id);
    },
  }));

/** What an order is offered at. */
const specOf = (
  { house }: Ledger,
  order: Pick<DemoOrder, 'buyer' | 'variant' | 'wish' | 'price' | 'promised'>,
): Omit<Input<'orders.change'>, 'id' | 'on'> => {
  const { where } = buyers[order.buyer];
  const abroad = where === 'abroad';
  return {
    modelId: house.models[order.variant].id,
    wish: order.wish,
    priceMinor: cents(order.price),
    shippingMinor: postageOf(order.variant, cents(order.price), abroad).charged,
    channelId: house.channelId,
    taxPlaceId: house.places[where],
    abroad,
    promisedOn: order.promised === '' ? null : order.promised,
  };
};

async function askFor(ledger: Ledger, wish: Pick<DemoWish, 'buyer' | 'variant' | 'wish'>, on: string) {
  const { house, ask } = ledger;
  const modelId = wish.variant === null ? null : house.models[wish.variant].id;
  return (await ask('orders.ask', { buyerId: house.buyers[wish.buyer], modelId, wish: wish.wish, on })).id;
}

const agreeing = (book: OrderBook, order: DemoOrder): readonly Step[] => {
  const asked = addDays(order.ordered, -ASKED_BEFORE);
  const offered = addDays(order.ordered, -OFFERED_BEFORE);
  return [
    {
      on: asked,
      order: 5,
      async run(ledger) {
        book.ids.set(order.key, await askFor(ledger, order, asked));
      },
    },
    {
      on: offered,
      order: 5,
      async run(ledger) {
        const id = known(book.ids, order.key);
        await ledger.ask('orders.offer', { id, on: offered, ...specOf(ledger, order) });
      },
    },
    {
      on: order.ordered,
      order: 5,
      async run(ledger) {
        const id = known(book.ids, order.key);
        const policyId = known(book.rules, order.rule);
        const parcel = {
          buyerId: ledger.house.buyers[order.buyer],
          abroad: buyers[order.buyer].where === 'abroad',
        };
        const ticks = await looked(ledger.ask, parcel);
        await ledger.ask('orders.agree', { id, on: order.ordered, policyId, paidBy: 'card', ticks });
      },
    },
  ];
};

const linking = (book: OrderBook, order: DemoOrder): readonly Step[] =>
  order.links.map(({ on, serial, reason }) => ({
    on,
    // After the knives of the day are planned, before anything is taken for them.
    order: 1.5,
    async run(ledger) {
      const link = { id: known(book.ids, order.key), buildId: idOf(ledger, serial), on };
      await ledger.ask('orders.link', { ...link, ...(reason === undefined ? {} : { reason }) });
    },
  }));

const moving = (book: OrderBook, order: DemoOrder): readonly Step[] => {
  const { moved } = order;
  if (moved === undefined) return [];
  const { on, promised, reason } = moved;
  return [
    {
      on,
      order: 5,
      async run(ledger) {
        const id = known(book.ids, order.key);
        await ledger.ask('orders.contacted', { id, on, note: 'Told of the scrapped blade and the new date' });
        await ledger.ask('orders.change', { id, on, reason, ...specOf(ledger, { ...order, promised }) });
      },
    },
  ];
};

/** Gives back what the terms do not keep, by the way it came. */
async function refund(ledger: Ledger, orderId: string, on: string): Promise<void> {
  const { papers, giveBackMinor } = await ledger.ask('orders.get', { id: orderId });
  const paper = papers.find((one) => one.openMinor < 0);
  if (paper === undefined) throw new Error('Nothing is to be given back');
  const reason = 'Order cancelled';
  const { invoiceId } = paper;
  await ledger.ask('billing.refund', { invoiceId, on, amountMinor: giveBackMinor, method: 'card', reason });
}

const cancelling = (book: OrderBook, order: DemoOrder): readonly Step[] => {
  const { cancelled } = order;
  if (cancelled === undefined) return [];
  const { on, reason, refundedOn } = cancelled;
  return [
    {
      on,
      order: 6,
      async run({ ask }) {
        await ask('orders.cancel', { id: known(book.ids, order.key), on, reason });
      },
    },
    { on: refundedOn, order: 6, run: (ledger) => refund(ledger, known(book.ids, order.key), refundedOn) },
  ];
};

const wishing = (wish: DemoWish): readonly Step[] => {
  let id = '';
  const { on, offered, variant } = wish;
  const asking: Step = {
    on,
    order: 5,
    async run(ledger) {
      id = await askFor(ledger, wish, on);
    },
  };
  if (offered === undefined || variant === null) return [asking];
  const offering: Step = {
    on: offered.on,
    order: 5,
    async run(ledger) {
      const spec = specOf(ledger, { ...wish, variant, price: offered.price, promised: '' });
      await ledger.ask('orders.offer', { id, on: offered.on, answerBy: offered.answerBy, ...spec });
    },
  };
  return [asking, offering];
};

/** Everything of the order book but the deliveries. */
export const orderSteps = (book: OrderBook): readonly Step[] => [
  ...ruleSteps(book),
  ...orders.flatMap((order) => [
    ...agreeing(book, order),
    ...linking(book, order),
    ...moving(book, order),
    ...cancelling(book, order),
  ]),
  ...wishes.flatMap(wishing),
];

interface Delivery {
  readonly key: string;
  readonly on: string;
  readonly postagePaidMinor: number;
  /** Reminders looked at. */
  readonly ticks: string[];
}

/** Delivers an order whose knife is packed. */
export async function deliverOrder(
  ledger: Ledger,
  book: OrderBook,
  { key, ...what }: Delivery,
): Promise<void> {
  await ledger.ask('orders.deliver', { id: known(book.ids, key), paidBy: 'card', ...what });
}
