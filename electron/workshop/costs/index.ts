/** Use-cases of the cost sheet. */
import type { costEndpoints } from '../../api/costs.ts';
import type { Handlers } from '../handlers.ts';
import { pdfOut } from './files.ts';
import { houseOf } from './house.ts';
import { costSheetPaper } from './paper.ts';
import { costSheet } from './sheet.ts';

/** Which use-case answers which call. */
export const costHandlers: Pick<Handlers, keyof typeof costEndpoints> = {
  'costs.sheet': (ctx, input) => costSheet(ctx.db, input.buildId, ctx.clock.today()),
  'costs.sheetPdf': async (ctx, input) => {
    const sheet = costSheet(ctx.db, input.buildId, ctx.clock.today());
    const { shop } = houseOf(ctx.db);
    const paper = costSheetPaper(sheet, { name: shop.name, paper: shop.paper, madeAt: ctx.clock.now() });
    return pdfOut(`Cost sheet ${sheet.serial}`, await ctx.renderer.costSheet(paper));
  },
};
