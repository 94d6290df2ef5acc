/** Use-cases of this area: which one answers which call. */
import type { consumableEndpoints } from '../../api/consumables.ts';
import type { Handlers } from '../handlers.ts';

export const consumableHandlers: Partial<Pick<Handlers, keyof typeof consumableEndpoints>> = {};
