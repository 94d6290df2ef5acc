/** Use-cases of this area: which one answers which call. */
import type { gateEndpoints } from '../../api/gates.ts';
import type { Handlers } from '../handlers.ts';

export const gateHandlers: Partial<Pick<Handlers, keyof typeof gateEndpoints>> = {};
