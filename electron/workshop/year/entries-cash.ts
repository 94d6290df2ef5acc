/** What stands behind the way from earned to received, and behind sales tax. */
import type { YearEntry } from '../../api/year.ts';
import { type EntityMoney, cashParts } from '../../domain/year-cash.ts';
import { incomeRows } from '../../storage/queries/money.ts';
import { taxDocuments } from '../../storage/queries/sheet-money.ts';
import type { Asked, Behind } from './entry-rows.ts';
import type { YearFacts } from './gather.ts';
import { type CashFact, entityOf } from './gather-cash.ts';
import { taxKeyOf } from './lines.ts';

type Told = Pick<YearEntry, 'on' | 'what' | 'who' | 'href'>;

/** What each order, sale or invoice is called, and its last day in the year. */
function entitiesTold({ cash, sold, span }: YearFacts): ReadonlyMap<string, Told> {
  const told = new Map<string, Told>();
  const put = (key: string, one: Told): void => {
    const had = told.get(key);
    if (had === undefined || one.on >= had.on) told.set(key, one);
  };
  const within = (on: string): string => (on < span.from ? span.from : on > span.to ? span.to : on);
  for (const invoice of cash.invoices)
    put(entityOf(invoice), {
      on: within(invoice.issued_on),
      what: `Invoice ${invoice.number}`,
      who: invoice.buyer_name,
      href: `#/invoices/${invoice.id}`,
    });
  for (const { sale, facts } of sold)
    put(sale.order_id === null ? `sale ${sale.id}` : `order ${sale.order_id}`, {
      on: within(facts.takenBackOn ?? facts.on),
      what: `${sale.serial}, ${sale.model_name}`,
      who: sale.buyer_name,
      href: sale.invoice_id === null ? `#/builds/${sale.build_id}` : `#/invoices/${sale.invoice_id}`,
    });
  for (const one of cash.kept)
    put(`order ${one.orderId}`, {
      on: one.on,
      what: 'Kept of the deposit when the order was cancelled',
      who: one.buyerName,
      href: `#/orders/${one.orderId}`,
    });
  return told;
}

/** Income on no invoice that was earned and received in different years. */
function awaitedEntries({ db, facts: { span } }: Asked): Behind {
  const inYear = (on: string | null): boolean => on !== null && span.from <= on && on <= span.to;
  return incomeRows(db, { from: '0001-01-01', to: '9999-12-31' })
    .map((row) => ({ row, factor: Number(inYear(row.received_on)) - Number(inYear(row.earned_on)) }))
    .filter(({ factor }) => factor !== 0)
    .map(({ row, factor }) => ({
      id: row.id,
      on: factor > 0 ? (row.received_on ?? span.to) : row.earned_on,
      what: `${row.month === null ? row.note : `Supporters of ${row.month.slice(0, 7)}`}${
        factor > 0 ? ', earned in another year' : ', not received in the year'
      }`,
      who: row.payer,
      amount: factor * row.gross_minor,
      href: '#/money/income',
    }));
}

/** Orders, sales and invoices behind a line from earned to received. */
export function cashBridgeEntries(asked: Asked): Behind {
  const { facts, rest } = asked;
  if (rest === 'awaited') return awaitedEntries(asked);
  const told = entitiesTold(facts);
  const partOf = (entity: EntityMoney): number => cashParts(entity).find(([key]) => key === rest)?.[1] ?? 0;
  return facts.cash.entities
    .map((entity) => ({ entity, amount: partOf(entity) }))
    .filter(({ amount }) => amount !== 0)
    .map(({ entity: { key }, amount }) => {
      const plain = {
        on: facts.span.to,
        what: 'Order',
        who: '',
        href: `#/orders/${key.slice(key.indexOf(' ') + 1)}`,
      };
      return { id: key, ...(told.get(key) ?? plain), amount };
    });
}

const receiptRow = (fact: CashFact): YearEntry => ({
  id: fact.id,
  on: fact.on,
  what: fact.what,
  who: fact.who,
  amount: fact.taxMinor,
  href: fact.invoiceId === null ? '#/invoices/sales' : `#/invoices/${fact.invoiceId}`,
});

const taxed = (facts: YearFacts, key: string): readonly CashFact[] =>
  facts.cash.receipts.filter(
    ({ tax, taxMinor }) => taxMinor !== 0 && taxKeyOf(tax.place, tax.label, tax.ratePpm) === key,
  );

/** Payments with the tax of one place and rate in them. */
export const taxGotEntries = ({ facts, rest }: Asked): Behind => taxed(facts, rest).map(receiptRow);

/** Invoices and credits, and sales without one, whose tax of one place and rate became due. */
export const taxDueEntries = ({ db, facts, rest }: Asked): Behind => [
  ...taxDocuments(db, facts.span)
    .filter((row) => taxKeyOf(row.place ?? '', row.label, row.rate_ppm) === rest)
    .map((row) => ({
      id: row.id,
      on: row.on_date,
      what: row.number,
      who: row.buyer_name,
      amount: row.due_minor,
      href: `#/invoices/${row.id}`,
    })),
  ...taxed(facts, rest)
    .filter((fact) => fact.invoiceId === null)
    .map(receiptRow),
];
