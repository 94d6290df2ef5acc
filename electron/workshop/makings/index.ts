/** Use-cases of this area: which one answers which call. */
import type { makingEndpoints } from '../../api/makings.ts';
import type { Handlers } from '../handlers.ts';

export const makingHandlers: Partial<Pick<Handlers, keyof typeof makingEndpoints>> = {};
