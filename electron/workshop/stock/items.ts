/** Use-cases: stock items and consumables. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { formNames, isUnitCode, unitOf, unitsOf } from '../../domain/units.ts';
import type { ReadDb } from '../../storage/db.ts';
import { itemHasLots, itemNamed, itemRow, itemRows, supplierRow } from '../../storage/queries/items.ts';
import { buildsWithItem, lotPage, movementRows } from '../../storage/queries/lots.ts';
import type { HandlerFor } from '../handlers.ts';
import { restateCosts } from '../costs/restate.ts';
import { needWorkshop } from '../workshop/need.ts';
import { levelItem } from './post.ts';
import { toItem, toItemRow, toLotRow, toMovement } from './views.ts';

/** Movements shown with an item; the whole ledger has a list of its own. */
const MOVEMENTS_SHOWN = 500;
const LOTS_SHOWN = 20_000;

/** Items with what is left of each. */
export const items: HandlerFor<'stock.items'> = (ctx, input) => itemRows(ctx.db, input).map(toItemRow);

/** One item with its lots, oldest first, and its latest movements. */
export const item: HandlerFor<'stock.item'> = (ctx, { id }) => {
  const row = itemRows(ctx.db, { id, includeArchived: true })[0];
  if (row === undefined) throw missing('This item does not exist any more. Go back to the list.');
  const lots = lotPage(ctx.db, { itemId: id, limit: LOTS_SHOWN, offset: 0 });
  const movements = movementRows(ctx.db, { itemId: id }, { limit: MOVEMENTS_SHOWN, offset: 0 });
  return { ...toItemRow(row), lots: lots.rows.map(toLotRow), movements: movements.map(toMovement) };
};

type ItemNow = NonNullable<ReturnType<typeof itemRow>>;

function checkUnit({ form, unit }: Parsed<'stock.saveItem'>): void {
  if (isUnitCode(unit) && unitOf(unit).form === form) return;
  const known = unitsOf(form)
    .map((each) => each.name)
    .join(', ');
  throw invalid(`“${unit}” does not measure ${formNames[form]}. Choose one of: ${known}.`, 'unit');
}

/** Checks an item before it is saved. @returns how it stands now, if it is not new */
function checkItem(db: ReadDb, input: Parsed<'stock.saveItem'>): ItemNow | undefined {
  checkUnit(input);
  const same = itemNamed(db, input.name);
  if (same !== undefined && same.id !== input.id) {
    throw refused(
      `There is already an item called ${input.name}. Use it, or give this one another name.`,
      'name',
    );
  }
  if (input.supplierId !== null && supplierRow(db, input.supplierId) === undefined) {
    throw invalid('This supplier does not exist any more. Choose another one.', 'supplierId');
  }
  if (input.id === undefined) return undefined;
  const before = itemRow(db, input.id);
  if (before === undefined) throw missing('This item does not exist any more. Reload the list.');
  if (before.form !== input.form && itemHasLots(db, input.id)) {
    throw refused(
      `${before.name} has lots on the books; how it is measured cannot change any more. Make a new item instead.`,
      'form',
    );
  }
  return before;
}

const itemColumns = (input: Parsed<'stock.saveItem'>) => ({
  name: input.name,
  kind: input.kind,
  form: input.form,
  unit: input.unit,
  piece_word: input.pieceWord,
  costing: input.costing,
  useful_remnant: input.usefulRemnant,
  kerf_nm: input.kerfNm,
  thickness_nm: input.thicknessNm,
  width_nm: input.widthNm,
  density_milli: input.densityMilli,
  supplier_id: input.supplierId,
  low_level: input.lowLevel,
  note: input.note,
  archived: Number(input.archived),
  consumed_by: input.consumedBy,
  grit_scale: input.gritScale,
  grit: input.grit,
  backing: input.backing,
  incidental: Number(input.incidental),
});

/** Adds an item, or changes one. How it is measured is fixed once there are lots of it. */
export const saveItem: HandlerFor<'stock.saveItem'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const before = checkItem(ctx.db, input);
    const { q } = ctx.db;
    const id = input.id ?? ctx.newId();
    const statement =
      input.id === undefined
        ? q.insertInto('items').values({ id, ...itemColumns(input) })
        : q.updateTable('items').set(itemColumns(input)).where('id', '=', id);
    ctx.db.run(statement);
    // Its kind names the line of the sheet a draw without a part stands on, and lines are rounded one by one.
    if (before !== undefined && before.kind !== input.kind)
      restateCosts(ctx.db, buildsWithItem(ctx.db, before.id));
    // What lies there keeps its whole value; only how it is spread over the lots changes. The other way nothing moves.
    if (before !== undefined && before.costing !== 'average' && input.costing === 'average') {
      const reason = 'Valued at the moving average from this day on';
      levelItem(ctx.db, id, { key: ctx.newId(), on: ctx.clock.today(), reason });
    }
    const saved = itemRow(ctx.db, id);
    if (saved === undefined) throw new Error('An item just saved is not there');
    return toItem(saved);
  },
};
