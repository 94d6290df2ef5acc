/** What stands behind a figure of the year, down to the sale, the invoice, the expense, the knife or the lot. */
import type { YearEntry } from '../../api/year.ts';
import { missing } from '../../api/errors.ts';
import { microToMinor } from '../../domain/money.ts';
import { contributionOf } from '../../domain/earnings.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { expenseRows } from '../../storage/queries/expenses.ts';
import { incomeRows, mileageRows } from '../../storage/queries/money.ts';
import {
  chargeEntries,
  type EntryRow,
  hourEntries,
  knivesBegun,
  looseMovements,
  makingChargeEntries,
} from '../../storage/queries/year-entries.ts';
import type { YearFacts } from './gather.ts';
import type { SoldFact } from './gather-sales.ts';

type Behind = readonly YearEntry[];
interface Asked {
  readonly db: ReadDb;
  readonly facts: YearFacts;
  /** What follows the figure's own name in the key. */
  readonly rest: string;
}

const EVERY = { limit: 1_000_000, offset: 0 };

const soldEntries = (facts: YearFacts, pick: (fact: SoldFact) => number): Behind =>
  facts.sold
    .map((fact): YearEntry => {
      const { sale, facts: told } = fact;
      const isNow = told.on >= facts.span.from;
      return {
        id: sale.id,
        on: isNow ? told.on : (told.takenBackOn ?? told.credits.at(-1)?.on ?? facts.span.to),
        what: `${sale.serial}, ${sale.model_name}${isNow ? '' : ' (sold before)'}`,
        who: sale.buyer_name,
        amount: pick(fact),
        href: sale.invoice_id === null ? `#/builds/${sale.build_id}` : `#/invoices/${sale.invoice_id}`,
      };
    })
    .filter((entry) => entry.amount !== 0);

const costEntries = (facts: YearFacts, pick: (fact: SoldFact) => number): Behind => {
  const builds = new Map(facts.sold.map(({ sale }) => [sale.id, sale.build_id]));
  return soldEntries(facts, pick).map((entry) => ({
    ...entry,
    href: `#/builds/${builds.get(entry.id) ?? ''}/cost`,
  }));
};

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

const hrefOf = (row: EntryRow): string => {
  if (row.build_id !== null) return `#/builds/${row.build_id}`;
  if (row.making_id !== null) return `#/stock/makings/${row.making_id}`;
  return row.lot_id === null ? '#/hours/sessions' : `#/stock/lots/${row.lot_id}`;
};

const rowsOf = (
  rows: readonly EntryRow[],
  amountOf: (amount: number) => number = (amount) => amount,
): Behind =>
  rows.map((row) => ({
    id: row.id,
    on: row.on_date,
    what: row.what,
    who: row.who,
    amount: amountOf(row.amount),
    href: hrefOf(row),
  }));

const endedEntries = (facts: YearFacts, state: string): Behind =>
  facts.ended
    .filter((knife) => knife.state === state)
    .map((knife) => ({
      id: knife.id,
      on: knife.on,
      what: `${knife.serial}, ${knife.modelName}`,
      who: knife.reason,
      amount: knife.directMinor,
      href: `#/builds/${knife.id}/cost`,
    }));

const scrapEntries = ({ facts }: Asked): Behind => [
  ...endedEntries(facts, 'scrapped'),
  ...facts.makings.map((making) => ({
    id: making.id,
    on: making.ended_on ?? facts.span.to,
    what: making.title,
    who: making.end_reason,
    amount: microToMinor(making.value_micro, facts.decimals),
    href: `#/stock/makings/${making.id}`,
  })),
];

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
  facts.cash.kept.map((one) => ({
    id: one.orderId,
    on: one.on,
    what: 'Kept of the deposit when the order was cancelled',
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

/** Rows of the ledger behind the lines of the bridge, micro. */
const bridgeRows: Readonly<Record<string, (db: ReadDb, facts: YearFacts) => readonly EntryRow[]>> = {
  supplies: (db, { span }) => chargeEntries(db, span, 'flat', ['consumable']),
  energy: (db, { span }) => chargeEntries(db, span, 'flat', ['energy']),
  otherCharges: (db, { span }) => chargeEntries(db, span, 'flat', ['material', 'packaging']),
  fires: (db, { span }) => chargeEntries(db, span, 'burn', ['consumable', 'energy', 'material', 'packaging']),
  makings: (db, { span }) => makingChargeEntries(db, span),
  counts: (db, { span }) => [
    ...looseMovements(db, span, true),
    ...chargeEntries(db, span, 'count', ['consumable', 'energy', 'material', 'packaging']),
  ],
  outside: (db, { span }) => looseMovements(db, span, false),
};

/** Names of the bridge's lines that open. */
export const bridgeOpens = (key: string): boolean => key === 'kept' || Object.hasOwn(bridgeRows, key);

function bridgeEntries({ db, facts, rest }: Asked): Behind {
  if (rest === 'kept')
    return endedEntries(facts, 'kept').map((entry) => ({ ...entry, amount: -entry.amount }));
  const rows = bridgeRows[rest]?.(db, facts) ?? [];
  return rowsOf(rows, (micro) => microToMinor(micro, facts.decimals));
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
  bridge: bridgeEntries,
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
