/** Use-cases: quench baths and what is written about them. */
import type { Bath } from '../../api/fires.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { bathEventRows, bathNamed, type BathRow, bathRow, bathRows } from '../../storage/queries/fires.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem } from '../stock/draw.ts';
import { needWorkshop } from '../workshop/need.ts';
import { stateOf, toBaths } from './views.ts';

/** A bath. @throws FaultError `missing` for an unknown id */
export function needBath(db: ReadDb, id: string): BathRow {
  const row = bathRow(db, id);
  if (row === undefined) throw missing('This bath does not exist any more. Reload the list.');
  return row;
}

/** A bath as the contract answers it, with its ledger. */
export function bathById(ctx: QueryContext | CommandContext, id: string): Bath {
  const [bath] = toBaths(ctx.db, [needBath(ctx.db, id)], ctx.clock.today());
  if (bath === undefined) throw new Error('A bath just read is not there');
  return bath;
}

/** Every bath with its ledger. */
export const baths: HandlerFor<'baths.list'> = (ctx, { includeArchived }) =>
  toBaths(ctx.db, bathRows(ctx.db, includeArchived), ctx.clock.today());

function demandOil(db: ReadDb, itemId: string): void {
  const item = needItem(db, itemId);
  if (item.form === 'volume') return;
  throw invalid(
    `${item.name} is not kept by volume. Choose an oil that is, or change the item first.`,
    'itemId',
  );
}

/** What a bath holds cannot turn into something else, nor be put away with oil in it. */
function demandSameOil(
  db: ReadDb,
  before: BathRow,
  input: { readonly itemId: string; readonly archived: boolean },
): void {
  const { volumeNl } = stateOf(bathEventRows(db, [before.id]));
  if (volumeNl === 0) return;
  if (before.item_id !== input.itemId)
    throw refused(`There is ${before.item_name} in the tank. Change the oil first.`, 'itemId');
  if (input.archived)
    throw refused('There is oil in the tank. Note that it went out first, by changing it.', 'archived');
}

/** Adds a bath, or changes what is written about one. */
export const saveBath: HandlerFor<'baths.save'> = {
  run(ctx, { id, ...input }) {
    needWorkshop(ctx.db);
    demandOil(ctx.db, input.itemId);
    const other = bathNamed(ctx.db, input.name);
    if (other !== undefined && other !== id)
      throw refused('There is a bath of this name already. Choose another name.', 'name');
    const columns = {
      name: input.name,
      item_id: input.itemId,
      life_quenches: input.lifeQuenches,
      life_days: input.lifeDays,
      flash_milli_c: input.flashMilliC,
      note: input.note,
      archived: Number(input.archived),
    };
    const { q } = ctx.db;
    if (id === undefined) {
      const fresh = ctx.newId();
      ctx.db.run(q.insertInto('baths').values({ id: fresh, ...columns }));
      return bathById(ctx, fresh);
    }
    demandSameOil(ctx.db, needBath(ctx.db, id), input);
    ctx.db.run(q.updateTable('baths').set(columns).where('id', '=', id));
    return bathById(ctx, id);
  },
};
