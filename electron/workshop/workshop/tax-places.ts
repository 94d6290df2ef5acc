/** Use-cases: places whose tax is charged. Sales keep a copy of the rule, so a change touches later sales only. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
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
  depositTax: row.deposit_tax as TaxPlace['depositTax'],
  forfeitTaxed: row.forfeit_taxed === 1,
  category: row.category as TaxPlace['category'],
  reasonCode: row.reason_code,
  archived: row.archived === 1,
});

/** Every tax place, those in use first. */
export const taxPlaces: HandlerFor<'workshop.taxPlaces'> = (ctx) => taxPlaceRows(ctx.db).map(toTaxPlace);

/** A category says whether there is a rate: only S has one. @throws FaultError when they contradict each other */
function checkCategory({ category, ratePpm }: Parsed<'workshop.saveTaxPlace'>): void {
  if (category === 'S' && ratePpm === 0)
    throw invalid(
      'The standard category needs a rate above zero. Enter the rate or choose another.',
      'ratePpm',
    );
  if (category !== '' && category !== 'S' && ratePpm > 0)
    throw invalid('No tax is charged in this category. Set the rate to zero or choose another.', 'category');
}

/** Adds a tax place, or changes one. @returns its id @throws FaultError `missing` for an unknown id */
export function saveTaxPlaceRow(ctx: CommandContext, input: Parsed<'workshop.saveTaxPlace'>): string {
  checkCategory(input);
  const columns = {
    name: input.name,
    label: input.label,
    rate_ppm: input.ratePpm,
    on_shipping: Number(input.onShipping),
    inclusive: Number(input.inclusive),
    rounding: input.rounding,
    note: input.note,
    deposit_tax: input.depositTax,
    forfeit_taxed: Number(input.forfeitTaxed),
    category: input.category,
    reason_code: input.reasonCode,
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
