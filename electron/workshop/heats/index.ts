/** Use-cases of heat treatment: which one answers which call. */
import type { heatEndpoints } from '../../api/heats.ts';
import type { Handlers } from '../handlers.ts';
import { recipes, saveRecipe } from './recipes.ts';
import { recordPdf } from './paper.ts';
import { heat, heats, saveHeat } from './records.ts';

export const heatHandlers: Pick<Handlers, keyof typeof heatEndpoints> = {
  'heats.recipes': recipes,
  'heats.saveRecipe': saveRecipe,
  'heats.list': heats,
  'heats.get': heat,
  'heats.recordPdf': recordPdf,
  'heats.save': saveHeat,
};
