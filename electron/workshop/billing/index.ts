/** Use-cases of invoices in full: drafts, refunds, reminders, what is owed, statements, numbers. */
import type { billingEndpoints } from '../../api/billing.ts';
import { remindersOf } from '../../storage/queries/billing.ts';
import { pdfOut } from '../costs/files.ts';
import type { Handlers } from '../handlers.ts';
import { dressed } from '../papers/look.ts';
import { needBuyer } from '../selling/buyers.ts';
import { draftPaperOf } from '../selling/compose.ts';
import type { PlannedPaper } from '../selling/issue.ts';
import { bookRefund } from '../selling/payments.ts';
import { ageingOn } from './ageing.ts';
import { checkParticulars } from './check.ts';
import {
  deleteDraft,
  draftFigures,
  draftList,
  draftOf,
  draftTerms,
  issueDraft,
  needDraft,
  noteOf,
  prepareDraft,
  saveDraft,
  specOfDraft,
} from './drafts.ts';
import { ageingLetter, statementLetter } from './letters.ts';
import { patterns, setPattern } from './patterns.ts';
import { keepReminder, type PlannedReminder, prepareReminder, reminderPdf, toReminder } from './reminders.ts';
import { statementOf } from './statement.ts';

/** Which use-case answers which call. */
export const billingHandlers: Pick<Handlers, keyof typeof billingEndpoints> = {
  'billing.drafts': (ctx) => draftList(ctx.db),
  'billing.draft': (ctx, { id }) => draftOf(ctx.db, id),
  'billing.figures': (ctx, input) => draftFigures(ctx.db, input),
  'billing.saveDraft': { run: (ctx, input) => saveDraft(ctx, input) },
  'billing.deleteDraft': { run: (ctx, input) => deleteDraft(ctx, input) },
  'billing.draftPdf': async (ctx, { id }) => {
    const record = needDraft(ctx.db, id);
    const spec = specOfDraft(ctx.db, id, ctx.clock.today());
    const paper = draftPaperOf(ctx.db, spec, draftTerms(ctx, noteOf(record)));
    return pdfOut(`Draft for ${record.buyer_name}`, await ctx.renderer.invoice(dressed(ctx, paper)));
  },
  'billing.issueDraft': {
    prepare: (ctx, input) => prepareDraft(ctx, input),
    run: (ctx, input, prepared: PlannedPaper) => issueDraft(ctx, input, prepared),
  },
  'billing.check': (ctx, input) => checkParticulars(ctx, input),
  'billing.refund': { run: (ctx, input) => bookRefund(ctx, input) },
  'billing.reminders': (ctx, { invoiceId }) => remindersOf(ctx.db, invoiceId).map(toReminder),
  'billing.remind': {
    prepare: (ctx, input) => prepareReminder(ctx, input),
    run: (ctx, _input, prepared: PlannedReminder) => keepReminder(ctx, prepared),
  },
  'billing.reminderPdf': (ctx, { id }) => reminderPdf(ctx, id),
  'billing.ageing': (ctx, { on }) => ageingOn(ctx, on),
  'billing.ageingPdf': async (ctx, { on }) =>
    pdfOut(`Owed on ${on}`, await ctx.renderer.letter(ageingLetter(ctx, ageingOn(ctx, on)))),
  'billing.statement': (ctx, input) => statementOf(ctx, input),
  'billing.statementPdf': async (ctx, input) => {
    const statement = statementOf(ctx, input);
    const letter = statementLetter(ctx, statement, needBuyer(ctx.db, input.buyerId));
    return pdfOut(`Statement ${statement.buyerName} ${input.to}`, await ctx.renderer.letter(letter));
  },
  'billing.patterns': (ctx) => patterns(ctx.db),
  'billing.setPattern': { run: (ctx, input) => setPattern(ctx, input) },
};
