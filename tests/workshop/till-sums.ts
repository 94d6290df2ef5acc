/** What the money of orders, sales and invoices must come to: own sums over the raw rows, asked of nothing the house reckons. */
import type { Till } from './till-scene.ts';

const sum = (numbers: readonly number[]): number => numbers.reduce((so, one) => so + one, 0);

/** Every row that money hangs on. */
export function rawRows({ db }: Till) {
  return {
    invoices: db.all(db.q.selectFrom('invoices').selectAll().orderBy('issued_on')),
    payments: db.all(db.q.selectFrom('payments').selectAll().orderBy('seq')),
    sales: db.all(db.q.selectFrom('sales').selectAll()),
    orders: db.all(db.q.selectFrom('orders').selectAll().orderBy('number')),
    lots: db.all(db.q.selectFrom('lots').selectAll()),
    movements: db.all(db.q.selectFrom('movements').selectAll()),
    builds: db.all(db.q.selectFrom('builds').selectAll()),
    links: db.all(db.q.selectFrom('order_builds').selectAll()),
  };
}
export type Raw = ReturnType<typeof rawRows>;

/** What one invoice asks at the end of a day, credits taken off, and what was paid on it. */
export function standingOf(raw: Raw, id: string, day = '9999') {
  const own = raw.invoices.filter((row) => row.issued_on <= day && (row.id === id || row.credits_id === id));
  const paid = raw.payments.filter((row) => row.invoice_id === id && row.on_date <= day);
  return {
    askedMinor: sum(own.map((row) => row.total_minor - row.prepaid_minor)),
    taxMinor: sum(own.map((row) => row.tax_minor - row.prepaid_tax_minor)),
    netMinor: sum(own.map((row) => row.net_minor)),
    paidMinor: sum(paid.map((row) => row.amount_minor)),
  };
}

const plain = (raw: Raw) => raw.invoices.filter((row) => row.kind !== 'credit');
const ofOrder = (raw: Raw, id: string) => plain(raw).filter((row) => row.order_id === id);

/** Ids of what belongs together: an order with all its invoices, else each invoice alone. */
export const families = (raw: Raw): readonly (readonly string[])[] => [
  ...raw.orders.map((order) => ofOrder(raw, order.id).map((row) => row.id)),
  ...plain(raw)
    .filter((row) => row.order_id === null)
    .map((row) => [row.id]),
];

/** Paid on the deposits of an order up to a day. */
const depositsOf = (raw: Raw, orderId: string, day: string): number =>
  sum(
    ofOrder(raw, orderId)
      .filter((row) => row.kind === 'deposit')
      .map((row) => standingOf(raw, row.id, day).paidMinor),
  );

const askedOfDeposits = (raw: Raw, orderId: string, day: string): number =>
  sum(
    ofOrder(raw, orderId)
      .filter((row) => row.kind === 'deposit')
      .map((row) => standingOf(raw, row.id, day).askedMinor),
  );

/** Customers' money: deposits paid, neither settled by a delivery nor kept nor given back. */
export const heldMinor = (raw: Raw, day: string): number =>
  sum(
    raw.orders.map(({ id, agreed_on: agreed, ended_on: ended, state }) => {
      if (agreed === null || agreed > day) return 0;
      const paid = depositsOf(raw, id, day);
      if (ended === null || ended > day) return Math.max(0, paid);
      return state === 'cancelled' ? Math.max(0, paid - askedOfDeposits(raw, id, day)) : 0;
    }),
  );

/** Tax on what was kept, told from its net; where prices hold the tax, that of the least sum that leaves so much. */
function keptTax(net: number, { tax_rate_ppm: ppm, tax_inclusive: inside }: Raw['sales'][number]): number {
  const tax = Math.round((net * ppm) / 1_000_000);
  if (inside === 0) return tax;
  const leaves = (gross: number): number => gross - Math.round((gross * ppm) / (1_000_000 + ppm));
  return [tax - 1, tax, tax + 1].find((one) => leaves(net + one) === net) ?? tax;
}

