/** The maker's own table of places not shipped to, or asked about first. */
import { invalid, missing } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { ShipRule } from '../../api/shipping.ts';
import {
  insertShipRule,
  shipRule,
  type ShipRuleRecord,
  updateShipRule,
} from '../../storage/queries/shipping.ts';
import type { CommandContext } from '../context.ts';
import { isStale } from './demand.ts';

/** A rule as the screen shows it. @param today local day, for whether it was checked long ago */
export const toShipRule = (row: ShipRuleRecord, today: string): ShipRule => ({
  id: row.id,
  country: row.country,
  region: row.region,
  answer: row.answer === 'no' ? 'no' : 'ask',
  what: row.what,
  checkedOn: row.checked_on,
  stale: isStale(row.checked_on, today),
  archived: row.archived === 1,
});

/** Enters or changes a rule. */
export function saveShipRule(ctx: CommandContext, input: Parsed<'shipping.saveRule'>): ShipRule {
  const today = ctx.clock.today();
  if (input.checkedOn > today)
    throw invalid('This day is still to come. Write the day you last checked the rule.', 'checkedOn');
  const id = input.id ?? ctx.newId();
  const { country, region, answer, what } = input;
  const row = { id, country, region, answer, what, checked_on: input.checkedOn };
  const archived = input.archived ? 1 : 0;
  if (input.id === undefined) insertShipRule(ctx.db, { ...row, archived });
  else if (updateShipRule(ctx.db, { ...row, archived }) === 0)
    throw missing('This place is not in the table any more.');
  const saved = shipRule(ctx.db, id);
  if (!saved) throw missing('This place is not in the table any more.');
  return toShipRule(saved, today);
}
