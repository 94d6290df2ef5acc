/** Use-cases of how papers look and speak: language, logo, accent, account, structured invoices. */
import type { paperEndpoints } from '../../api/papers.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const paperHandlers: Pick<Handlers, keyof typeof paperEndpoints> = {};
