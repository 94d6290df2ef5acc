/** Use-cases of invoices in full: deposits, services, part credits, refunds, reminders, statements. */
import type { billingEndpoints } from '../../api/billing.ts';
import type { Handlers } from '../handlers.ts';

/** Which use-case answers which call. */
export const billingHandlers: Pick<Handlers, keyof typeof billingEndpoints> = {};
