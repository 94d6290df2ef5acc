/** Reading and writing expenses: categories, lines of tax forms, what was spent, and what comes again. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type {
  CategoryLinesTable,
  ExpenseCategoriesTable,
  ExpenseRepeatsTable,
  ExpensesTable,
} from '../schema-money.ts';
import { contains } from './like.ts';

/** A span of days, both ends counted. */
export interface Span {
  readonly from: string;
  readonly to: string;
}

/** Which day counts: the one the cost belongs to (earned view), or the one it was paid (cash view). */
export type ExpenseDay = 'cost_on' | 'paid_on';

/**
 * What was spent in a span of days by category, taken-back rows already off. Only categories with an entry.
 * Cash view: what is still owed has no day and is not counted.
 */
export const expensesByCategory = (db: ReadDb, { from, to }: Span, day: ExpenseDay = 'cost_on') =>
  db.all(
    db.q
      .selectFrom('expenses as e')
      .innerJoin('expense_categories as c', 'c.id', 'e.category_id')
      .where(`e.${day}`, '>=', from)
      .where(`e.${day}`, '<=', to)
      .select(['c.id as category_id', 'c.name', 'c.kind', 'c.position'])
      .select(({ fn }) => [
        fn.sum<number>('e.cost_minor').as('cost_minor'),
        fn.sum<number>('e.amount_minor').as('amount_minor'),
        fn.sum<number>('e.tax_minor').as('tax_minor'),
        fn.countAll<number>().as('n'),
      ])
      .groupBy('c.id')
      .orderBy('c.position')
      .orderBy('c.name'),
  );

/** The same by month (`2024-07`) and category kind, for charts. */
export const expensesByMonth = (db: ReadDb, { from, to }: Span, day: ExpenseDay = 'cost_on') =>
  db.all(
    db.q
      .selectFrom('expenses as e')
      .innerJoin('expense_categories as c', 'c.id', 'e.category_id')
      .where(`e.${day}`, '>=', from)
      .where(`e.${day}`, '<=', to)
      .select([sql<string>`substr(${sql.ref(`e.${day}`)}, 1, 7)`.as('month'), 'c.kind'])
      .select(({ fn }) => fn.sum<number>('e.cost_minor').as('cost_minor'))
      .groupBy(['month', 'c.kind'])
      .orderBy('month'),
  );

/** Categories in the maker's order, those laid away last. */
export const categoryRows = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('expense_categories')
      .selectAll()
      .orderBy('archived')
      .orderBy('position')
      .orderBy('name')
      .orderBy('id'),
  );
export type CategoryRow = ReturnType<typeof categoryRows>[number];

