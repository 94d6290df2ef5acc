/** Use-cases of this area: which one answers which call. */
import type { cuttingEndpoints } from '../../api/cutting.ts';
import type { Handlers } from '../handlers.ts';

export const cuttingHandlers: Partial<Pick<Handlers, keyof typeof cuttingEndpoints>> = {};
