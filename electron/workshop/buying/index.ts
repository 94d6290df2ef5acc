/** Use-cases of this area: which one answers which call. */
import type { buyingEndpoints } from '../../api/buying.ts';
import type { Handlers } from '../handlers.ts';

export const buyingHandlers: Partial<Pick<Handlers, keyof typeof buyingEndpoints>> = {};
