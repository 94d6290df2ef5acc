/** Use-cases of this area: which one answers which call. */
import type { rackEndpoints } from '../../api/rack.ts';
import type { Handlers } from '../handlers.ts';

export const rackHandlers: Partial<Pick<Handlers, keyof typeof rackEndpoints>> = {};
