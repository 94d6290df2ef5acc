/** Use-cases of this area: which one answers which call. */
import type { fireEndpoints } from '../../api/fires.ts';
import type { Handlers } from '../handlers.ts';

export const fireHandlers: Partial<Pick<Handlers, keyof typeof fireEndpoints>> = {};
