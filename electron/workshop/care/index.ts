/** Use-cases of what follows a sale: parcels, certificates, service, returns. */
import type { careEndpoints } from '../../api/care.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const careHandlers: Pick<Handlers, keyof typeof careEndpoints> = {};
