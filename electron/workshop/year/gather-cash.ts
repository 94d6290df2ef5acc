/** Gathers the money of invoices in a year: what came in, for what, and with what tax in it. In steps. */
import { type EntityMoney, type PaidInvoice, type Receipt, receiptsOf } from '../../domain/year-cash.ts';
import { groupRows } from '../../domain/year-sales.ts';
import type { ReadDb } from '../../storage/db.ts';
import { keptDepositsByOrder } from '../../storage/queries/income-beside-knives.ts';
import {
  creditsOf,
  ordersOf,
  paidBefore,
  yearInvoices,
  type YearInvoice,
  yearPayments,
  type YearPayment,
} from '../../storage/queries/year-cash.ts';
import type { Days } from '../../storage/queries/year-knives.ts';
import type { SoldFact } from './gather-sales.ts';
import { monthsIn } from './months.ts';
import type { Steps } from './steps.ts';

/** A receipt with what it is for. */
interface CashFact {
  readonly id: string;
  readonly on: string;
  readonly kind: 'knives' | 'deposits' | 'service';
  readonly what: string;
  readonly who: string;
  readonly invoiceId: string | null;
  readonly saleId: string | null;
  readonly netMinor: number;
  readonly taxMinor: number;
}

/** Service invoiced or credited in the year. */
interface ServiceFact {
  readonly invoiceId: string;
  readonly number: string;
  readonly on: string;
  readonly who: string;
  readonly netMinor: number;
  readonly taxMinor: number;
}

export interface CashFacts {
  readonly receipts: readonly CashFact[];
  readonly service: readonly ServiceFact[];
  readonly kept: ReturnType<typeof keptDepositsByOrder>;
  readonly entities: readonly EntityMoney[];
  readonly invoices: readonly YearInvoice[];
}

const entityOf = (invoice: YearInvoice): string =>
  invoice.order_id !== null
    ? `order ${invoice.order_id}`
    : invoice.sale_id !== null
      ? `sale ${invoice.sale_id}`
      : `invoice ${invoice.id}`;

const kindOf = (kind: string): CashFact['kind'] =>
  kind === 'deposit' ? 'deposits' : kind === 'service' ? 'service' : 'knives';

function* paidInvoices(
  db: ReadDb,
  span: Days,
  invoices: readonly YearInvoice[],
): Steps<readonly PaidInvoice[]> {
  const rows: YearPayment[] = [];
  for (const month of monthsIn(span)) {
    rows.push(...yearPayments(db, month));
    yield;
  }
  const payments = groupRows(rows, (row) => row.invoice_id);
  yield;
  const ids = invoices.map((invoice) => invoice.id);
  const before = new Map(paidBefore(db, ids, span.from).map((row) => [row.invoice_id, row.paid_minor]));
  yield;
  const credits = groupRows(creditsOf(db, ids, span.to), (row) => row.invoice_id);
  yield;
  return invoices.map((invoice) => ({
    id: invoice.id,
    kind: invoice.kind,
    entity: entityOf(invoice),
    askedMinor: invoice.total_minor - invoice.prepaid_minor,
    taxMinor: invoice.tax_minor - invoice.prepaid_tax_minor,
    paidBeforeMinor: before.get(invoice.id) ?? 0,
    payments: (payments.get(invoice.id) ?? []).map((row) => ({
      id: row.id,
      on: row.on_date,
      minor: row.amount_minor,
    })),
    credits: (credits.get(invoice.id) ?? []).map((row) => ({
      on: row.issued_on,
      minor: row.total_minor,
      taxMinor: row.tax_minor,
    })),
  }));
}

function serviceOf(
  invoices: readonly YearInvoice[],
  paid: ReadonlyMap<string, PaidInvoice>,
  { from, to }: Days,
): ServiceFact[] {
  const within = (on: string): boolean => from <= on && on <= to;
  return invoices
    .filter((invoice) => invoice.kind === 'service')
    .flatMap((invoice) => {
      const told = { invoiceId: invoice.id, number: invoice.number, who: invoice.buyer_name };
      const issued = {
        ...told,
        on: invoice.issued_on,
        netMinor: invoice.net_minor,
        taxMinor: invoice.tax_minor,
      };
      const credits = (paid.get(invoice.id)?.credits ?? []).map((credit) => ({
        ...told,
        on: credit.on,
        netMinor: credit.taxMinor - credit.minor,
        taxMinor: -credit.taxMinor,
      }));
      return [issued, ...credits].filter(({ on }) => within(on));
    });
}

interface Earned {
  minor: number;
  /** It first earned in the year. */
  now: boolean;
}

