/** Use-cases of what to make next and of prices. */
import type { nextEndpoints } from '../../api/next.ts';
import type { Handlers } from '../handlers.ts';
import { nextList, nextModel } from './list.ts';
import { priceReview } from './prices.ts';

/** Which use-case answers which call. */
export const nextHandlers: Pick<Handlers, keyof typeof nextEndpoints> = {
  'next.list': (ctx) => nextList(ctx),
  'next.model': (ctx, { modelId }) => nextModel(ctx, modelId),
  'next.prices': (ctx) => priceReview(ctx),
};
