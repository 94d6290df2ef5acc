/** Gathers the money of invoices in a year: what came in, for what, and with what tax in it. In steps. */
import { type EntityMoney, type PaidInvoice, type Receipt, receiptsOf } from '../../domain/year-cash.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { groupRows, standingAt } from '../../domain/year-sales.ts';
import type { ReadDb } from '../../storage/db.ts';
import { keptDepositsByOrder } from '../../storage/queries/income-beside-knives.ts';
import { taxTakenOff } from '../../storage/queries/sheet-money.ts';
import {
  creditsOf,
  ordersOf,
  paidBefore,
  saleOfInvoices,
  yearInvoices,
  type YearInvoice,
  yearPayments,
  type YearPayment,
} from '../../storage/queries/year-cash.ts';
import type { Days } from '../../storage/queries/year-knives.ts';
import { netOf } from '../costs/net.ts';
import { MOVED } from '../selling/payments.ts';
import { SET_OFF } from '../selling/set-off.ts';
import type { SoldFact } from './gather-sales.ts';
import { monthsIn } from './months.ts';
import type { Steps } from '../../domain/steps.ts';

/** A receipt with what it is for. */
export interface CashFact {
  readonly id: string;
  readonly on: string;
  readonly kind: 'knives' | 'deposits' | 'service';
  readonly what: string;
  readonly who: string;
  readonly invoiceId: string | null;
  readonly saleId: string | null;
  /** It goes back to the buyer, or was credited and is to go back. */
  readonly back: boolean;
  readonly netMinor: number;
  /** Of it, what pays for shipping; nothing in what goes back. */
  readonly shippingMinor: number;
  readonly taxMinor: number;
  /** What the tax is on, of a sale without an invoice; nothing else. */
  readonly taxBaseMinor: number;
  /** Where it is taxed, what the tax is called and its rate; the place is empty where none was told. */
  readonly tax: { readonly place: string; readonly label: string; readonly ratePpm: number };
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
  /** What belongs together, each by its name: `order …`, `sale …` or `invoice …` with the id. */
  readonly entities: readonly (EntityMoney & { readonly key: string })[];
  readonly invoices: readonly YearInvoice[];
}

