/** Use-cases of this area: which one answers which call. */
import type { heatEndpoints } from '../../api/heats.ts';
import type { Handlers } from '../handlers.ts';

export const heatHandlers: Partial<Pick<Handlers, keyof typeof heatEndpoints>> = {};
