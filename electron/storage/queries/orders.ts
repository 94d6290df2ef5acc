/** The order book: wishes, offers, pre-orders, what is paid ahead on them and which knife is made for whom. */
import { type Insertable, type Selectable, sql, type Updateable } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type {
  DepositPoliciesTable,
  OrderBuildsTable,
  OrderChangesTable,
  OrderOptionsTable,
  OrdersTable,
} from '../schema-selling.ts';
import { keptAt } from './income-beside-knives.ts';
import { contains } from './like.ts';

const TAG_DIGITS = 4;

/** The short name of an order, e.g. `O-0007`. */
export const orderTagOf = (number: number): string => `O-${String(number).padStart(TAG_DIGITS, '0')}`;

/** The order number a typed tag means (`O-0042`, `o42`, `42`), or undefined. */
function numberOfOrderTag(text: string): number | undefined {
  const digits = /^(?:o\s*-?\s*)?0*(\d{1,9})$/i.exec(text.trim())?.[1];
  return digits === undefined ? undefined : Number(digits);
}

/** Which orders a list shows. */
export type OrderShow = 'open' | 'waiting' | 'offered' | 'agreed' | 'late' | 'ended' | 'all';

export interface OrderFilter {
  readonly id?: string;
  readonly text?: string;
  readonly show?: OrderShow;
  readonly buyerId?: string | undefined;
  /** Local day, for what is late. */
  readonly today: string;
}

/** Paid on the deposit invoices of an order `o`, refunds taken off. */
const paidAhead = sql<number>`coalesce((
  SELECT sum(y.amount_minor) FROM invoices i INNER JOIN payments y ON y.invoice_id = i.id
  WHERE i.order_id = o.id AND i.kind = 'deposit'), 0)`;
/** What is kept of a cancelled order `o` as it stands now. */
const keptNow = (column: 'total_minor' | 'tax_minor') =>
  sql<number>`CASE o.state WHEN 'cancelled' THEN ${keptAt(column, sql`'9999'`)} ELSE 0 END`;
const optionsSum = sql<number>`coalesce((SELECT sum(x.price_minor) FROM order_options x WHERE x.order_id = o.id), 0)`;
/** Place on the waiting list counted from one. */
const rank = sql<number>`(SELECT count(*) FROM orders w
  WHERE w.state IN ('asked', 'offered') AND (w.place < o.place OR (w.place = o.place AND w.number <= o.number)))`;
/** The link that counts: the open one, or the one that was delivered. */
const linkOf = sql<string>`(SELECT z.id FROM order_builds z WHERE z.order_id = o.id
  ORDER BY z.until_on IS NULL DESC, z.rowid DESC LIMIT 1)`;

const open = sql<boolean>`o.state IN ('asked', 'offered', 'agreed')`;
const shown: Readonly<Record<OrderShow, (today: string) => ReturnType<typeof sql<boolean>>>> = {
  all: () => sql<boolean>`1`,
  open: () => open,
  waiting: () => sql<boolean>`o.state = 'asked'`,
  offered: () => sql<boolean>`o.state = 'offered'`,
  agreed: () => sql<boolean>`o.state = 'agreed'`,
  late: (today) => sql<boolean>`(o.state = 'agreed' AND o.promised_on < ${today})`,
  ended: () => sql<boolean>`o.state IN ('delivered', 'cancelled', 'closed')`,
};

const joined = (db: ReadDb) =>
  db.q
    .selectFrom('orders as o')
    .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
    .leftJoin('models as m', 'm.id', 'o.model_id')
    .leftJoin('order_builds as z', (join) => join.on('z.id', '=', linkOf))
    .leftJoin('builds as b', 'b.id', 'z.build_id');

