/** Use-cases of First look: releases, previews, windows, holds, draws. */
import type { releaseEndpoints } from '../../api/releases.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const releaseHandlers: Pick<Handlers, keyof typeof releaseEndpoints> = {};
