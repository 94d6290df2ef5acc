/** Income of a year as sources of the sheet: by the day it was earned, and by the day it was paid. Without sales tax. */
import type { SheetSource } from '../../domain/preparer.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { Span } from '../../storage/queries/expenses.ts';
import { keptDepositsByOrder, serviceIncome } from '../../storage/queries/income-beside-knives.ts';
import { incomeByKind } from '../../storage/queries/money.ts';
import { listSales, type SaleRecord } from '../../storage/queries/selling.ts';
import { salesWithoutInvoice } from '../../storage/queries/sheet-money.ts';
import { netOf, standingOf } from '../costs/net.ts';
import { named } from './sources.ts';
import { receivedIn } from './receipts.ts';

/** All sales of any year one maker can have. */
const EVERY = 1_000_000;

/** Sales of a year, those taken back among them. */
export const salesOf = (db: ReadDb, { from, to }: Span): readonly SaleRecord[] =>
  listSales(db, { from, to }, EVERY, 0);

interface Earned {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  /** What credits and returns took off, below zero. */
  readonly refundsMinor: number;
}

/** Gross and refunds apart: together they are what still stands of the sale. */
function earnedOf(sale: SaleRecord): Earned {
  const { priceMinor, shippingMinor } = netOf(sale);
  const stands = standingOf(sale);
  const left = sale.taken_back_on === null ? stands.priceMinor + stands.shippingMinor : sale.kept_minor;
  return { priceMinor, shippingMinor, refundsMinor: left - priceMinor - shippingMinor };
}

/** What sales without an invoice of their own brought: it counts as paid on the day of the sale. */
function onTheSpot(db: ReadDb, span: Span, sales: readonly SaleRecord[]): Earned {
  const alone = new Set(salesWithoutInvoice(db, span));
  const rows = sales.filter(({ id }) => alone.has(id)).map(earnedOf);
  return {
    priceMinor: sumOf(rows, (row) => row.priceMinor),
    shippingMinor: sumOf(rows, (row) => row.shippingMinor),
    refundsMinor: sumOf(rows, (row) => row.refundsMinor),
  };
}

function besideKnives(db: ReadDb, span: Span): readonly SheetSource[] {
  const earned = new Map(incomeByKind(db, span).map((row) => [row.kind, row.gross_minor]));
  const cash = new Map(incomeByKind(db, span, 'received_on').map((row) => [row.kind, row.gross_minor]));
  return ['supporters', 'content', 'other'].map((kind) =>
    named(`income.${kind}`, cash.get(kind) ?? 0, earned.get(kind) ?? 0),
  );
}

/** Every source of income; their sums are receipts of the year, and income earned in it. */
export function incomeOf(db: ReadDb, span: Span, sales: readonly SaleRecord[]): readonly SheetSource[] {
  const received = receivedIn(db, span);
  const spot = onTheSpot(db, span, sales);
  const rows = sales.map(earnedOf);
  const service = sumOf(serviceIncome(db, span.from, span.to), (row) => row.netMinor);
  const kept = sumOf(keptDepositsByOrder(db, span.from, span.to), (row) => row.netMinor);
  return [
    named(
      'income.knives',
      received.knivesMinor + spot.priceMinor,
      sumOf(rows, (row) => row.priceMinor),
    ),
    named(
      'income.shipping',
      received.shippingMinor + spot.shippingMinor,
      sumOf(rows, (row) => row.shippingMinor),
    ),
    named('income.deposits', received.depositsMinor, 0),
    named(
      'income.refunds',
      received.refundsMinor + spot.refundsMinor,
      sumOf(rows, (row) => row.refundsMinor),
    ),
    named('income.service', received.serviceMinor, service),
    named('income.kept', 0, kept),
    ...besideKnives(db, span),
  ];
}