/** What an invoice belongs to. */
export const entityOf = (invoice: Pick<YearInvoice, 'id' | 'order_id' | 'sale_id'>): string =>
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
  elsewhere: ReadonlyMap<string, readonly TakenOff[]>,
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
    ...(elsewhere.has(invoice.id)
      ? { takenOff: elsewhere.get(invoice.id)?.map(({ minor }) => minor) ?? [] }
      : {}),
    issuedOn:
      invoice.prepaid_minor !== 0 && invoice.total_minor === invoice.prepaid_minor
        ? invoice.issued_on
        : undefined,
    paidBeforeMinor: before.get(invoice.id) ?? 0,
    payments: (payments.get(invoice.id) ?? []).map((row) => ({
      ...{ id: row.id, on: row.on_date, minor: row.amount_minor },
      // Money moved from one invoice to another went to nobody.
      back:
        row.amount_minor < 0 && row.reverses_id === null && row.method !== MOVED && row.method !== SET_OFF,
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
  for (const { orderId, netMinor, later } of facts.kept) add(`order ${orderId}`, netMinor, !later);
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
): CashFacts['entities'] {
  const keys = new Set([...earned.keys(), ...received.keys()]);
  return [...keys].map((key) => {
    const own = earned.get(key);
    return {
      key,
      earnedMinor: own?.minor ?? 0,
      receivedMinor: received.get(key)?.minor ?? 0,
      receivedBeforeMinor: received.get(key)?.before ?? 0,
      when: open.has(key) ? 'open' : own?.now === true ? 'now' : 'earlier',
    };
  });
}

/** Where an invoice is taxed, and what its sale charges for shipping without tax. */
interface About {
  readonly place: string;
  readonly shippingMinor: number;
}

/** Of each invoice: the sales of the year are known already, those of before and deposits are looked up. */
function aboutOf(
  db: ReadDb,
  invoices: readonly YearInvoice[],
  sold: readonly SoldFact[],
): (invoice: YearInvoice) => About {
  const known = new Map<string, About>(
    sold.map(({ sale, facts }) => [sale.id, { place: sale.place ?? '', shippingMinor: facts.shippingMinor }]),
  );
  const others = invoices.filter(({ sale_id: sale }) => sale === null || !known.has(sale));
  const looked = new Map<string, About>(
    saleOfInvoices(
      db,
      others.map(({ id }) => id),
    ).map((row) => [row.id, { place: row.place ?? '', shippingMinor: netOf(row).shippingMinor }]),
  );
  return ({ id, sale_id: sale }) =>
    known.get(sale ?? '') ?? looked.get(id) ?? { place: '', shippingMinor: 0 };
}

type TaxedAt = CashFact['tax'];

/** Tax of a deposit that was taxed elsewhere than the final invoice that took it off. */
interface TakenOff {
  readonly tax: TaxedAt;
  readonly minor: number;
}

const taxOf = (invoice: YearInvoice, { place }: About): TaxedAt => ({
  place,
  label: invoice.tax_label,
  ratePpm: invoice.tax_rate_ppm,
});

/** By final invoice, what it took off of deposits of another place or rate than its own. */
function takenElsewhere(
  db: ReadDb,
  invoices: readonly YearInvoice[],
  about: (invoice: YearInvoice) => About,
): ReadonlyMap<string, readonly TakenOff[]> {
  const finals = new Map(invoices.filter((row) => row.prepaid_tax_minor !== 0).map((row) => [row.id, row]));
  const taken = taxTakenOff(db, [...finals.keys()]).flatMap((row) => {
    const final = finals.get(row.id);
    if (final === undefined) return [];
    const own = taxOf(final, about(final));
    const tax = { place: row.place ?? '', label: row.label, ratePpm: row.rate_ppm };
    const same = own.place === tax.place && own.label === tax.label && own.ratePpm === tax.ratePpm;
    return same ? [] : [{ id: row.id, tax, minor: row.tax_minor }];
  });
  return groupRows(taken, (row) => row.id);
}

/** A payment's part of the shipping, so that all payments of the invoice together take all of it. */
function shippingShare(invoice: YearInvoice, minor: number): (before: number, netMinor: number) => number {
  const ofMinor = invoice.net_minor - (invoice.prepaid_minor - invoice.prepaid_tax_minor);
  if (minor === 0 || ofMinor <= 0) return () => 0;
  const upTo = (paid: number): number => mulDiv(minor, Math.max(0, Math.min(paid, ofMinor)), ofMinor);
  return (before, netMinor) => upTo(before + netMinor) - upTo(before);
}

const takenOffWords = ({ number }: YearInvoice): string => `Deposits taken off on ${number}`;

const wordsOf = (invoice: YearInvoice, { paymentId, back }: Receipt, netMinor: number): string => {
  if (paymentId === null) return back ? `Tax credited on ${invoice.number}` : takenOffWords(invoice);
  if (back) return `Given back on ${invoice.number}`;
  return `${netMinor < 0 ? 'Taken back on' : 'Paid on'} ${invoice.number}`;
};

/** The receipts of one invoice in their order. @param beforeMinor received without tax before the year */
function factsOf(
  invoice: YearInvoice,
  about: About,
  { beforeMinor, receipts }: ReturnType<typeof receiptsOf>,
  elsewhere: readonly TakenOff[],
): CashFact[] {
  const share = shippingShare(invoice, about.shippingMinor);
  let paid = beforeMinor;
  return receipts.flatMap((receipt, at): CashFact[] => {
    const { paymentId, on, back, netMinor, takenOff } = receipt;
    const shippingMinor = back ? 0 : share(paid, netMinor);
    if (!back) paid += netMinor;
    const own: CashFact = {
      id: paymentId ?? `${invoice.id}~${String(at)}`,
      ...{ on, back, netMinor, shippingMinor, taxBaseMinor: 0 },
      taxMinor: receipt.taxMinor + sumOf(takenOff, (minor) => minor),
      kind: kindOf(invoice.kind),
      what: wordsOf(invoice, receipt, netMinor),
      who: invoice.buyer_name,
      ...{ invoiceId: invoice.id, saleId: invoice.sale_id },
      tax: taxOf(invoice, about),
    };
    const others = elsewhere.map(({ tax }, nth): CashFact => ({
      ...own,
      id: `${own.id}~${String(nth)}`,
      ...{ netMinor: 0, shippingMinor: 0, taxMinor: 0 - (takenOff[nth] ?? 0), tax },
      what: takenOffWords(invoice),
    }));
    return [own, ...others.filter(({ taxMinor }) => taxMinor !== 0)];
  });
}

/** A sale without an invoice was paid when it was made, and given back when the knife came back. */
const onTheSpot = (sold: readonly SoldFact[], span: Days): CashFact[] =>
  sold
    .filter(({ facts }) => !facts.hasInvoice)
    .flatMap(({ sale, facts, delta }) => {
      const then = standingAt({ ...facts, takenBackOn: null }, span.to);
      const now = facts.on >= span.from;
      const paid = now ? then : { priceMinor: 0, shippingMinor: 0, taxMinor: 0 };
      const { taxBaseMinor } = netOf(sale);
      const told = {
        ...{ kind: 'knives' as const, who: sale.buyer_name, invoiceId: null, saleId: sale.id },
        tax: { place: sale.place ?? '', label: sale.tax_label, ratePpm: sale.tax_rate_ppm },
      };
      const netMinor = paid.priceMinor + paid.shippingMinor;
      const back = delta.priceMinor + delta.shippingMinor - netMinor;
      const received = {
        ...{ ...told, id: sale.id, on: facts.on, back: false, netMinor },
        ...{ shippingMinor: paid.shippingMinor, taxMinor: paid.taxMinor },
        taxBaseMinor: now ? taxBaseMinor : 0,
        what: `${sale.serial}, no invoice: counted as paid when sold`,
      };
      const returned = {
        ...{ ...told, id: `${sale.id}~back`, on: facts.takenBackOn ?? span.to, back: true, netMinor: back },
        ...{ shippingMinor: 0, taxMinor: delta.taxMinor - paid.taxMinor },
        taxBaseMinor: (facts.keptTaxMinor === 0 ? 0 : facts.keptMinor) - taxBaseMinor,
        what: `${sale.serial}, no invoice: counted as given back when it came back`,
      };
      const isBack =
        facts.takenBackOn !== null && span.from <= facts.takenBackOn && facts.takenBackOn <= span.to;
      return [...(now ? [received] : []), ...(isBack ? [returned] : [])];
    });

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
  const about = aboutOf(db, invoices, sold);
  yield;
  const elsewhere = takenElsewhere(db, invoices, about);
  const paid = yield* paidInvoices(db, span, invoices, elsewhere);
  const byId = new Map(paid.map((invoice) => [invoice.id, invoice]));
  const service = serviceOf(invoices, byId, span);
  const kept = keptDepositsByOrder(db, span.from, span.to);
  yield;
  const received = new Map<string, Received>();
  const receipts: CashFact[] = [];
  for (const [at, invoice] of invoices.entries()) {
    const money = paid[at];
    if (money === undefined) continue;
    const own = receiptsOf(money, span);
    const had = received.get(money.entity) ?? { minor: 0, before: 0 };
    had.before += own.beforeMinor;
    for (const fact of factsOf(invoice, about(invoice), own, elsewhere.get(invoice.id) ?? [])) {
      had.minor += fact.netMinor;
      receipts.push(fact);
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
