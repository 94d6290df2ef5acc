/** Use-cases of where the workshop ships and what to check before. */
import type { shippingEndpoints } from '../../api/shipping.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const shippingHandlers: Pick<Handlers, keyof typeof shippingEndpoints> = {};
