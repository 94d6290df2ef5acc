/**
 * What came in by the day it was paid, without sales tax, and how it leads back to what was earned. Minor units.
 * Of each payment the tax is taken out in proportion, cumulated per invoice so that no cent is lost in parts.
 */
import { mulDiv } from './integers.ts';
import type { YearSpan } from './fiscal-year.ts';

/** An invoice and the money that moved on it. */
export interface PaidInvoice {
  readonly id: string;
  readonly kind: string;
  /** What belongs together: an order, a sale, or the invoice alone. */
  readonly entity: string;
  /** Asked of the buyer once deposits are off, tax in it, and that tax. */
  readonly askedMinor: number;
  readonly taxMinor: number;
  /** Of that tax, what was taken off for deposits taxed at another place or rate, one by one, above zero. */
  readonly takenOff?: readonly number[];
  /** The day of issue, where deposits left nothing to ask: what their tax is by then counts without a payment. */
  readonly issuedOn?: string | undefined;
  /** Paid before the span. */
  readonly paidBeforeMinor: number;
  readonly payments: readonly {
    readonly id: string;
    readonly on: string;
    readonly minor: number;
    /** Money given back to the buyer; not one that takes a payment out of the books. */
    readonly back?: boolean;
  }[];
  /** Credits up to the end of the span, those before it too; above zero. */
  readonly credits: readonly { readonly on: string; readonly minor: number; readonly taxMinor: number }[];
}

/**
 * Of what was paid, the part that is tax: paid in part it holds its part of the tax, and no more than all of it. What
 * is paid beyond what is asked goes back and holds none. An invoice may ask for less than nothing: a final one credited
 * with the deposits it had taken off gives their tax back as well.
 */
function taxInPaid(paidMinor: number, askedMinor: number, taxMinor: number): number {
  if (askedMinor === 0) return taxMinor;
  const [low, high] = askedMinor > 0 ? [0, askedMinor] : [askedMinor, 0];
  return mulDiv(taxMinor, Math.max(low, Math.min(paidMinor, high)), askedMinor);
}

/** Money that moved on a day, without tax. */
export interface Receipt {
  readonly invoice: PaidInvoice;
  /** Null: a credit, or a final invoice that asks for nothing more, shifted what is tax in what was paid. */
  readonly paymentId: string | null;
  readonly on: string;
  /** It goes back to the buyer, or was credited and is to go back. */
  readonly back: boolean;
  readonly netMinor: number;
  readonly taxMinor: number;
  /** Part of the tax for each of the invoice's `takenOff`; it lowers the tax of that place or rate. */
  readonly takenOff: readonly number[];
}

interface State {
  readonly paid: number;
  readonly asked: number;
  readonly tax: number;
  readonly isIssued: boolean;
}

const NONE: readonly number[] = [];

const isPlain = (invoice: PaidInvoice): boolean =>
  invoice.payments.length === 1 &&
  invoice.credits.length === 0 &&
  invoice.paidBeforeMinor === 0 &&
  invoice.issuedOn === undefined;

/** Tax in what was paid, and in it each part taken off for deposits taxed elsewhere. */
function taxIn({ paid, asked, tax, isIssued }: State, { takenOff = NONE }: PaidInvoice) {
  const of = (minor: number): number => (isIssued ? taxInPaid(paid, asked, minor) : 0);
  return { tax: of(tax), takenOff: takenOff === NONE ? NONE : takenOff.map(of) };
}

/** What happens to an invoice's money in a span, day by day. */
function eventsOf({ issuedOn, credits, payments }: PaidInvoice, { from, to }: YearSpan) {
  const nothing = { paymentId: null, back: false, paid: 0, asked: 0, tax: 0 };
  return [
    ...(issuedOn === undefined ? [] : [{ ...nothing, on: issuedOn }]),
    ...credits.map(({ on, minor, taxMinor }) => ({
      ...nothing,
      ...{ on, back: true, asked: -minor, tax: -taxMinor },
    })),
    ...payments.map(({ id: paymentId, on, minor: paid, back = false }) => ({
      ...nothing,
      ...{ on, paymentId, back, paid },
    })),
  ]
    .filter(({ on }) => from <= on && on <= to)
    .toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}

