/** Use-cases of bringing in a maker's own records. */
import type { ImportHabits, ImportKind, ImportLook, importEndpoints } from '../../api/imports.ts';
import type { ReadDb } from '../../storage/db.ts';
import { broughtInBefore, rememberedMapping, rememberMapping } from '../../storage/queries/imports.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor, Handlers } from '../handlers.ts';
import { buyersPlanner } from './buyers.ts';
import { readTable } from './cards.ts';
import { expensesPlanner } from './expenses.ts';
import { fieldsOf, guessMapping, headingsKey } from './fields.ts';
import { hoursPlanner } from './hours.ts';
import {
  demandSound,
  type ImportInput,
  type ImportPlan,
  type PlanContext,
  planWith,
  type Writer,
} from './plan.ts';
import { purchasePlanner } from './purchases.ts';
import { salesPlanner } from './sales.ts';

const SAMPLE = 5;

/** What is kept of a file with certain headings. Books from before habits were kept hold the matching alone. */
interface Kept {
  readonly mapping: Record<string, number>;
  readonly habits: ImportHabits | null;
}

const readKept = (text: string): Kept => {
  const kept = JSON.parse(text) as Kept | Record<string, number>;
  return typeof kept['mapping'] === 'object'
    ? (kept as Kept)
    : { mapping: kept as Record<string, number>, habits: null };
};

/** A matching kept from before, if it still names only columns and fields there are. */
function remembered(db: ReadDb, kind: ImportKind, headings: readonly string[]): Kept | undefined {
  const text = rememberedMapping(db, kind, headingsKey(headings));
  if (text === undefined) return undefined;
  const { mapping, habits } = readKept(text);
  const still = fieldsOf(kind).map(({ key }): [string, number] => {
    const column = mapping[key] ?? -1;
    return [key, column < headings.length ? column : -1];
  });
  return { mapping: Object.fromEntries(still), habits };
}

const look: HandlerFor<'imports.look'> = (ctx, { kind, text }): ImportLook => {
  const table = readTable(kind, text);
  const kept = remembered(ctx.db, kind, table.headings);
  return {
    delimiter: table.delimiter,
    columns: table.headings,
    lines: table.rows.length,
    sample: table.rows.slice(0, SAMPLE).map((row) => row.cells),
    fields: fieldsOf(kind),
    mapping: kept?.mapping ?? guessMapping(kind, table.headings),
    remembered: kept !== undefined,
    habits: kept?.habits ?? null,
    problems: table.problems,
  };
};

function readPlan(ctx: PlanContext, input: ImportInput): ImportPlan {
  switch (input.kind) {
    case 'purchases':
      return planWith(() => purchasePlanner(ctx, input.makeMissing), input);
    case 'hours':
      return planWith((headings) => hoursPlanner(ctx, headings[input.mapping['time'] ?? -1] ?? ''), input);
    case 'sales':
      return planWith(() => salesPlanner(ctx, input.makeMissing), input);
    case 'buyers':
      return planWith(() => buyersPlanner(ctx, input.leaveOutKnown), input);
    case 'expenses':
      return planWith(() => expensesPlanner(ctx), input);
  }
}

/** The plan of a file; one that was brought in before would book everything twice, so it is not sound. */
function planOf(ctx: PlanContext, input: ImportInput): ImportPlan {
  houseOf(ctx.db);
  const plan = readPlan(ctx, input);
  const before = broughtInBefore(ctx.db, input.kind, input.text);
  if (before === undefined) return plan;
  const message = `This very file was brought in on ${ctx.clock.localDay(before)} already. To book what is missing, bring in a file with only those lines.`;
  return { ...plan, problems: [{ line: 1, field: null, message }, ...plan.problems] };
}

const check: HandlerFor<'imports.check'> = (ctx, input) => {
  const { good, problems, preview, leftOut, doubts, wouldMake } = planOf(ctx, input);
  return { good, problems, preview, leftOut, doubts, wouldMake };
};

interface PreparedRun {
  readonly headings: readonly string[];
  readonly write: Writer;
}

async function prepareRun(ctx: CommandContext, input: ImportInput): Promise<PreparedRun> {
  const plan = planOf(ctx, input);
  demandSound(plan);
  return { headings: plan.headings, write: await plan.prepare(ctx) };
}

/** Which use-case answers which call. */
export const importHandlers: Pick<Handlers, keyof typeof importEndpoints> = {
  'imports.look': look,
  'imports.check': check,
  'imports.run': {
    prepare: (ctx, input) => prepareRun(ctx, input),
    run: (ctx, input, { headings, write }: PreparedRun) => {
      const { mapping, dateOrder, decimalMark } = input;
      const kept: Kept = { mapping, habits: { dateOrder, decimalMark } };
      rememberMapping(ctx.db, input.kind, headingsKey(headings), JSON.stringify(kept));
      return write(ctx);
    },
  },
};
