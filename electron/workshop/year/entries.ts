/** What stands behind a figure of the year, down to the sale, the invoice, the expense, the knife or the lot. */
import { missing } from '../../api/errors.ts';
import { contributionOf } from '../../domain/earnings.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { expenseRows } from '../../storage/queries/expenses.ts';
import { incomeRows, mileageRows } from '../../storage/queries/money.ts';
import { hourEntries, knivesBegun } from '../../storage/queries/year-entries.ts';
import { cashBridgeEntries, taxDueEntries, taxGotEntries } from './entries-cash.ts';
import { bridgeEntries, goodsEntries, stockEntries } from './entries-goods.ts';
import { type Asked, type Behind, costEntries, rowsOf, scrapEntries, soldEntries } from './entry-rows.ts';
import type { YearFacts } from './gather.ts';
import type { SoldFact } from './gather-sales.ts';

const EVERY = { limit: 1_000_000, offset: 0 };

const expenseEntries = (
  db: ReadDb,
  facts: YearFacts,
  wanted: { kind?: string; categoryId?: string },
): Behind =>
  expenseRows(db, { ...facts.span, categoryId: wanted.categoryId }, EVERY)
    .filter((row) => wanted.kind === undefined || row.kind === wanted.kind)
    .map((row) => ({
      id: row.id,
      on: row.cost_on,
      what: row.note === '' ? row.category : `${row.category}: ${row.note}`,
      who: row.payee,
      amount: row.cost_minor,
      href: '#/money',
    }))
    .toReversed();

const incomeEntries = (db: ReadDb, facts: YearFacts, kind: string): Behind =>
  incomeRows(db, facts.span)
    .filter((row) => row.kind === kind)
    .map((row) => ({
      id: row.id,
      on: row.earned_on,
      what:
        row.note === ''
          ? row.month === null
            ? 'Income'
            : `Supporters of ${row.month.slice(0, 7)}`
          : row.note,
      who: row.payer,
      amount: row.gross_minor,
      href: '#/money/income',
    }))
    .toReversed();

const postageEntries = ({ db, facts }: Asked): Behind => [
  ...soldEntries(facts, ({ delta }) => delta.postageMinor),
  ...facts.servicePostage.map((row) => ({
    id: row.id,
    on: row.on_date,
    what: 'Sent back after service',
    who: row.buyer_name ?? '',
    amount: row.postage_paid_minor,
    href: '#/invoices/service',
  })),
  ...expenseEntries(db, facts, { kind: 'postage' }),
];

const feeEntries = ({ facts }: Asked): Behind => [
  ...soldEntries(facts, ({ ownFeeMinor }) => ownFeeMinor),
  ...facts.fees.map((row) => ({
    id: row.id,
    on: row.on_date,
    what: `Charge on ${row.number}`,
    who: row.buyer_name,
    amount: row.fee_minor,
    href: `#/invoices/${row.invoice_id}`,
  })),
];

const platformEntries = ({ db, facts }: Asked): Behind => [
  ...incomeRows(db, facts.span)
    .filter((row) => row.fee_minor !== 0)
    .map((row) => ({
      id: row.id,
      on: row.earned_on,
      what: row.month === null ? 'Fee' : `Fee for ${row.month.slice(0, 7)}`,
      who: row.payer,
      amount: row.fee_minor,
      href: '#/money/income',
    }))
    .toReversed(),
  ...expenseEntries(db, facts, { kind: 'platformFee' }),
];

function overheadEntries({ db, facts, rest }: Asked): Behind {
  if (rest === 'mileage')
    return mileageRows(db, facts.span)
      .map((row) => ({
        id: row.id,
        on: row.on_date,
        what: row.purpose,
        who: `${String(row.distance_milli / 1000)} ${row.unit}`,
        amount: row.amount_minor,
        href: '#/money/mileage',
      }))
      .toReversed();
  if (rest === 'freight')
    return facts.freight.map((row) => ({
      id: row.id,
      on: row.on_date,
      what: row.reference === '' ? 'Purchase' : `Purchase ${row.reference}`,
      who: row.supplier,
      amount: row.minor,
      href: `#/stock/purchases/${row.id}`,
    }));
  if (rest !== 'depreciation' && rest !== 'disposal') return expenseEntries(db, facts, { categoryId: rest });
  return facts.depreciation
    .map((row) => ({
      id: row.assetId,
      on: facts.span.to,
      what: row.name,
      who: '',
      amount: rest === 'depreciation' ? row.minor : 0 - (row.gainMinor ?? 0),
      href: `#/money/assets/${row.assetId}`,
    }))
    .filter((entry) => entry.amount !== 0);
}

const serviceEntries = ({ facts }: Asked): Behind =>
  facts.cash.service.map((one, at) => ({
    id: `${one.invoiceId}~${String(at)}`,
    on: one.on,
    what: `Service, ${one.number}`,
    who: one.who,
    amount: one.netMinor,
    href: `#/invoices/${one.invoiceId}`,
  }));

