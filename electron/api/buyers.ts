/** Contract of buyers in full: addresses, supporter levels, merging, forgetting, exchange. */

/** Every call of buyers in full: addresses, supporter levels, merging, forgetting, exchange. */
export const buyerEndpoints = {} as const;