/** What each order, sale or invoice earned in the year. */
function earnedBy(
  sold: readonly SoldFact[],
  facts: Pick<CashFacts, 'service' | 'kept'>,
  span: Days,
): Map<string, Earned> {
  const earned = new Map<string, Earned>();
  const add = (key: string, minor: number, now: boolean): void => {
    const had = earned.get(key);
    earned.set(key, { minor: (had?.minor ?? 0) + minor, now: (had?.now ?? false) || now });
  };
  for (const { sale, delta, facts: told } of sold) {
    const key = sale.order_id !== null ? `order ${sale.order_id}` : `sale ${sale.id}`;
    add(key, delta.priceMinor + delta.shippingMinor, told.on >= span.from);
  }
  for (const { orderId, netMinor } of facts.kept) add(`order ${orderId}`, netMinor, true);
  for (const { invoiceId, netMinor } of facts.service) add(`invoice ${invoiceId}`, netMinor, true);
  return earned;
}

interface Received {
  minor: number;
  before: number;
}

function entitiesOf(
  earned: ReadonlyMap<string, Earned>,
  received: ReadonlyMap<string, Received>,
  open: ReadonlySet<string>,
): readonly EntityMoney[] {
  const keys = new Set([...earned.keys(), ...received.keys()]);
  return [...keys].map((key) => {
    const own = earned.get(key);
    return {
      earnedMinor: own?.minor ?? 0,
      receivedMinor: received.get(key)?.minor ?? 0,
      receivedBeforeMinor: received.get(key)?.before ?? 0,
      when: open.has(key) ? 'open' : own?.now === true ? 'now' : 'earlier',
    };
  });
}

const toFact = (invoice: YearInvoice, { paymentId, on, netMinor, taxMinor }: Receipt): CashFact => ({
  id: paymentId ?? `${invoice.id}~${on}`,
  on,
  kind: kindOf(invoice.kind),
  what:
    paymentId === null
      ? `Tax credited on ${invoice.number}`
      : `${netMinor < 0 ? 'Given back on' : 'Paid on'} ${invoice.number}`,
  who: invoice.buyer_name,
  invoiceId: invoice.id,
  saleId: invoice.sale_id,
  netMinor,
  taxMinor,
});

/** A sale without an invoice was paid when it was made. */
const onTheSpot = (sold: readonly SoldFact[], span: Days): CashFact[] =>
  sold
    .filter(({ facts, delta }) => !facts.hasInvoice && delta.priceMinor + delta.shippingMinor !== 0)
    .map(({ sale, facts, delta }) => ({
      id: sale.id,
      on: facts.on >= span.from ? facts.on : (facts.takenBackOn ?? span.to),
      kind: 'knives',
      what: `${sale.serial}, no invoice: counted as paid when sold`,
      who: sale.buyer_name,
      invoiceId: null,
      saleId: sale.id,
      netMinor: delta.priceMinor + delta.shippingMinor,
      taxMinor: delta.taxMinor,
    }));

/** Orders that are neither delivered nor ended by the end of the year. */
function openOrders(db: ReadDb, invoices: readonly YearInvoice[], { to }: Days): ReadonlySet<string> {
  const ids = [...new Set(invoices.flatMap(({ order_id: id }) => (id === null ? [] : [id])))];
  return new Set(
    ordersOf(db, ids)
      .filter((order) => (order.sold_on ?? '9999') > to && (order.ended_on ?? '9999') > to)
      .map((order) => `order ${order.id}`),
  );
}

/** All money of invoices in the year. */
export function* gatherCash(db: ReadDb, span: Days, sold: readonly SoldFact[]): Steps<CashFacts> {
  const invoices = yearInvoices(db, span);
  yield;
  const paid = yield* paidInvoices(db, span, invoices);
  const byId = new Map(paid.map((invoice) => [invoice.id, invoice]));
  const service = serviceOf(invoices, byId, span);
  const kept = keptDepositsByOrder(db, span.from, span.to);
  yield;
  const received = new Map<string, Received>();
  const receipts: CashFact[] = [];
  for (const [at, invoice] of invoices.entries()) {
    const money = paid[at];
    if (money === undefined) continue;
    const { beforeMinor, receipts: own } = receiptsOf(money, span);
    const had = received.get(money.entity) ?? { minor: 0, before: 0 };
    had.before += beforeMinor;
    for (const receipt of own) {
      had.minor += receipt.netMinor;
      receipts.push(toFact(invoice, receipt));
    }
    received.set(money.entity, had);
    if (at % 1000 === 999) yield;
  }
  yield;
  for (const fact of onTheSpot(sold, span)) {
    receipts.push(fact);
    const key = `sale ${fact.saleId ?? ''}`;
    const had = received.get(key) ?? { minor: 0, before: 0 };
    received.set(key, { ...had, minor: had.minor + fact.netMinor });
  }
  const open = openOrders(db, invoices, span);
  yield;
  const entities = entitiesOf(earnedBy(sold, { service, kept }, span), received, open);
  return { receipts, service, kept, entities, invoices };
}
