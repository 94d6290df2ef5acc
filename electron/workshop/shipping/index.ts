/** Use-cases of where the workshop ships and what to check before. */
import type { shippingEndpoints } from '../../api/shipping.ts';
import { shipRules, ticksOf } from '../../storage/queries/shipping.ts';
import type { Handlers } from '../handlers.ts';
import { parcelReminders } from './demand.ts';
import { saveShipRule, toShipRule } from './rules.ts';

/** Which use-case answers which call. */
export const shippingHandlers: Pick<Handlers, keyof typeof shippingEndpoints> = {
  'shipping.rules': (ctx, { includeArchived }) => {
    const today = ctx.clock.today();
    return shipRules(ctx.db, includeArchived).map((row) => toShipRule(row, today));
  },
  'shipping.saveRule': { run: (ctx, input) => saveShipRule(ctx, input) },
  'shipping.reminders': (ctx, input) => parcelReminders(ctx, input),
  'shipping.ticked': (ctx, { kind, subjectId }) =>
    ticksOf(ctx.db, kind, subjectId).map(({ reminder, text, at }) => ({ key: reminder, text, at })),
};
