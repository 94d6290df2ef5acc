/** What becomes of a file: checked in full first, then booked as a whole or not at all. */
import type { Parsed } from '../../api/contract.ts';
import { FaultError, invalid, refused } from '../../api/errors.ts';
import type { ImportCheck, ImportProblem } from '../../api/imports.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { type Line, lineReader } from './cells.ts';
import { readTable } from './cards.ts';
import type { CsvTable } from './csv.ts';
import { fieldsOf } from './fields.ts';

export type ImportInput = Parsed<'imports.check'>;

export interface Booked {
  readonly booked: number;
  readonly made: number;
}

/** Writes everything a plan holds; to be called once, inside the command's transaction. */
export type Writer = (ctx: CommandContext) => Booked;

export interface ImportPlan extends ImportCheck {
  readonly headings: readonly string[];
  /** Does what takes time (setting papers) and answers what writes. Writes nothing itself. */
  prepare(ctx: CommandContext): Promise<Writer>;
}

/** What one kind of file brings to planning. */
export interface Planner<T> {
  /** Reads a line; null when something in it cannot be read, which is then noted. */
  read(line: Line): T | null;
  /** What would be booked, in words. */
  words(planned: T): string;
  /** Why a line that could be booked is left out; undefined when it is not. */
  leftOut?(planned: T): string | undefined;
  /** What a line that is booked should be looked at for. */
  doubts?(planned: T): readonly string[];
  readonly wouldMake: () => ImportCheck['wouldMake'];
  prepare(ctx: CommandContext, planned: readonly T[]): Promise<Writer>;
}

const PREVIEW = 20;
const PROBLEMS = 500;

/** Every required field has a column, and no column lies beyond the file. */
function checkMapping(input: ImportInput, table: CsvTable): void {
  for (const field of fieldsOf(input.kind)) {
    const column = input.mapping[field.key] ?? -1;
    if (column >= table.headings.length)
      throw invalid('This column is not in the file. Match the columns again.', `mapping.${field.key}`);
    if (field.required && column === -1)
      throw invalid(`Choose the column that holds “${field.label}”.`, `mapping.${field.key}`);
  }
}

/**
 * Reads the whole file with one planner, which is told the headings.
 * @throws FaultError when the columns are not matched
 */
export function planWith<T>(
  plannerFor: (headings: readonly string[]) => Planner<T>,
  input: ImportInput,
): ImportPlan {
  const table = readTable(input.kind, input.text);
  checkMapping(input, table);
  const planner = plannerFor(table.headings);
  const problems: ImportProblem[] = [...table.problems];
  const planned: { readonly line: number; readonly value: T }[] = [];
  const leftOut: { readonly line: number; readonly text: string }[] = [];
  for (const row of table.rows) {
    const before = problems.length;
    const value = planner.read(lineReader(row, input, problems));
    if (value === null || problems.length > before) continue;
    const why = planner.leftOut?.(value);
    if (why === undefined) planned.push({ line: row.line, value });
    else leftOut.push({ line: row.line, text: why });
  }
  return {
    headings: table.headings,
    good: planned.length,
    problems: problems.sort((a, b) => a.line - b.line).slice(0, PROBLEMS),
    preview: planned.slice(0, PREVIEW).map(({ line, value }) => ({ line, text: planner.words(value) })),
    leftOut: leftOut.slice(0, PROBLEMS),
    doubts: planned
      .flatMap(({ line, value }) => (planner.doubts?.(value) ?? []).map((text) => ({ line, text })))
      .slice(0, PROBLEMS),
    wouldMake: planner.wouldMake(),
    prepare: (ctx) =>
      planner.prepare(
        ctx,
        planned.map(({ value }) => value),
      ),
  };
}

/** @throws FaultError naming the first line that cannot be booked */
export function demandSound(plan: ImportPlan): void {
  const [first, ...others] = plan.problems;
  if (first) {
    const more =
      others.length === 0
        ? ''
        : ` ${others.length} more ${others.length === 1 ? 'line needs' : 'lines need'} a look too.`;
    throw invalid(`Line ${first.line}: ${first.message} Nothing was booked.${more}`, 'text');
  }
  if (plan.good === 0) throw refused('There is no line to book in this file.', 'text');
}

/** Gives a fault met while writing the line it belongs to. */
export function atLine<T>(line: number, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof FaultError)
      throw invalid(`Line ${line}: ${error.fault.message} Nothing was booked.`, 'text');
    throw error;
  }
}

/** Runs a check that throws a sentence; notes the sentence as the line's problem. */
export function noting<T>(line: Line, field: string, work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof FaultError) return line.problem(field, error.fault.message);
    throw error;
  }
}

/** What planners read from. */
export type PlanContext = Pick<QueryContext, 'db' | 'clock'>;
