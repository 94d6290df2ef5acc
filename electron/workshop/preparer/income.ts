/**
 * Income of a year as sources of the sheet: by the day it was earned, and by the day it was paid. Without sales tax. It is
 * reckoned once for the yearly report and this sheet; a knife that comes back, or a credit, counts on its own day.
 */
import type { SheetSource } from '../../domain/preparer.ts';
import { sumOf } from '../../domain/integers.ts';
import type { CashFact } from '../year/gather-cash.ts';
import type { YearFacts } from '../year/gather.ts';
import type { SoldFact } from '../year/gather-sales.ts';
import { named } from './sources.ts';

interface Earned {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  /** What credits and returns took off in the year, below zero; of sales of years before it too. */
  readonly refundsMinor: number;
}

/** Gross and refunds apart: together they are what the sale brought to the year. */
function earnedOf({ facts, delta }: SoldFact, from: string): Earned {
  const now = facts.on >= from;
  const gross = {
    priceMinor: now ? facts.priceMinor : 0,
    shippingMinor: now ? facts.shippingMinor : 0,
  };
  const brought = delta.priceMinor + delta.shippingMinor;
  return { ...gross, refundsMinor: brought - gross.priceMinor - gross.shippingMinor };
}

function besideKnives({ incomes, receivedIncomes }: YearFacts): readonly SheetSource[] {
  const of = (rows: YearFacts['incomes'], kind: string): number =>
    sumOf(
      rows.filter((row) => row.kind === kind),
      (row) => row.gross_minor,
    );
  return ['supporters', 'content', 'other'].map((kind) =>
    named(`income.${kind}`, of(receivedIncomes, kind), of(incomes, kind)),
  );
}

/** Every source of income; their sums are receipts of the year, and income earned in it. */
export function incomeOf(facts: YearFacts): readonly SheetSource[] {
  const rows = facts.sold.map((sold) => earnedOf(sold, facts.span.from));
  const { receipts, service, kept } = facts.cash;
  const came = (pick: (fact: CashFact) => number, kind?: CashFact['kind']): number =>
    sumOf(
      receipts.filter((fact) => !fact.back && (kind === undefined || fact.kind === kind)),
      pick,
    );
  const net = (fact: CashFact): number => fact.netMinor;
  const shipping = came((fact) => fact.shippingMinor);
  const back = sumOf(
    receipts.filter((fact) => fact.back),
    net,
  );
  return [
    named(
      'income.knives',
      came(net, 'knives') - shipping,
      sumOf(rows, (row) => row.priceMinor),
    ),
    named(
      'income.shipping',
      shipping,
      sumOf(rows, (row) => row.shippingMinor),
    ),
    named('income.deposits', came(net, 'deposits'), 0),
    named(
      'income.refunds',
      back,
      sumOf(rows, (row) => row.refundsMinor),
    ),
    named(
      'income.service',
      came(net, 'service'),
      sumOf(service, (one) => one.netMinor),
    ),
    named(
      'income.kept',
      0,
      sumOf(kept, (one) => one.netMinor),
    ),
    ...besideKnives(facts),
  ];
}
