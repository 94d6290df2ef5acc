/** Contract of invoices in full: deposits, services, part credits, refunds, reminders, statements. */

/** Every call of invoices in full: deposits, services, part credits, refunds, reminders, statements. */
export const billingEndpoints = {} as const;
