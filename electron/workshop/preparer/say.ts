/** What the maker says of a year's sheet, and handing it over. */
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import type { PreparerSheet } from '../../api/preparer.ts';
import { insertHanded, putSheetAnswers } from '../../storage/queries/sheet.ts';
import type { CommandContext } from '../context.ts';
import { formOf } from './forms.ts';
import { sheetOf } from './sheet.ts';

/** Keeps the answers for a year. */
export function answer(ctx: CommandContext, input: Parsed<'preparer.answer'>): PreparerSheet {
  if (input.from > input.to) throw invalid('The year ends before it begins. Change one of the days.', 'to');
  formOf(ctx.db, input.formId);
  putSheetAnswers(ctx.db, {
    ...{ from_on: input.from, to_on: input.to, form_id: input.formId, view: input.view },
    ...{ valued_at: input.valuedAt, method_changed: Number(input.methodChanged) },
    last_closing_minor: input.lastClosingMinor,
    ...{ opening_note: input.openingNote, note: input.note },
  });
  return sheetOf(ctx, input);
}

/** Keeps the sheet as it stands, for the year after to tie in with and to see later what changed. */
export function handOver(ctx: CommandContext, span: Parsed<'preparer.handOver'>): PreparerSheet {
  const today = ctx.clock.today();
  if (span.to >= today)
    throw invalid('The year is not over yet. Hand the sheet over when its last day is past.', 'to');
  const sheet = sheetOf(ctx, span);
  const { view, formId } = sheet.answers;
  insertHanded(ctx.db, {
    ...{ id: ctx.newId(), from_on: span.from, to_on: span.to, on_date: today, form_id: formId, view },
    closing_minor: sheet.goods.closingMinor,
    lines: JSON.stringify(
      sheet.lines.map((line) => ({
        code: line.code,
        minor: view === 'cash' ? line.cashMinor : line.earnedMinor,
      })),
    ),
  });
  return sheetOf(ctx, span);
}
