/** Contract of how papers look and speak: language, logo, accent, account, structured invoices. */

/** Every call of how papers look and speak: language, logo, accent, account, structured invoices. */
export const paperEndpoints = {} as const;
