/** Use-cases of answers that have no other place. */
import type { askedEndpoints } from '../../api/asked.ts';
import type { Handlers } from '../handlers.ts';
import { again } from './again.ts';
import { batchSizes } from './batches.ts';
import { failuresIn } from './failures.ts';
import { compareHeat } from './heat.ts';
import { hoursOver } from './hours.ts';
import { postageByYear } from './postage.ts';
import { supportByRelease } from './supporters.ts';

/** Which use-case answers which call. */
export const askedHandlers: Pick<Handlers, keyof typeof askedEndpoints> = {
  'asked.hours': (ctx, { by }) => hoursOver(ctx.db, ctx.clock.today(), by),
  'asked.failures': (ctx, span) => failuresIn(ctx.db, span, ctx.clock.today()),
  'asked.batches': (ctx) => batchSizes(ctx.db),
  'asked.heat': (ctx, asked) => compareHeat(ctx.db, asked, ctx.clock.today()),
  'asked.supporters': (ctx) => supportByRelease(ctx),
  'asked.postage': (ctx) => postageByYear(ctx.db),
  'asked.again': (ctx) => again(ctx),
};
