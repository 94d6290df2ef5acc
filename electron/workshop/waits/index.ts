/** Use-cases of this area: which one answers which call. */
import type { waitEndpoints } from '../../api/waits.ts';
import type { Handlers } from '../handlers.ts';

export const waitHandlers: Partial<Pick<Handlers, keyof typeof waitEndpoints>> = {};
