/** Reminders: a letter set and kept as it was. Nothing is sent by itself. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReminderRow } from '../../api/billing.ts';
import type { Parsed } from '../../api/contract.ts';
import { insertReminder, reminderRow, remindersOf } from '../../storage/queries/billing.ts';
import type { RemindersTable } from '../../storage/schema-selling.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { fileName, pdfOut } from '../costs/files.ts';
import { needInvoice, openOf } from '../selling/invoice-rows.ts';
import { notInFuture } from '../selling/sale.ts';
import { reminderLetter } from './letters.ts';

/** A reminder set in type. */
export interface PlannedReminder {
  readonly row: Omit<RemindersTable, 'document_path' | 'document_sha256'>;
  readonly name: string;
  readonly pdf: Uint8Array;
}

/** As the contract shows it. */
export const toReminder = (row: PlannedReminder['row']): ReminderRow => ({
  id: row.id,
  nth: row.nth,
  on: row.on_date,
  payBy: row.pay_by,
  openMinor: row.open_minor,
});

/** Checks and sets a reminder; writes nothing. @throws FaultError when nothing is due, or the days do not fit */
export async function prepareReminder(
  ctx: CommandContext,
  input: Parsed<'billing.remind'>,
): Promise<PlannedReminder> {
  const invoice = needInvoice(ctx.db, input.invoiceId);
  const openMinor = openOf(invoice);
  notInFuture(ctx, input.on, 'on');
  if (openMinor <= 0)
    throw refused('Nothing is open on this invoice, so there is nothing to remind of.', 'invoiceId');
  if (input.on <= invoice.due_on)
    throw invalid(`This invoice is due on ${invoice.due_on}. Remind after that day.`, 'on');
  if (input.payBy < input.on)
    throw invalid('The new day to pay by is before the reminder. Give the buyer some days.', 'payBy');
  const nth = (remindersOf(ctx.db, invoice.id).at(-1)?.nth ?? 0) + 1;
  const row = {
    id: ctx.newId(),
    invoice_id: invoice.id,
    nth,
    on_date: input.on,
    pay_by: input.payBy,
    open_minor: openMinor,
  };
  const letter = reminderLetter(ctx, invoice, { nth, on: input.on, payBy: input.payBy, openMinor });
  const name = fileName(`${invoice.number} reminder ${String(nth)}`);
  return { row, name, pdf: await ctx.renderer.letter(letter) };
}

/** Keeps a reminder with its paper. */
export function keepReminder(ctx: CommandContext, { row, name, pdf }: PlannedReminder): ReminderRow {
  const stored = ctx.files.keep(ctx.db, `${name}.pdf`, pdf);
  insertReminder(ctx.db, { ...row, document_path: stored.path, document_sha256: stored.sha256 });
  return toReminder(row);
}

/** The letter as it was set, checked against its hash. */
export function reminderPdf(ctx: QueryContext, id: string) {
  const row = reminderRow(ctx.db, id);
  if (!row) throw missing('This reminder is not in the books.');
  const { number } = needInvoice(ctx.db, row.invoice_id);
  return pdfOut(
    `${number} reminder ${String(row.nth)}`,
    ctx.files.get(row.document_path, row.document_sha256),
  );
}
