/** Use-cases of the sheet for the preparer: which one answers which call. */
import type { preparerEndpoints } from '../../api/preparer.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { Handlers } from '../handlers.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { formsOf, mapOf, saveForm, setLine } from './forms.ts';
import { preparerPaper } from './paper.ts';
import { sheetRows } from './rows.ts';
import { answer, handOver } from './say.ts';
import { sheetInSteps } from './sheet.ts';

/** Which use-case answers which call. */
export const preparerHandlers: Pick<Handlers, keyof typeof preparerEndpoints> = {
  'preparer.sheet': (ctx, span) => sheetInSteps(ctx, span),
  'preparer.sheetPdf': async (ctx, span) => {
    const sheet = await sheetInSteps(ctx, span);
    const frame = frameOf(houseOf(ctx.db), 'en', ctx.clock.now());
    const paper = dressed(ctx, preparerPaper(sheet, frame));
    return pdfOut(`${paper.title} ${paper.mark}`, await ctx.renderer.report(paper));
  },
  'preparer.rows': async (ctx, span) => sheetRows(await sheetInSteps(ctx, span)),
  'preparer.forms': (ctx) => formsOf(ctx.db),
  'preparer.map': (ctx, input) => mapOf(ctx.db, input),
  'preparer.setLine': { run: setLine },
  'preparer.saveForm': { run: saveForm },
  'preparer.answer': { run: answer },
  'preparer.handOver': { run: handOver },
};
