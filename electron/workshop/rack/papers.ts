/** Use-case: lots whose papers somebody may ask for. */
import { lotsWithPapers } from '../../storage/queries/lots.ts';
import type { HandlerFor } from '../handlers.ts';
import { toLotRow } from '../stock/views.ts';

/** Lots with something left that carry a listing, an origin or a document number. */
export const papers: HandlerFor<'rack.papers'> = (ctx) => lotsWithPapers(ctx.db).map(toLotRow);
