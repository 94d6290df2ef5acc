/** Use-cases of the year. */
import type { yearEndpoints } from '../../api/year.ts';
import type { Handlers } from '../handlers.ts';
import { dropRule, saveRule, yearsOf } from './years.ts';

/** Which use-case answers which call. */
export const yearHandlers: Pick<Handlers, keyof typeof yearEndpoints> = {
  'year.years': (ctx) => yearsOf(ctx.db, ctx.clock.today()),
  'year.saveRule': { run: saveRule },
  'year.dropRule': { run: dropRule },
};
