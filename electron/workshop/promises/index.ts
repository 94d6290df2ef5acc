/** Use-cases of promises. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { promiseEndpoints } from '../../api/promises.ts';
import { deleteClosed, insertClosed, writeWeekSetting } from '../../storage/queries/promises.ts';
import type { CommandContext } from '../context.ts';
import type { Handlers } from '../handlers.ts';
import { promisesOf } from './list.ts';
import { type DaysNamed, keepDays, nameDays } from './note.ts';

function close(ctx: CommandContext, { from, until, note }: Parsed<'promises.close'>) {
  if (until < from) throw invalid('The last day lies before the first. Change one of them.', 'until');
  const id = ctx.newId();
  insertClosed(ctx.db, { id, from_on: from, until_on: until, note });
  return { id, from, until, note };
}

function prepareNote(ctx: CommandContext, { orderId }: Parsed<'promises.note'>): Promise<DaysNamed> {
  const { days, refusal } = nameDays(ctx.db, orderId, ctx.clock.today());
  if (refusal !== '') throw refused(refusal);
  if (days === undefined) throw missing('This order is not open, so no day is named for it.');
  return Promise.resolve(days);
}

function keepNote(ctx: CommandContext, days: DaysNamed) {
  keepDays(ctx, days);
  return { halfOn: days.halfOn, likelyOn: days.likelyOn };
}

/** Which use-case answers which call. */
export const promiseHandlers: Pick<Handlers, keyof typeof promiseEndpoints> = {
  'promises.list': (ctx, input) => promisesOf(ctx.db, input, ctx.clock.today()),
  'promises.setWeek': {
    run: (ctx, { weekMinutes }) => {
      writeWeekSetting(ctx.db, weekMinutes);
      return { weekMinutes };
    },
  },
  'promises.close': { run: (ctx, input) => close(ctx, input) },
  'promises.reopen': {
    run: (ctx, { id }) => {
      if (deleteClosed(ctx.db, id) === 0) throw missing('These days are not in the books any more.');
      return { id };
    },
  },
  'promises.note': {
    prepare: (ctx, input) => prepareNote(ctx, input),
    run: (ctx, _input, days: DaysNamed) => keepNote(ctx, days),
  },
};
