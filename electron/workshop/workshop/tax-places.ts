/** Use-cases: places whose tax is charged. Sales keep a copy of the rule, so a change touches later sales only. */
import type { Parsed } from '../../api/contract.ts';
import { missing, refused } from '../../api/errors.ts';
import type { TaxPlace } from '../../api/workshop.ts';
import { taxPlaceRow, taxPlaceRows } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from './need.ts';

const toTaxPlace = (row: ReturnType<typeof taxPlaceRows>[number]): TaxPlace => ({
  id: row.id,
  name: row.name,
  label: row.label,
  ratePpm: row.rate_ppm,
  onShipping: row.on_shipping === 1,
  inclusive: row.inclusive === 1,
  rounding: row.rounding as TaxPlace['rounding'],
  note: row.note,
  archived: row.archived === 1,
});

/** Every tax place, those in use first. */
export const taxPlaces: HandlerFor<'workshop.taxPlaces'> = (ctx) => taxPlaceRows(ctx.db).map(toTaxPlace);

/** Adds a tax place, or changes one. @returns its id @throws FaultError `missing` for an unknown id */
export function saveTaxPlaceRow(ctx: CommandContext, input: Parsed<'workshop.saveTaxPlace'>): string {
  const columns = {
    name: input.name,
    label: input.label,
    rate_ppm: input.ratePpm,
    on_shipping: Number(input.onShipping),
    inclusive: Number(input.inclusive),
    rounding: input.rounding,
    note: input.note,
    archived: Number(input.archived),
  };
  const { q } = ctx.db;
  if (input.id === undefined) {
    const id = ctx.newId();
    ctx.db.run(q.insertInto('tax_places').values({ id, ...columns }));
    return id;
  }
  const changed = ctx.db.run(q.updateTable('tax_places').set(columns).where('id', '=', input.id));
  if (changed === 0) throw missing('This tax place does not exist any more. Reload the list.');
  return input.id;
}

/** Saves a tax place; the home place cannot be put away. */
export const saveTaxPlace: HandlerFor<'workshop.saveTaxPlace'> = {
  run(ctx, input) {
    const { homeTaxPlaceId } = needWorkshop(ctx.db);
    if (input.archived && input.id === homeTaxPlaceId) {
      throw refused(
        'This is the workshop’s own tax place. Choose another home place before putting it away.',
        'archived',
      );
    }
    const row = taxPlaceRow(ctx.db, saveTaxPlaceRow(ctx, input));
    if (row === undefined) throw new Error('A tax place just saved is not there');
    return toTaxPlace(row);
  },
};
