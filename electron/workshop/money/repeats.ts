/** Use-cases: expenses that come again. They are proposed when they fall due and booked only when a person says so. */
import type { DueRepeat, Expense, Repeat } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { daysDue, nextDue } from '../../domain/expenses.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  insertRepeat,
  passRepeat,
  repeatDaysDone,
  type RepeatRow,
  repeatRows,
  updateRepeat,
} from '../../storage/queries/expenses.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { needCategory } from './categories.ts';
import { demandSound } from './checks.ts';
import { bookExpense } from './expenses.ts';

const rhythm = (row: RepeatRow) => ({
  from: row.from_on,
  until: row.until_on,
  everyMonths: row.every_months,
});

const toRepeat = (row: RepeatRow, today: string): Repeat => ({
  id: row.id,
  categoryId: row.category_id,
  category: row.category,
  payee: row.payee,
  amountMinor: row.amount_minor,
  taxMinor: row.tax_minor,
  sharePpm: row.share_ppm,
  ...rhythm(row),
  note: row.note,
  next: nextDue(rhythm(row), today),
});

function dueOf(db: ReadDb, row: RepeatRow, today: string): readonly string[] {
  const done = repeatDaysDone(db).flatMap(({ repeat_id, on_date }) =>
    repeat_id === row.id && on_date !== null ? [on_date] : [],
  );
  return daysDue(rhythm(row), today, new Set(done));
}

/** What comes again, and what of it is due. */
export function repeats(ctx: QueryContext): { readonly repeats: Repeat[]; readonly due: DueRepeat[] } {
  const today = ctx.clock.today();
  const rows = repeatRows(ctx.db);
  const due = rows.flatMap((row) =>
    dueOf(ctx.db, row, today).map((on) => ({
      repeatId: row.id,
      on,
      payee: row.payee,
      category: row.category,
      amountMinor: row.amount_minor,
    })),
  );
  return {
    repeats: rows.map((row) => toRepeat(row, today)),
    due: due.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0)),
  };
}

function needRepeat(db: ReadDb, id: string): RepeatRow {
  const row = repeatRows(db).find((one) => one.id === id);
  if (row === undefined) throw missing('This is not in the books any more. Reload the page.');
  return row;
}

/** Writes what comes again, or changes it from now on: what was booked stays as it was. */
export function saveRepeat(ctx: CommandContext, input: Parsed<'money.saveRepeat'>): Repeat {
  demandSound(ctx, {}, { amountMinor: input.amountMinor });
  needCategory(ctx.db, input.categoryId);
  if (input.taxMinor > input.amountMinor)
    throw invalid('The tax within it cannot be more than the whole sum. Check both.', 'taxMinor');
  if (input.until !== null && input.until < input.from)
    throw invalid('It cannot end before it begins. Change one of the days.', 'until');
  if (input.id !== undefined) needRepeat(ctx.db, input.id);
  const row = {
    id: input.id ?? ctx.newId(),
    category_id: input.categoryId,
    payee: input.payee,
    amount_minor: input.amountMinor,
    tax_minor: input.taxMinor,
    share_ppm: input.sharePpm,
    every_months: input.everyMonths,
    from_on: input.from,
    until_on: input.until,
    note: input.note,
  };
  if (input.id === undefined) insertRepeat(ctx.db, row);
  else updateRepeat(ctx.db, row);
  return toRepeat(needRepeat(ctx.db, row.id), ctx.clock.today());
}

/** @throws FaultError unless that day of the repeat waits to be booked */
function demandDue(ctx: CommandContext, row: RepeatRow, on: string): void {
  if (!dueOf(ctx.db, row, ctx.clock.today()).includes(on))
    throw refused(`Nothing is due on ${on} here; perhaps it was booked already. Reload the page.`);
}

/** Books what fell due, once for each day. */
export function bookDue(ctx: CommandContext, input: Parsed<'money.bookDue'>): Expense {
  const row = needRepeat(ctx.db, input.repeatId);
  demandDue(ctx, row, input.on);
  return bookExpense(ctx, {
    categoryId: row.category_id,
    costOn: input.on,
    paidOn: input.paidOn,
    payee: row.payee,
    amountMinor: input.amountMinor,
    taxMinor: Math.min(row.tax_minor, input.amountMinor),
    sharePpm: row.share_ppm,
    receipt: input.receipt,
    note: row.note,
    repeat: { id: row.id, on: input.on },
  });
}

/** Passes over what fell due. */
export function passDue(ctx: CommandContext, { repeatId, on }: Parsed<'money.passDue'>): null {
  demandDue(ctx, needRepeat(ctx.db, repeatId), on);
  passRepeat(ctx.db, repeatId, on);
  return null;
}