const keptEntries = ({ facts }: Asked): Behind =>
  facts.cash.kept.map((one, at) => ({
    id: `${one.orderId}~${String(at)}`,
    on: one.on,
    what: one.later
      ? 'Credited of a kept deposit after all'
      : 'Kept of the deposit when the order was cancelled',
    who: one.buyerName,
    amount: one.netMinor,
    href: `#/orders/${one.orderId}`,
  }));

function cashEntries({ db, facts, rest }: Asked): Behind {
  if (rest === 'supporters' || rest === 'content' || rest === 'other')
    return incomeRows(db, { from: '0001-01-01', to: '9999-12-31' })
      .filter(
        ({ kind, received_on: on }) =>
          kind === rest && on !== null && on >= facts.span.from && on <= facts.span.to,
      )
      .map((row) => ({
        id: row.id,
        on: row.received_on ?? row.earned_on,
        what: row.month === null ? row.note : `Supporters of ${row.month.slice(0, 7)}`,
        who: row.payer,
        amount: row.gross_minor,
        href: '#/money/income',
      }))
      .toReversed();
  return facts.cash.receipts
    .filter((one) => one.kind === rest && one.netMinor !== 0)
    .map((one) => ({
      id: one.id,
      on: one.on,
      what: one.what,
      who: one.who,
      amount: one.netMinor,
      href: one.invoiceId === null ? '#/invoices/sales' : `#/invoices/${one.invoiceId}`,
    }))
    .toSorted((a, b) => (a.on < b.on ? -1 : 1));
}

function wentEntries({ db, facts, rest }: Asked): Behind {
  if (rest === 'makings') return rowsOf(hourEntries(db, facts.span, { making: true }));
  const dot = rest.indexOf('.');
  const [group, name] = [rest.slice(0, dot), rest.slice(dot + 1)];
  return rowsOf(hourEntries(db, facts.span, group === 'stage' ? { stage: name } : { work: name }));
}

function hoursEntries(asked: Asked): Behind {
  const { db, facts, rest } = asked;
  return rest === 'bench' ? rowsOf(knivesBegun(db, facts.span)) : wentEntries(asked);
}

function workedEntries({ db, facts, rest }: Asked): Behind {
  if (rest === 'makings') return rowsOf(hourEntries(db, facts.span, { making: true }));
  return rowsOf(hourEntries(db, facts.span, { all: rest === 'bench' ? 'bench' : 'other' }));
}

const soldPicks: Readonly<Record<string, (fact: SoldFact) => number>> = {
  'income.knives': ({ delta }) => delta.priceMinor,
  'income.shipping': ({ delta }) => delta.shippingMinor,
  'rates.sold': ({ delta }) => delta.count,
  'rates.soldMinutes': ({ delta }) => delta.minutes,
  contribution: ({ delta, directMinor }) => contributionOf({ ...delta, directMinor }),
};

const costPicks: Readonly<Record<string, (fact: SoldFact) => number>> = {
  'costs.materials': ({ costs }) => costs.materials,
  'costs.consumables': ({ costs }) => costs.consumables,
  'costs.energy': ({ costs }) => costs.energy,
  'costs.packaging': ({ costs }) => costs.packaging,
};

const single: Readonly<Record<string, (asked: Asked) => Behind>> = {
  'income.service': serviceEntries,
  'income.kept': keptEntries,
  'costs.postage': postageEntries,
  'costs.fees': feeEntries,
  'costs.platform': platformEntries,
  'costs.scrap': scrapEntries,
};

const families: Readonly<Record<string, (asked: Asked) => Behind>> = {
  income: ({ db, facts, rest }) => incomeEntries(db, facts, rest),
  channel: ({ facts, rest }) =>
    soldEntries(facts, ({ sale, delta }) =>
      sale.channel_id === rest ? delta.priceMinor + delta.shippingMinor : 0,
    ),
  overhead: overheadEntries,
  hours: hoursEntries,
  worked: workedEntries,
  went: wentEntries,
  cash: cashEntries,
  cashBridge: cashBridgeEntries,
  bridge: bridgeEntries,
  stock: stockEntries,
  goods: goodsEntries,
  taxDue: taxDueEntries,
  taxGot: taxGotEntries,
};

/** Every entry behind a figure, in the order of days. @throws FaultError for a figure that has none */
export function entriesOf(db: ReadDb, facts: YearFacts, key: string): Behind {
  const sold = soldPicks[key];
  if (sold !== undefined) return soldEntries(facts, sold);
  const cost = costPicks[key];
  if (cost !== undefined) return costEntries(facts, cost);
  const [family = '', ...rest] = key.split('.');
  const make = single[key] ?? families[family];
  if (make === undefined)
    throw missing('There are no entries to show behind this figure. Open the report again.');
  return make({ db, facts, rest: rest.join('.') });
}

/** Their sum; what was rounded one by one is told by the figure itself. */
export const sumOfEntries = (entries: Behind): number => sumOf(entries, (entry) => entry.amount);