function matching(db: ReadDb, filter: OrderFilter) {
  let found = joined(db);
  if (filter.id !== undefined) found = found.where('o.id', '=', filter.id);
  if (filter.buyerId !== undefined) found = found.where('o.buyer_id', '=', filter.buyerId);
  if (filter.show !== undefined) found = found.where(shown[filter.show](filter.today));
  if (filter.text !== undefined && filter.text !== '') {
    const words = sql`p.name || ' ' || coalesce(m.code || ' ' || m.name, '') || ' ' || o.wish || ' ' || coalesce(b.serial, '')`;
    const number = numberOfOrderTag(filter.text) ?? -1;
    found = found.where(sql<boolean>`(${contains(words, filter.text)} OR o.number = ${number})`);
  }
  return found;
}

/** Orders: those that wait in their order, then offers, then promises by their day, ended ones last. */
export const listOrders = (db: ReadDb, filter: OrderFilter, limit: number, offset: number) =>
  db.all(
    matching(db, filter)
      .selectAll('o')
      .select(['p.name as buyer_name', 'm.name as model_name', 'm.code as model_code'])
      .select(['b.id as build_id', 'b.serial', 'b.state as build_state', 'z.until_on as link_until'])
      .select([paidAhead.as('paid_minor'), optionsSum.as('options_minor'), rank.as('rank')])
      .select([keptNow('total_minor').as('kept_now'), keptNow('tax_minor').as('kept_tax_now')])
      .orderBy(sql`o.state IN ('delivered', 'cancelled', 'closed')`)
      .orderBy(sql`o.state <> 'agreed'`)
      .orderBy(sql`CASE o.state WHEN 'agreed' THEN coalesce(o.promised_on, '9999') ELSE '' END`)
      .orderBy(sql`CASE WHEN o.place IS NULL THEN 1e18 ELSE o.place END`)
      .orderBy('o.ended_on', 'desc')
      .orderBy('o.number', 'desc')
      .limit(limit)
      .offset(offset),
  );
export type OrderRecord = ReturnType<typeof listOrders>[number];

/** How many orders match. */
export const countOrders = (db: ReadDb, filter: OrderFilter): number =>
  db.one(matching(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** One order with its names and sums. */
export const orderRecord = (db: ReadDb, id: string): OrderRecord | undefined =>
  listOrders(db, { id, today: '' }, 1, 0)[0];

/** The order a knife serves or last served. */
export const orderOfBuild = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('order_builds as z')
      .innerJoin('orders as o', 'o.id', 'z.order_id')
      .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
      .where('z.build_id', '=', buildId)
      .select(['o.id', 'o.number', 'o.state', 'o.buyer_id', 'p.name as buyer_name', 'z.until_on'])
      .orderBy(sql`z.until_on IS NULL`, 'desc')
      .orderBy(sql`z.rowid`, 'desc')
      .limit(1),
  );

/** The next free order number. */
export const nextOrderNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('orders').select((e) => e.fn.max('number').as('last')))?.last ?? 0) + 1;

/** The first and the last place of the waiting list. */
export const placeEnds = (db: ReadDb): { readonly first: number; readonly last: number } => {
  const ends = db.one(
    db.q
      .selectFrom('orders')
      .where('state', 'in', ['asked', 'offered'])
      .select((e) => [e.fn.min('place').as('first'), e.fn.max('place').as('last')]),
  );
  return { first: ends?.first ?? 0, last: ends?.last ?? 0 };
};

/** The one who waits right before or right after a place. */
export const neighbourOf = (db: ReadDb, place: number, way: 'up' | 'down') =>
  db.one(
    db.q
      .selectFrom('orders')
      .select(['id', 'place'])
      .where('state', 'in', ['asked', 'offered'])
      .where('place', way === 'up' ? '<' : '>', place)
      .orderBy('place', way === 'up' ? 'desc' : 'asc')
      .limit(1),
  );

/** Options of an order, in order. */
export const orderOptionRows = (db: ReadDb, orderId: string): OrderOptionsTable[] =>
  db.all(db.q.selectFrom('order_options').selectAll().where('order_id', '=', orderId).orderBy('position'));

