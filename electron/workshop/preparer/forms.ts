/** Lists of lines and what goes on which: those of the house, and the maker's own. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { MapRow, SheetForm } from '../../api/preparer.ts';
import {
  type FormLine,
  houseForms,
  type SheetPart,
  type TaxForm,
  withTotals,
  scheduleC,
} from '../../domain/preparer-forms.ts';
import type { ReadDb } from '../../storage/db.ts';
import { linesInYear, putLine } from '../../storage/queries/expenses.ts';
import { mapInYear, putMapLine, putTaxForm, taxFormLines, taxForms } from '../../storage/queries/sheet.ts';
import type { CommandContext } from '../context.ts';
import { allSources, categoryOf, categorySource } from './sources.ts';

const ownLines = (db: ReadDb, formId: string): readonly FormLine[] =>
  taxFormLines(db, formId).map(({ code, label, part }) => ({ code, label, part: part as SheetPart }));

/** A list with the lines that add up. @throws FaultError `missing` when there is none of the kind */
export function formOf(db: ReadDb, id: string): TaxForm {
  const house = houseForms.find((form) => form.id === id);
  if (house !== undefined) return house;
  const row = taxForms(db).find((form) => form.id === id);
  if (row === undefined) throw missing('This list of lines does not exist any more. Choose another one.');
  return { id, name: row.name, note: row.note, lines: withTotals(ownLines(db, id)), proposals: {} };
}

/** Every list there is, those of the house first. */
export const formsOf = (db: ReadDb): readonly SheetForm[] => [
  ...houseForms.map((form) => ({
    ...{ id: form.id, name: form.name, note: form.note, own: false, archived: false },
    lines: form.lines.filter((line) => line.terms === undefined),
  })),
  ...taxForms(db).map((row) => ({
    ...{ id: row.id, name: row.name, note: row.note, own: true, archived: row.archived === 1 },
    lines: ownLines(db, row.id),
  })),
];

interface Said {
  readonly line: string;
  readonly fromYear: number;
}

/** What the maker said for a tax year, by source. Categories on the published form share the lines the Money area shows. */
function saidInYear(db: ReadDb, form: TaxForm, year: number): ReadonlyMap<string, Said> {
  const said = new Map<string, Said>();
  if (form.id === scheduleC.id) {
    for (const row of linesInYear(db, year))
      said.set(categorySource(row.category_id), { line: row.line, fromYear: row.from_year });
  }
  for (const row of mapInYear(db, form.id, year))
    said.set(row.source, { line: row.line_code, fromYear: row.from_year });
  return said;
}

/** Line of a source in a tax year; undefined where nobody said and the form proposes none. */
export function lineFinder(db: ReadDb, form: TaxForm, year: number): (source: string) => string | undefined {
  const said = saidInYear(db, form, year);
  return (source) => said.get(source)?.line ?? form.proposals[source];
}

/** Where everything goes on a form in a tax year. */
export function mapOf(db: ReadDb, { formId, year }: Parsed<'preparer.map'>): readonly MapRow[] {
  const form = formOf(db, formId);
  const said = saidInYear(db, form, year);
  return allSources(db).map(({ source, label, group }) => ({
    ...{ source, label, group },
    line: said.get(source)?.line ?? form.proposals[source] ?? null,
    fromYear: said.get(source)?.fromYear ?? null,
  }));
}

/** Puts a source on a line from a tax year on. @throws FaultError for a line the form does not have or reckons itself */
export function setLine(ctx: CommandContext, input: Parsed<'preparer.setLine'>): readonly MapRow[] {
  const { formId, source, fromYear, line } = input;
  const form = formOf(ctx.db, formId);
  if (!allSources(ctx.db).some((each) => each.source === source))
    throw missing('There is no such figure any more. Reload the page.');
  const on = form.lines.find(({ code }) => code === line);
  if (line !== '' && (on === undefined || on.terms !== undefined))
    throw invalid(`Nothing can be put on line ${line}. Choose a line from the list.`, 'line');
  const categoryId = categoryOf(source);
  if (form.id === scheduleC.id && categoryId !== null)
    putLine(ctx.db, { category_id: categoryId, from_year: fromYear, line });
  else putMapLine(ctx.db, { form_id: formId, source, from_year: fromYear, line_code: line });
  return mapOf(ctx.db, { formId, year: fromYear });
}

const FIRST_YEAR = 1900;

/** Adds a list of the maker's own, or changes one. A new one takes over where another puts things. */
export function saveForm(ctx: CommandContext, input: Parsed<'preparer.saveForm'>): SheetForm {
  const { db } = ctx;
  const own = taxForms(db);
  if (input.id !== undefined && !own.some(({ id }) => id === input.id))
    throw refused('The lists that come with the house stay as they are. Copy one and change the copy.');
  const clash = formsOf(db).find((form) => form.name === input.name && form.id !== input.id);
  if (clash !== undefined)
    throw refused(`There is already a list called ${input.name}. Give this one another name.`, 'name');
  const codes = input.lines.map(({ code }) => code);
  const twice = codes.find(
    (code, at) => codes.indexOf(code) !== at || ['income', 'goods', 'expenses', 'result'].includes(code),
  );
  if (twice !== undefined)
    throw invalid(
      `Line ${twice} stands there twice, or its name is taken. Each line needs a name of its own.`,
      'lines',
    );
  const id = input.id ?? ctx.newId();
  putTaxForm(db, { id, name: input.name, note: input.note, archived: Number(input.archived) }, input.lines);
  if (input.id === undefined && input.likeId !== undefined) takeOver(ctx, id, input.likeId, codes);
  const saved = formsOf(db).find((form) => form.id === id);
  if (saved === undefined) throw new Error('A list just saved is not there');
  return saved;
}

/** Puts everything where another list has it, as far as the new one has the line. */
function takeOver(ctx: CommandContext, id: string, likeId: string, codes: readonly string[]): void {
  const year = Number(ctx.clock.today().slice(0, 4));
  for (const { source, line } of mapOf(ctx.db, { formId: likeId, year })) {
    if (line === null || (line !== '' && !codes.includes(line))) continue;
    putMapLine(ctx.db, { form_id: id, source, from_year: FIRST_YEAR, line_code: line });
  }
}
