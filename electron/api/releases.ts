/** Contract of First look: releases, previews, windows, holds, draws. */

/** Every call of First look: releases, previews, windows, holds, draws. */
export const releaseEndpoints = {} as const;
