/** Use-cases: what was spent. An expense is never rewritten; a mistake is taken back by a row of the opposite sum. */
import type { Expense, ExpenseKind, ExpenseList } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { costOf } from '../../domain/expenses.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  addToExpense,
  expenseLike,
  type ExpenseRow,
  expenseRow,
  expenseRows,
  expenseTotals,
  insertExpense,
  payeesBefore,
} from '../../storage/queries/expenses.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { notInFuture } from '../selling/sale.ts';
import { needCategory } from './categories.ts';
import { demandSound, demandStanding } from './checks.ts';

const toExpense = (row: ExpenseRow): Expense => ({
  id: row.id,
  categoryId: row.category_id,
  category: row.category,
  kind: row.kind as ExpenseKind,
  costOn: row.cost_on,
  paidOn: row.paid_on,
  payee: row.payee,
  amountMinor: row.amount_minor,
  taxMinor: row.tax_minor,
  sharePpm: row.share_ppm,
  costMinor: row.cost_minor,
  receipt: row.receipt === 1,
  files: row.files,
  note: row.note,
  reason: row.reason,
  reversesId: row.reverses_id,
  reversedById: row.reversed_by_id,
});

/** Expenses of a span of days, the latest first, with what they come to together. */
export function expenses(ctx: QueryContext, input: Parsed<'money.expenses'>): ExpenseList {
  const { limit, offset, ...filter } = input;
  const totals = expenseTotals(ctx.db, filter);
  return {
    rows: expenseRows(ctx.db, filter, { limit, offset }).map(toExpense),
    total: totals.n,
    costMinor: totals.cost_minor,
    amountMinor: totals.amount_minor,
  };
}

/** Payees written before with the category of their last expense. */
export const payees = (db: ReadDb): readonly { readonly payee: string; readonly categoryId: string }[] =>
  payeesBefore(db).map(({ payee, last }) => ({ payee, categoryId: last.slice(last.indexOf('|') + 1) }));

function needExpense(db: ReadDb, id: string): ExpenseRow {
  const row = expenseRow(db, id);
  if (row === undefined) throw missing('This expense is not in the books.');
  return row;
}

/** What is spent, as one row. */
export interface Spent {
  readonly categoryId: string;
  readonly costOn: string;
  readonly paidOn: string | null;
  readonly payee: string;
  readonly amountMinor: number;
  readonly taxMinor: number;
  readonly sharePpm: number;
  readonly receipt: boolean;
  readonly note: string;
  readonly repeat?: { readonly id: string; readonly on: string } | undefined;
}

/** Books an expense. @throws FaultError naming the field that is wrong */
export function bookExpense(ctx: CommandContext, spent: Spent): Expense {
  const { costOn, paidOn, amountMinor, taxMinor } = spent;
  demandSound(ctx, { costOn, paidOn }, { amountMinor });
  needCategory(ctx.db, spent.categoryId);
  if (taxMinor > amountMinor)
    throw invalid('The tax within it cannot be more than the whole sum. Check both.', 'taxMinor');
  const id = ctx.newId();
  insertExpense(ctx.db, {
    id,
    category_id: spent.categoryId,
    cost_on: costOn,
    paid_on: paidOn,
    payee: spent.payee,
    amount_minor: amountMinor,
    tax_minor: taxMinor,
    share_ppm: spent.sharePpm,
    cost_minor: costOf(spent),
    receipt: spent.receipt ? 1 : 0,
    note: spent.note,
    repeat_id: spent.repeat?.id ?? null,
    repeat_on: spent.repeat?.on ?? null,
    reason: '',
    reverses_id: null,
  });
  return toExpense(needExpense(ctx.db, id));
}

/** Books an expense a person wrote; the same once more is asked about first. */
export function addExpense(ctx: CommandContext, input: Parsed<'money.addExpense'>): Expense {
  const like = input.again ? undefined : expenseLike(ctx.db, input);
  if (like !== undefined) {
    const sum = formatMinor(like.amount_minor, houseOf(ctx.db).currency, { symbol: true });
    throw refused(
      `${sum} to ${like.payee === '' ? 'the same payee' : like.payee} on ${like.cost_on} is in the books already. If this is another one, say so and enter it again.`,
      'again',
    );
  }
  return bookExpense(ctx, input);
}

/** Says when something owed was paid. */
export function paid(ctx: CommandContext, { id, on }: Parsed<'money.paid'>): Expense {
  const row = needExpense(ctx.db, id);
  if (row.reverses_id !== null || row.reversed_by_id !== null)
    throw refused('This expense was taken back; nothing is owed on it.');
  if (row.paid_on !== null) throw refused(`This was paid on ${row.paid_on} already.`);
  notInFuture(ctx, on, 'on');
  addToExpense(ctx.db, id, { paid_on: on });
  return toExpense(needExpense(ctx.db, id));
}

/** Says that a receipt on paper was found and is kept. */
export function receiptKept(ctx: CommandContext, { id }: Parsed<'money.receiptKept'>): Expense {
  needExpense(ctx.db, id);
  addToExpense(ctx.db, id, { receipt: 1 });
  return toExpense(needExpense(ctx.db, id));
}

/** Takes an expense back by a row of the opposite sum, on its own day or later. */
export function takeBack(ctx: CommandContext, { id, on, reason }: Parsed<'money.takeBack'>): Expense {
  const before = needExpense(ctx.db, id);
  demandStanding(ctx, before, { of: before.cost_on, on });
  const back = ctx.newId();
  insertExpense(ctx.db, {
    id: back,
    category_id: before.category_id,
    cost_on: on,
    // What was never paid gives no money back; what was paid comes back on the same day or the day it is taken back.
    paid_on: before.paid_on === null ? null : on < before.paid_on ? before.paid_on : on,
    payee: before.payee,
    amount_minor: -before.amount_minor,
    tax_minor: 0 - before.tax_minor,
    share_ppm: before.share_ppm,
    cost_minor: 0 - before.cost_minor,
    receipt: before.receipt,
    note: before.note,
    repeat_id: null,
    repeat_on: null,
    reason,
    reverses_id: before.id,
  });
  return toExpense(needExpense(ctx.db, back));
}
