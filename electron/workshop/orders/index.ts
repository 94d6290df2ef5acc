/** Use-cases of the order book: wishes, offers, pre-orders, deposits, the waiting list. */
import type { orderEndpoints } from '../../api/orders.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const orderHandlers: Pick<Handlers, keyof typeof orderEndpoints> = {};