/** Every knife that was linked, the last first. */
export const orderKnifeRows = (db: ReadDb, orderId: string) =>
  db.all(
    db.q
      .selectFrom('order_builds as z')
      .innerJoin('builds as b', 'b.id', 'z.build_id')
      .where('z.order_id', '=', orderId)
      .select(['z.id', 'z.build_id', 'z.from_on', 'z.until_on', 'z.reason'])
      .select(['b.serial', 'b.state', 'b.started_on'])
      .orderBy(sql`z.rowid`, 'desc'),
  );

/** What changed in an order, the last first. */
export const orderChangeRows = (db: ReadDb, orderId: string): Selectable<OrderChangesTable>[] =>
  db.all(db.q.selectFrom('order_changes').selectAll().where('order_id', '=', orderId).orderBy('seq', 'desc'));

/** Invoices that belong to an order, in the order issued, with what was paid on each and credited of it. */
export const orderPaperRows = (db: ReadDb, orderId: string) =>
  db.all(
    db.q
      .selectFrom('invoices as i')
      .where('i.order_id', '=', orderId)
      .select([
        'i.id',
        'i.number',
        'i.kind',
        'i.issued_on',
        'i.total_minor',
        'i.tax_minor',
        'i.prepaid_minor',
      ])
      .select([
        sql<number>`coalesce((SELECT sum(y.amount_minor) FROM payments y WHERE y.invoice_id = i.id), 0)`.as(
          'paid_minor',
        ),
        sql<
          string | null
        >`(SELECT max(y.on_date) FROM payments y WHERE y.invoice_id = i.id AND y.amount_minor > 0
          AND NOT EXISTS (SELECT 1 FROM payments r WHERE r.reverses_id = y.id))`.as('paid_on'),
        // A payment taken out of the books takes its fee along.
        sql<number>`coalesce((SELECT sum(y.fee_minor) FROM payments y WHERE y.invoice_id = i.id
          AND NOT EXISTS (SELECT 1 FROM payments r WHERE r.reverses_id = y.id)), 0)`.as('fee_minor'),
        sql<number>`coalesce((SELECT -sum(c.total_minor) FROM invoices c WHERE c.credits_id = i.id), 0)`.as(
          'credited_minor',
        ),
        sql<number>`coalesce((SELECT -sum(c.tax_minor) FROM invoices c WHERE c.credits_id = i.id), 0)`.as(
          'credited_tax_minor',
        ),
      ])
      .orderBy('i.issued_on')
      .orderBy(sql`i.rowid`),
  );
export type OrderPaperRecord = ReturnType<typeof orderPaperRows>[number];

/** How many orders stand where. */
export const orderCounts = (db: ReadDb, today: string) =>
  db.one(
    db.q
      .selectFrom('orders as o')
      .select([
        sql<number>`coalesce(sum(o.state = 'asked'), 0)`.as('waiting'),
        sql<number>`coalesce(sum(o.state = 'offered'), 0)`.as('offered'),
        sql<number>`coalesce(sum(o.state = 'agreed'), 0)`.as('agreed'),
        sql<number>`coalesce(sum(o.state = 'agreed' AND o.promised_on < ${today}), 0)`.as('late'),
        sql<number>`coalesce(sum(o.state IN ('delivered', 'cancelled', 'closed')), 0)`.as('ended'),
        sql<number>`coalesce(sum(${keptNow('total_minor')} - ${keptNow('tax_minor')}), 0)`.as('kept'),
      ]),
  );

/** Deposits of orders neither delivered nor ended: the customers' money. */
export const heldRows = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('orders as o')
      .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
      .where(open)
      .where(sql<boolean>`${paidAhead} > 0`)
      .select(['o.id', 'o.number', 'p.name as buyer_name', paidAhead.as('paid_minor')])
      .orderBy('o.number'),
  );

/** Paid on cancelled orders beyond what is kept: it is still to go back. */
export const toGiveBack = (db: ReadDb): number =>
  db.one(
    db.q
      .selectFrom('orders as o')
      .where('o.state', '=', 'cancelled')
      .select(sql<number>`coalesce(sum(max(0, ${paidAhead} - ${keptNow('total_minor')})), 0)`.as('sum')),
  )?.sum ?? 0;

