/** Use-cases: recipes, for a steel or for one bar of it. */
import type { Recipe } from '../../api/heats.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { roundedSpreadOf } from '../../domain/spread.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  recipeNamed,
  type RecipeRow,
  recipeRow,
  recipeRows,
  recipeStepRows,
  replaceRecipeSteps,
} from '../../storage/queries/heats.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem } from '../stock/draw.ts';
import { needLot } from '../stock/lots.ts';
import { needWorkshop } from '../workshop/need.ts';
import { hardnessByRecipe } from './hardness.ts';
import { demandSaneSteps, stepColumns, toStep } from './steps.ts';

function toRecipes(db: ReadDb, rows: readonly RecipeRow[]): Recipe[] {
  const steps = recipeStepRows(
    db,
    rows.map((row) => row.id),
  );
  const gave = hardnessByRecipe(db);
  return rows.map((row) => {
    const hardness = roundedSpreadOf(gave.get(row.id) ?? []);
    return {
      id: row.id,
      name: row.name,
      steelItemId: row.steel_item_id,
      steelName: row.steel_name,
      lotId: row.lot_id,
      lotTag: row.lot_number === null ? null : tagOf(row.lot_number),
      heatNumber: row.heat_number ?? '',
      note: row.note,
      archived: row.archived === 1,
      steps: steps.filter((step) => step.recipe_id === row.id).map(toStep),
      used: row.used,
      hardness:
        hardness === null ? null : { n: hardness.n, meanMilliHrc: hardness.mean, sdMilliHrc: hardness.sd },
    };
  });
}

/** A recipe. @throws FaultError `missing` for an unknown id */
export function needRecipe(db: ReadDb, id: string): RecipeRow {
  const row = recipeRow(db, id);
  if (row === undefined) throw missing('This recipe does not exist any more. Reload the list.');
  return row;
}

/** Recipes with the hardness they gave. */
export const recipes: HandlerFor<'heats.recipes'> = (ctx, { includeArchived }) =>
  toRecipes(ctx.db, recipeRows(ctx.db, includeArchived));

/** The steel a recipe is for: the bar's own where a bar is named. */
function steelOf(db: ReadDb, { steelItemId, lotId }: Parsed<'heats.saveRecipe'>): string | null {
  const lot = lotId === null ? undefined : needLot(db, lotId);
  const id = steelItemId ?? lot?.item_id ?? null;
  if (lot !== undefined && id !== lot.item_id)
    throw invalid(
      `${tagOf(lot.number)} is ${lot.item_name}. Choose a bar of the recipe’s own steel.`,
      'lotId',
    );
  return id === null ? null : needItem(db, id).id;
}

/** Adds a recipe, or changes one; records keep the steps they were made by. */
export const saveRecipe: HandlerFor<'heats.saveRecipe'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const other = recipeNamed(ctx.db, input.name);
    if (other !== undefined && other !== input.id)
      throw refused('There is a recipe of this name already. Choose another name.', 'name');
    demandSaneSteps(input.steps);
    const columns = {
      name: input.name,
      steel_item_id: steelOf(ctx.db, input),
      lot_id: input.lotId,
      note: input.note,
      archived: Number(input.archived),
    };
    const { q } = ctx.db;
    const id = input.id ?? ctx.newId();
    if (input.id === undefined) ctx.db.run(q.insertInto('recipes').values({ id, ...columns }));
    else {
      needRecipe(ctx.db, id);
      ctx.db.run(q.updateTable('recipes').set(columns).where('id', '=', id));
    }
    replaceRecipeSteps(ctx.db, id, stepColumns(input.steps));
    const [recipe] = toRecipes(ctx.db, [needRecipe(ctx.db, id)]);
    if (recipe === undefined) throw new Error('A recipe just saved is not there');
    return recipe;
  },
};
