/** Contract of the order book: wishes, offers, pre-orders, deposits, the waiting list. */

/** Every call of the order book: wishes, offers, pre-orders, deposits, the waiting list. */
export const orderEndpoints = {} as const;
