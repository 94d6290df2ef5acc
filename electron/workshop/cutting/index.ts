/** Use-cases of this area: which one answers which call. */
import type { cuttingEndpoints } from '../../api/cutting.ts';
import type { Handlers } from '../handlers.ts';
import { plan, planOfBars } from './bars.ts';
import { book } from './book-bars.ts';
import { bookSheets } from './book-sheets.ts';
import { needs } from './gather.ts';
import { barsPdf, sheetsPdf } from './pdf.ts';
import { planOfSheets, planSheets } from './sheets.ts';
import { sheetSize } from './size.ts';

export const cuttingHandlers: Pick<Handlers, keyof typeof cuttingEndpoints> = {
  'cutting.needs': needs,
  'cutting.plan': plan,
  'cutting.planPdf': (ctx, input) => barsPdf(ctx, planOfBars(ctx.db, input)),
  'cutting.book': book,
  'cutting.planSheets': planSheets,
  'cutting.planSheetsPdf': (ctx, input) => sheetsPdf(ctx, planOfSheets(ctx.db, input)),
  'cutting.sheetSize': sheetSize,
  'cutting.bookSheets': bookSheets,
};
