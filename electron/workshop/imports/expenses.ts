/** Expenses from a file: one receipt a line. What the books hold already is left out, and said. */
import { formatMinor } from '../../domain/money.ts';
import { categoryRows, type CategoryRow, expenseLike } from '../../storage/queries/expenses.ts';
import { houseOf } from '../costs/house.ts';
import { bookExpense, type Spent } from '../money/expenses.ts';
import type { Line } from './cells.ts';
import { NameIndex } from './named.ts';
import type { PlanContext, Planner } from './plan.ts';

interface ExpenseLine extends Spent {
  readonly category: string;
}

const YES = /^(?:y|yes|x|1|true|ja|kept)$/i;

function categoryOf(line: Line, known: NameIndex<CategoryRow>): CategoryRow | null {
  const name = line.required('category', 'The category');
  if (name === null) return null;
  const found = known.first(name);
  return (
    found ??
    line.problem(
      'category',
      `There is no category “${name}”. Make it under Money, Categories, or write another.`,
    )
  );
}

/** Percent of the workshop in parts per million; the whole when left out. */
function shareOf(line: Line): number | null {
  const typed = line.text('share').replace(/%\s*$/, '');
  if (typed === '') return 1_000_000;
  const percent = Number(line.plainNumber(typed));
  if (!(percent > 0 && percent <= 100))
    return line.problem('share', 'A share lies above nothing and is at most 100 %.');
  return Math.round(percent * 10_000);
}

/** Reads and books expenses. */
export function expensesPlanner(ctx: PlanContext): Planner<ExpenseLine> {
  const { currency, decimals } = houseOf(ctx.db);
  const known = new NameIndex(
    categoryRows(ctx.db).filter((row) => row.archived === 0),
    (row) => row.name,
  );
  const today = ctx.clock.today();
  const money = (minor: number): string => formatMinor(minor, currency, { symbol: true });
  return {
    read(line) {
      const costOn = line.date('date', today);
      const paidOn = line.text('paidOn') === '' ? costOn : line.date('paidOn', today);
      const amountMinor =
        line.text('amount') === ''
          ? line.problem('amount', 'The amount is missing.')
          : line.minor('amount', decimals);
      const taxMinor = line.minor('tax', decimals, 0);
      const sharePpm = shareOf(line);
      const category = categoryOf(line, known);
      if (costOn === null || amountMinor === null || taxMinor === null || sharePpm === null) return null;
      if (category === null || (line.text('paidOn') !== '' && paidOn === null)) return null;
      if (amountMinor === 0) return line.problem('amount', 'Write what was paid, more than nothing.');
      if (taxMinor > amountMinor)
        return line.problem('tax', 'The tax within it cannot be more than the whole sum.');
      return {
        ...{ costOn, paidOn, amountMinor, taxMinor, sharePpm },
        categoryId: category.id,
        category: category.name,
        payee: line.text('payee'),
        receipt: YES.test(line.text('receipt')),
        note: line.text('note'),
      };
    },
    words: ({ costOn, payee, category, amountMinor }) =>
      `${costOn}: ${money(amountMinor)}${payee === '' ? '' : ` to ${payee}`}, ${category}`,
    leftOut: (planned) =>
      expenseLike(ctx.db, planned) === undefined
        ? undefined
        : `${money(planned.amountMinor)} to ${planned.payee === '' ? 'the same payee' : planned.payee} on ${planned.costOn} is in the books already.`,
    wouldMake: () => [],
    prepare: (_ctx, lines) =>
      Promise.resolve((run) => {
        for (const line of lines) bookExpense(run, line);
        return { booked: lines.length, made: 0 };
      }),
  };
}