export const insertCategory = (db: WriteDb, row: Insertable<ExpenseCategoriesTable>): number =>
  db.run(db.q.insertInto('expense_categories').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateCategory = (db: WriteDb, { id, ...row }: Insertable<ExpenseCategoriesTable>): number =>
  db.run(db.q.updateTable('expense_categories').set(row).where('id', '=', id));

/** Whether anything is booked on a category, or comes again on it. */
export const categoryUsed = (db: ReadDb, id: string): boolean =>
  db.one(
    db.q
      .selectFrom('expenses')
      .select('category_id')
      .where('category_id', '=', id)
      .unionAll(db.q.selectFrom('expense_repeats').select('category_id').where('category_id', '=', id))
      .limit(1),
  ) !== undefined;

/** Line of the tax form of every category that has one, in a tax year: the latest row that began by then. */
export const linesInYear = (db: ReadDb, year: number) =>
  db.all(
    db.q
      .selectFrom('category_lines as l')
      .select(['l.category_id', 'l.from_year', 'l.line'])
      .where(
        sql<boolean>`l.from_year = coalesce(
          (select max(z.from_year) from category_lines z where z.category_id = l.category_id and z.from_year <= ${year}),
          (select min(z.from_year) from category_lines z where z.category_id = l.category_id))`,
      )
      .orderBy('l.category_id'),
  );

/** Puts a category on a line from a tax year on. */
export const putLine = (db: WriteDb, row: CategoryLinesTable): number =>
  db.run(
    db.q
      .insertInto('category_lines')
      .values(row)
      .onConflict((clash) => clash.columns(['category_id', 'from_year']).doUpdateSet({ line: row.line })),
  );

const source = (db: ReadDb) =>
  db.q
    .selectFrom('expenses as e')
    .innerJoin('expense_categories as c', 'c.id', 'e.category_id')
    .leftJoin('expenses as r', 'r.reverses_id', 'e.id')
    .selectAll('e')
    .select(['c.name as category', 'c.kind', 'r.id as reversed_by_id', 'r.cost_on as reversed_on'])
    .select(
      sql<number>`(select count(*) from attachments a
        where a.owner_kind = 'expense' and a.owner_id = e.id and a.removed_at is null)`.as('files'),
    );

/** Which expenses a list shows. */
export interface ExpenseFilter {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly categoryId?: string | undefined;
  /** Only those without a receipt. */
  readonly noReceipt?: boolean | undefined;
  /** Only those still owed. */
  readonly owed?: boolean | undefined;
  /** In payee, note or category. */
  readonly text?: string | undefined;
}

type Source = ReturnType<typeof source>;

function narrowed(all: Source, { from, to, categoryId, noReceipt, owed, text }: ExpenseFilter): Source {
  let some = all;
  if (from !== undefined) some = some.where('e.cost_on', '>=', from);
  if (to !== undefined) some = some.where('e.cost_on', '<=', to);
  if (categoryId !== undefined) some = some.where('e.category_id', '=', categoryId);
  if (owed === true) some = some.where('e.paid_on', 'is', null);
  if (owed === true || noReceipt === true)
    some = some.where('e.reverses_id', 'is', null).where('r.id', 'is', null);
  if (noReceipt === true)
    some = some.where('e.receipt', '=', 0).where(
      sql<boolean>`not exists (select 1 from attachments a
          where a.owner_kind = 'expense' and a.owner_id = e.id and a.removed_at is null)`,
    );
  if (text !== undefined && text !== '')
    some = some.where(({ or }) =>
      or([
        contains(sql.ref('e.payee'), text),
        contains(sql.ref('e.note'), text),
        contains(sql.ref('c.name'), text),
      ]),
    );
  return some;
}

/** Expenses, the latest first. */
export const expenseRows = (
  db: ReadDb,
  filter: ExpenseFilter,
  page: { readonly limit: number; readonly offset: number },
) =>
  db.all(
    narrowed(source(db), filter)
      .orderBy('e.cost_on', 'desc')
      .orderBy('e.seq', 'desc')
      .limit(page.limit)
      .offset(page.offset),
  );
export type ExpenseRow = ReturnType<typeof expenseRows>[number];

/** How many a filter finds, and what they cost together. */
export const expenseTotals = (
  db: ReadDb,
  filter: ExpenseFilter,
): { readonly n: number; readonly cost_minor: number; readonly amount_minor: number } => {
  const row = db.one(
    narrowed(source(db), filter)
      .clearSelect()
      .select(({ fn }) => [
        fn.countAll<number>().as('n'),
        fn.coalesce(fn.sum<number>('e.cost_minor'), sql<number>`0`).as('cost_minor'),
        fn.coalesce(fn.sum<number>('e.amount_minor'), sql<number>`0`).as('amount_minor'),
      ]),
  );
  return row ?? { n: 0, cost_minor: 0, amount_minor: 0 };
};

/** One expense. */
export const expenseRow = (db: ReadDb, id: string): ExpenseRow | undefined =>
  db.one(source(db).where('e.id', '=', id));

/** An expense of the same day, payee and amount that still stands: perhaps the same receipt twice. */
export const expenseLike = (
  db: ReadDb,
  like: { readonly costOn: string; readonly payee: string; readonly amountMinor: number },
): ExpenseRow | undefined =>
  db.one(
    source(db)
      .where('e.cost_on', '=', like.costOn)
      .where(sql<boolean>`folded(e.payee) = folded(${like.payee})`)
      .where('e.amount_minor', '=', like.amountMinor)
      .where('r.id', 'is', null)
      .limit(1),
  );

export const insertExpense = (db: WriteDb, row: Insertable<ExpensesTable>): number =>
  db.run(db.q.insertInto('expenses').values(row));

/** Adds what came later: the day it was paid, or that a receipt is kept. */
export const addToExpense = (
  db: WriteDb,
  id: string,
  later: { readonly paid_on?: string; readonly receipt?: number },
): number => db.run(db.q.updateTable('expenses').set(later).where('id', '=', id));

/** Payees written before, the most frequent first, with the category used last: for typing ahead. */
export const payeesBefore = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('expenses as e')
      .where('e.reverses_id', 'is', null)
      .where('e.payee', '<>', '')
      .select(['e.payee', sql<string>`max(e.seq || '|' || e.category_id)`.as('last')])
      .select(({ fn }) => fn.countAll<number>().as('n'))
      .groupBy('e.payee')
      .orderBy('n', 'desc')
      .orderBy('e.payee')
      .limit(200),
  );

/** What comes again, by category and payee. */
export const repeatRows = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('expense_repeats as p')
      .innerJoin('expense_categories as c', 'c.id', 'p.category_id')
      .selectAll('p')
      .select('c.name as category')
      .orderBy('c.position')
      .orderBy('p.payee')
      .orderBy('p.id'),
  );
export type RepeatRow = ReturnType<typeof repeatRows>[number];

/** Days of repeats that are done with: booked and standing, or passed over. */
export const repeatDaysDone = (db: ReadDb) => {
  const booked = db.q
    .selectFrom('expenses as e')
    .leftJoin('expenses as r', 'r.reverses_id', 'e.id')
    .where('e.repeat_id', 'is not', null)
    .where('e.reverses_id', 'is', null)
    .where('r.id', 'is', null)
    .select(['e.repeat_id', 'e.repeat_on as on_date']);
  const passed = db.q
    .selectFrom('expense_passed')
    .select([sql<string | null>`repeat_id`.as('repeat_id'), sql<string | null>`on_date`.as('on_date')]);
  return db.all(booked.unionAll(passed));
};

export const insertRepeat = (db: WriteDb, row: Insertable<ExpenseRepeatsTable>): number =>
  db.run(db.q.insertInto('expense_repeats').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateRepeat = (db: WriteDb, { id, ...row }: Insertable<ExpenseRepeatsTable>): number =>
  db.run(db.q.updateTable('expense_repeats').set(row).where('id', '=', id));

/** Passes a day of a repeat over. */
export const passRepeat = (db: WriteDb, repeatId: string, on: string): number =>
  db.run(db.q.insertInto('expense_passed').values({ repeat_id: repeatId, on_date: on }));
