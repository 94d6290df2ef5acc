/** Use-cases: what money is spent on, and where a year's report counts it. */
import type { Category, ExpenseKind } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing } from '../../api/errors.ts';
import { folded } from '../../domain/folding.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  categoryRows,
  type CategoryRow,
  categoryUsed,
  insertCategory,
  linesInYear,
  updateCategory,
} from '../../storage/queries/expenses.ts';
import type { CommandContext } from '../context.ts';
import { needWorkshop } from '../workshop/need.ts';

/** Categories in the maker's order with their line of the tax form in the calendar year of a day. */
export function categories(db: ReadDb, today: string): readonly Category[] {
  const lines = new Map(linesInYear(db, Number(today.slice(0, 4))).map((row) => [row.category_id, row.line]));
  return categoryRows(db).map((row) => ({
    id: row.id,
    name: row.name,
    kind: row.kind as ExpenseKind,
    archived: row.archived === 1,
    line: lines.get(row.id) ?? '',
  }));
}

/** A category that is still in use. @throws FaultError for an unknown one, or one laid away */
export function needCategory(db: ReadDb, id: string): CategoryRow {
  const row = categoryRows(db).find((one) => one.id === id);
  if (row === undefined) throw invalid('Choose what the money was spent on.', 'categoryId');
  if (row.archived === 1)
    throw invalid(`${row.name} was laid away. Choose another, or take it up again.`, 'categoryId');
  return row;
}

/** Makes, renames or lays away a category. What it counts as stays once something is booked on it. */
export function saveCategory(ctx: CommandContext, input: Parsed<'money.saveCategory'>): readonly Category[] {
  needWorkshop(ctx.db);
  const rows = categoryRows(ctx.db);
  const before = rows.find((row) => row.id === input.id);
  if (input.id !== undefined && before === undefined)
    throw missing('This category is not in the books any more.');
  if (rows.some((row) => row.id !== input.id && folded(row.name) === folded(input.name)))
    throw invalid('There is a category of this name. Choose another name.', 'name');
  if (before !== undefined && before.kind !== input.kind && categoryUsed(ctx.db, before.id))
    throw invalid(
      `Something is booked on ${before.name} already, so what it counts as stays. Make a new category for the other kind.`,
      'kind',
    );
  const row = {
    id: before?.id ?? ctx.newId(),
    name: input.name,
    kind: input.kind,
    position: before?.position ?? Math.max(0, ...rows.map(({ position }) => position)) + 1,
    archived: input.archived ? 1 : 0,
  };
  if (before === undefined) insertCategory(ctx.db, row);
  else updateCategory(ctx.db, row);
  return categories(ctx.db, ctx.clock.today());
}
