/** Use-cases: the shelf, the list of openings, and how long each kind lasts. */
import type { Life, LifeRow, Opening, ShelfRow } from '../../api/consumables.ts';
import { consumableKinds, type GritScale, type ItemRow } from '../../api/stock.ts';
import { knivesPerOpening } from '../../domain/consumables.ts';
import { byGrain, gritText, micrometresOf } from '../../domain/grits.ts';
import { groupBy } from '../../domain/groups.ts';
import { spreadOf, TOO_FEW } from '../../domain/spread.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  dullCounts,
  openingCount,
  type OpeningRow,
  openingRows,
  openingShareRows,
} from '../../storage/queries/consumables.ts';
import { itemRows } from '../../storage/queries/items.ts';
import type { HandlerFor } from '../handlers.ts';
import { toItemRow } from '../stock/views.ts';
import { toOpenings } from './views.ts';

/** A finished opening with the knives it served. */
interface Lived {
  readonly opening: OpeningRow;
  readonly knives: number;
}

const endOf = (opening: OpeningRow): string | null => opening.blunt_on ?? opening.ended_on;

/** Finished openings with the knives each served; those shared over nobody say nothing. */
function lived(db: ReadDb): Lived[] {
  const openings = openingRows(db, {});
  const shares = groupBy(
    openingShareRows(
      db,
      openings.map((opening) => opening.id),
    ),
    (share) => share.opening_id,
  );
  const byItem = groupBy(openings, (opening) => opening.item_id);
  return [...byItem.values()].flatMap((own) => {
    const served = knivesPerOpening(
      own.map(({ id, qty }) => ({
        id,
        qty,
        shares: (shares.get(id) ?? []).map((share) => ({ buildId: share.build_id, weight: share.weight })),
      })),
    );
    return own
      .filter((opening) => endOf(opening) !== null && (served.get(opening.id) ?? 0) > 0)
      .map((opening) => ({ opening, knives: served.get(opening.id) ?? 0 }));
  });
}

const lifeOf = (list: readonly Lived[]): Life | null => spreadOf(list.map((one) => one.knives));

/** What an opening cost; where its stock falls by use, at the last price paid. */
function costOf(opening: OpeningRow, item: Pick<PricedItem, 'microPerUnit'> | undefined): number {
  if (opening.value_micro > 0) return opening.value_micro;
  return opening.qty * (item?.microPerUnit ?? 0);
}

interface PricedItem {
  readonly row: ItemRow;
  /** Millionths for one base unit at the last price; unrounded. */
  readonly microPerUnit: number;
}

function pricedItems(db: ReadDb): Map<string, PricedItem> {
  const rows = itemRows(db, { kinds: consumableKinds, includeArchived: true });
  return new Map(
    rows.map((row) => {
      const bought = row.bought_qty ?? 0;
      const microPerUnit = bought === 0 ? 0 : (row.bought_value_micro ?? 0) / bought;
      return [row.id, { row: toItemRow(row), microPerUnit }];
    }),
  );
}

const remarkOn = (n: number): string => (n < TOO_FEW ? 'too few to say' : '');

function toLifeRow(list: readonly Lived[], supplierName: string, item: PricedItem | undefined): LifeRow[] {
  const life = lifeOf(list);
  const [first] = list;
  if (life === null || first === undefined) return [];
  const { opening } = first;
  const knives = list.reduce((so, one) => so + one.knives, 0);
  const spent = list.reduce((so, one) => so + costOf(one.opening, item), 0);
  const scale = opening.grit_scale as GritScale | null;
  return [
    {
      ...life,
      itemId: opening.item_id,
      itemName: opening.item_name,
      grit: gritText({ scale, grit: opening.grit, backing: opening.backing }),
      supplierName,
      perKnifeMicro: Math.round(spent / knives),
      remark: remarkOn(life.n),
    },
  ];
}

/** Coarse to fine; the same grit by name. */
const coarseFirst = (a: ItemRow, b: ItemRow): number =>
  byGrain({ scale: a.gritScale, grit: a.grit }, { scale: b.gritScale, grit: b.grit }) ||
  a.name.localeCompare(b.name, 'en', { numeric: true });

/** How many knives one of each kind lasted, for openings that ended in the period. */
export const life: HandlerFor<'consumables.life'> = (ctx, { bySupplier, from, to }) => {
  const items = pricedItems(ctx.db);
  const ended = lived(ctx.db).filter(({ opening }) => {
    const end = endOf(opening) ?? '';
    return (from === undefined || end >= from) && (to === undefined || end <= to);
  });
  const groups = groupBy(ended, ({ opening }) =>
    bySupplier ? `${opening.item_id} ${opening.supplier_name ?? ''}` : opening.item_id,
  );
  return [...groups.values()]
    .flatMap((list) => {
      const name = list[0]?.opening.supplier_name ?? 'no supplier named';
      return toLifeRow(list, bySupplier ? name : '', items.get(list[0]?.opening.item_id ?? ''));
    })
    .toSorted((a, b) => {
      const [x, y] = [items.get(a.itemId)?.row, items.get(b.itemId)?.row];
      return x === undefined || y === undefined ? 0 : coarseFirst(x, y);
    });
};

const kindOrder = (item: ItemRow): number => consumableKinds.findIndex((kind) => kind === item.kind);

/** Everything that is used up over knives: what is left unopened, in use and dull, by kind and coarse to fine. */
export const shelf: HandlerFor<'consumables.shelf'> = (ctx, { text }) => {
  const { db } = ctx;
  const inUse = groupBy(toOpenings(db, openingRows(db, { states: ['inUse'] })), (one) => one.itemId);
  const dull = new Map(dullCounts(db).map((row) => [row.item_id, row.n]));
  const lives = groupBy(lived(db), ({ opening }) => opening.item_id);
  return itemRows(db, { text, kinds: consumableKinds })
    .map(toItemRow)
    .toSorted((a, b) => kindOrder(a) - kindOrder(b) || coarseFirst(a, b))
    .map((item): ShelfRow => ({
      ...item,
      inUse: inUse.get(item.id) ?? ([] as readonly Opening[]),
      dull: dull.get(item.id) ?? 0,
      life: lifeOf(lives.get(item.id) ?? []),
      micrometres: micrometresOf(item.gritScale, item.grit),
    }));
};

/** A page of openings, the newest first. */
export const openings: HandlerFor<'consumables.openings'> = (ctx, input) => ({
  rows: toOpenings(ctx.db, openingRows(ctx.db, input, input)),
  total: openingCount(ctx.db, input),
});