/** What a sale without an invoice stands at, without tax: paid on its day, and what was kept once it came back. */
function saleNet(sale: Raw['sales'][number], day: string): number {
  if (sale.on_date > day) return 0;
  if (sale.taken_back_on !== null && sale.taken_back_on <= day) return sale.kept_minor;
  return sale.price_minor + sale.shipping_minor - (sale.tax_inclusive === 1 ? sale.tax_minor : 0);
}
function saleTax(sale: Raw['sales'][number], day: string): number {
  if (sale.on_date > day) return 0;
  if (sale.taken_back_on === null || sale.taken_back_on > day) return sale.tax_minor;
  return sale.tax_minor === 0 || sale.kept_minor === 0 ? 0 : keptTax(sale.kept_minor, sale);
}

const isInvoiced = (raw: Raw, sale: { readonly id: string }): boolean =>
  raw.invoices.some((row) => row.sale_id === sale.id);

/** Earned up to the end of a day, without tax: knives and shipping, service, deposits kept. */
export function earned(raw: Raw, day: string) {
  const knives = raw.sales.map((sale) => {
    const own = plain(raw).find((row) => row.sale_id === sale.id);
    if (own === undefined) return saleNet(sale, day);
    if (sale.on_date > day) return 0;
    // The sale counts on its day, a credit on its own.
    const credits = raw.invoices.filter((row) => row.credits_id === own.id && row.issued_on <= day);
    return own.net_minor + sum(credits.map((row) => row.net_minor));
  });
  const service = plain(raw).filter((row) => row.kind === 'service');
  const kept = raw.orders.flatMap(({ id, state, ended_on: ended }) =>
    state === 'cancelled' && (ended ?? '9999') <= day
      ? ofOrder(raw, id).map((row) => standingOf(raw, row.id, day).netMinor)
      : [],
  );
  return {
    knives: sum(knives),
    service: sum(service.map((row) => standingOf(raw, row.id, day).netMinor)),
    kept: sum(kept),
  };
}

/** All money that moved up to a day, tax in it; sales without an invoice were paid on the spot. */
export const cash = (raw: Raw, day: string): number =>
  sum(raw.payments.filter((row) => row.on_date <= day).map((row) => row.amount_minor)) +
  sum(
    raw.sales.filter((sale) => !isInvoiced(raw, sale)).map((sale) => saleNet(sale, day) + saleTax(sale, day)),
  );

/** Tax that counted up to a day, by rate; that of a sale without an invoice on its day. */
export function taxDue(raw: Raw, day: string): ReadonlyMap<number, number> {
  const due = new Map<number, number>();
  const add = (ppm: number, minor: number): unknown => due.set(ppm, (due.get(ppm) ?? 0) + minor);
  for (const row of raw.invoices) {
    if ((row.tax_on ?? row.issued_on) > day) continue;
    add(row.tax_rate_ppm, row.tax_minor);
    if (row.prepaid_tax_minor === 0) continue;
    // What its deposits were taxed for goes back under the rate it was taken at.
    const { deposits } = JSON.parse(row.particulars) as { deposits: { number: string; taxMinor: number }[] };
    for (const { number, taxMinor } of deposits)
      add(raw.invoices.find((one) => one.number === number)?.tax_rate_ppm ?? 0, -taxMinor);
  }
  for (const sale of raw.sales) if (!isInvoiced(raw, sale)) add(sale.tax_rate_ppm, saleTax(sale, day));
  return due;
}

/** Fees up to a day: of sales on their day, of deposits and services when paid; one taken back goes with its payment. */
export function fees(raw: Raw, day: string): number {
  const sold = raw.sales.filter((sale) => sale.on_date <= day);
  const paid = raw.payments.filter((row) => row.on_date <= day);
  const feeOf = new Map(raw.payments.map((row) => [row.id, row.fee_minor]));
  return (
    sum(sold.map((sale) => sale.fee_minor - sale.deposit_fee_minor)) +
    sum(paid.map((row) => row.fee_minor - (feeOf.get(row.reverses_id ?? '') ?? 0)))
  );
}