/** Enters an order. */
export const insertOrder = (db: WriteDb, row: Insertable<OrdersTable>): number =>
  db.run(db.q.insertInto('orders').values(row));

/** Changes an order. @returns how many rows changed */
export const updateOrder = (db: WriteDb, id: string, row: Omit<Updateable<OrdersTable>, 'id'>): number =>
  db.run(db.q.updateTable('orders').set(row).where('id', '=', id));

/**
 * What is kept of a cancelled order, once more of its deposits was credited. Where the year it was cancelled in is closed,
 * the order stays as it was sealed: the credit counts in its own year, and what is kept now is told from the invoices.
 * @param through the last closed day
 */
export function restateKept(db: WriteDb, orderId: string, through: string | undefined): void {
  const left = (column: 'total_minor' | 'tax_minor') =>
    sql<number>`(SELECT ${keptNow(column)} FROM orders o WHERE o.id = ${orderId})`;
  db.run(
    db.q
      .updateTable('orders')
      .set({ kept_minor: left('total_minor'), kept_tax_minor: left('tax_minor') })
      .where('id', '=', orderId)
      .where('state', '=', 'cancelled')
      .where('ended_on', '>', through ?? ''),
  );
}

/** Puts other options in the place of an order's. */
export function replaceOrderOptions(
  db: WriteDb,
  orderId: string,
  options: readonly Omit<OrderOptionsTable, 'order_id' | 'position'>[],
): void {
  db.run(db.q.deleteFrom('order_options').where('order_id', '=', orderId));
  options.forEach((option, position) => {
    db.run(db.q.insertInto('order_options').values({ ...option, order_id: orderId, position }));
  });
}

/** Writes down what changed. */
export const insertChange = (db: WriteDb, row: Insertable<OrderChangesTable>): number =>
  db.run(db.q.insertInto('order_changes').values(row));

/** Links a knife. */
export const insertLink = (db: WriteDb, row: OrderBuildsTable): number =>
  db.run(db.q.insertInto('order_builds').values(row));

/** Ends the open link of an order. @returns how many there were */
export const endLink = (db: WriteDb, orderId: string, on: string, reason: string): number =>
  db.run(
    db.q
      .updateTable('order_builds')
      .set({ until_on: on, reason })
      .where('order_id', '=', orderId)
      .where('until_on', 'is', null),
  );

/** Rules for deposits, newest first, with how many orders were agreed by each. */
export const policyRows = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('deposit_policies as d')
      .selectAll('d')
      .select(
        sql<number>`(SELECT count(*) FROM orders o WHERE o.policy_id = d.id AND o.agreed_on IS NOT NULL)`.as(
          'agreed',
        ),
      )
      .orderBy('d.archived')
      .orderBy('d.from_date', 'desc')
      .orderBy(sql`d.rowid`),
  );
export type PolicyRecord = ReturnType<typeof policyRows>[number];

/** Enters a rule for deposits. */
export const insertPolicy = (db: WriteDb, row: Insertable<DepositPoliciesTable>): number =>
  db.run(db.q.insertInto('deposit_policies').values(row));

/** Changes a rule for deposits. @returns how many rows changed */
export const updatePolicy = (
  db: WriteDb,
  id: string,
  row: Omit<Updateable<DepositPoliciesTable>, 'id'>,
): number => db.run(db.q.updateTable('deposit_policies').set(row).where('id', '=', id));

/** The claim that keeps a knife for somebody now. */
export const openClaimOn = (db: ReadDb, buildId: string, now: string) =>
  db.one(
    db.q
      .selectFrom('claims as c')
      .innerJoin('buyers as p', 'p.id', 'c.buyer_id')
      .where('c.build_id', '=', buildId)
      .where('c.ended_at', 'is', null)
      .where('c.until_at', '>', now)
      .select(['c.buyer_id', 'p.name as buyer_name', 'c.until_at']),
  );
