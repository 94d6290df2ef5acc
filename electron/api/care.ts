/** Contract of what follows a sale: parcels, certificates, service, returns. */

/** Every call of what follows a sale: parcels, certificates, service, returns. */
export const careEndpoints = {} as const;
