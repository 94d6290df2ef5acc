/** Contract of where the workshop ships and what to check before. */

/** Every call of where the workshop ships and what to check before. */
export const shippingEndpoints = {} as const;
