/** Use-cases of quotes: what a wished-for knife would take, and what was told to the buyer. */
import type { quoteEndpoints, QuoteReckoning } from '../../api/quotes.ts';
import { countQuotes, listQuotes } from '../../storage/queries/quotes.ts';
import type { Handlers } from '../handlers.ts';
import { close, keep, prepareKeep, takeUp } from './keep.ts';
import { quotePdf } from './paper.ts';
import { reckonQuote } from './reckon.ts';
import { quoteDetail, toQuoteRow } from './rows.ts';

/** Which use-case answers which call. */
export const quoteHandlers: Pick<Handlers, keyof typeof quoteEndpoints> = {
  'quotes.reckon': (ctx, input) => reckonQuote(ctx.db, input, ctx.clock.today()),
  'quotes.list': (ctx, { limit, offset, ...asked }) => {
    const today = ctx.clock.today();
    const filter = { ...asked, today };
    return {
      rows: listQuotes(ctx.db, filter, limit, offset).map((record) => toQuoteRow(record, today)),
      total: countQuotes(ctx.db, filter),
    };
  },
  'quotes.get': (ctx, { id }) => quoteDetail(ctx.db, id, ctx.clock.today()),
  'quotes.pdf': (ctx, input) => quotePdf(ctx, input),
  'quotes.keep': {
    prepare: (ctx, input) => prepareKeep(ctx, input),
    run: (ctx, input, working: QuoteReckoning) => keep(ctx, input, working),
  },
  'quotes.offer': { run: (ctx, input) => takeUp(ctx, input) },
  'quotes.close': { run: (ctx, input) => close(ctx, input) },
};
