/** Use-cases of buyers in full: addresses, supporter levels, merging, forgetting, exchange. */
import type { buyerEndpoints } from '../../api/buyers.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const buyerHandlers: Pick<Handlers, keyof typeof buyerEndpoints> = {};