/** Net received on an invoice before a span, and each receipt in it. */
export function receiptsOf(
  invoice: PaidInvoice,
  span: YearSpan,
): { readonly beforeMinor: number; readonly receipts: readonly Receipt[] } {
  const { from, to } = span;
  const [only] = invoice.payments;
  // Nearly every invoice is paid once and whole.
  if (only !== undefined && isPlain(invoice) && from <= only.on && only.on <= to) {
    const { askedMinor: asked, taxMinor: all } = invoice;
    const { tax, takenOff } = taxIn({ paid: only.minor, asked, tax: all, isIssued: true }, invoice);
    const { id: paymentId, on, back = false } = only;
    const receipt = { invoice, paymentId, on, back, netMinor: only.minor - tax, taxMinor: tax, takenOff };
    return { beforeMinor: 0, receipts: [receipt] };
  }
  const earlier = invoice.credits.filter(({ on }) => on < from);
  let state: State = {
    paid: invoice.paidBeforeMinor,
    asked: earlier.reduce((so, one) => so - one.minor, invoice.askedMinor),
    tax: earlier.reduce((so, one) => so - one.taxMinor, invoice.taxMinor),
    isIssued: (invoice.issuedOn ?? '') < from,
  };
  let held = taxIn(state, invoice);
  const beforeMinor = state.paid - held.tax;
  const receipts = eventsOf(invoice, span).flatMap((event): Receipt[] => {
    const was = held;
    state = {
      paid: state.paid + event.paid,
      asked: state.asked + event.asked,
      tax: state.tax + event.tax,
      isIssued: state.isIssued || event.on >= (invoice.issuedOn ?? ''),
    };
    held = taxIn(state, invoice);
    const taxMinor = held.tax - was.tax;
    const netMinor = event.paid - taxMinor;
    const takenOff = held.takenOff.map((minor, at) => minor - (was.takenOff[at] ?? 0));
    if (netMinor === 0 && taxMinor === 0 && takenOff.every((minor) => minor === 0)) return [];
    return [
      { invoice, paymentId: event.paymentId, on: event.on, back: event.back, netMinor, taxMinor, takenOff },
    ];
  });
  return { beforeMinor, receipts };
}

/** What an entity earned and received, and when it came to earn. */
export interface EntityMoney {
  readonly earnedMinor: number;
  readonly receivedMinor: number;
  readonly receivedBeforeMinor: number;
  /** `open`: an order neither delivered nor ended by the end of the span; `now`: first earned in it. */
  readonly when: 'open' | 'now' | 'earlier';
}

type CashLineKey = 'deposits' | 'earlierDeposits' | 'notPaid' | 'paidOver' | 'earlierYears';

/** Why what came in for one entity differs from what it earned; only parts that are something. */
export function cashParts(entity: EntityMoney): readonly (readonly [CashLineKey, number])[] {
  const { when, earnedMinor, receivedMinor, receivedBeforeMinor } = entity;
  const difference = receivedMinor - earnedMinor;
  const stands = receivedBeforeMinor + difference;
  const parts: readonly (readonly [CashLineKey, number])[] =
    when === 'now'
      ? [
          // Nothing has no sign.
          ['earlierDeposits', 0 - receivedBeforeMinor],
          [stands < 0 ? 'notPaid' : 'paidOver', stands],
        ]
      : [[when === 'open' ? 'deposits' : 'earlierYears', difference]];
  return parts.filter(([, minor]) => minor !== 0);
}

/** Why receipts differ from what was earned; the lines add up to the difference. */
export function cashLines(entities: readonly EntityMoney[]): ReadonlyMap<CashLineKey, number> {
  const lines = new Map<CashLineKey, number>();
  for (const [key, minor] of entities.flatMap(cashParts)) lines.set(key, (lines.get(key) ?? 0) + minor);
  return lines;
}
