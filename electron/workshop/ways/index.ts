/** Use-cases of the ways on with a doubtful knife. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing } from '../../api/errors.ts';
import type { Decision, wayEndpoints } from '../../api/ways.ts';
import { decisionRows, insertDecision } from '../../storage/queries/ways.ts';
import type { CommandContext } from '../context.ts';
import type { Handlers } from '../handlers.ts';
import { reckonWays } from './reckon.ts';
import { toDecision } from './words.ts';

/** Keeps the decision with every way as it stood. */
function decide(ctx: CommandContext, input: Parsed<'ways.decide'>): Decision {
  const today = ctx.clock.today();
  if (input.on > today)
    throw invalid(`${input.on} is still to come (today is ${today}). Write the day it was decided.`, 'on');
  const { ways, buildId } = reckonWays(ctx.db, input, input.on);
  const id = ctx.newId();
  const kept = ways.map(({ way, minutes, spendMinor, chancePpm, priceMinor, leftMinor, perHourMinor }) => ({
    way,
    minutes,
    spendMinor,
    chancePpm,
    priceMinor,
    leftMinor,
    perHourMinor,
  }));
  insertDecision(ctx.db, {
    id,
    build_id: buildId,
    on_date: input.on,
    chosen: input.chosen,
    reason: input.reason,
    ways: JSON.stringify(kept),
  });
  const row = decisionRows(ctx.db, buildId).find((one) => one.id === id);
  if (row === undefined) throw missing('The decision was not kept. Try again.');
  return toDecision(row);
}

/** Which use-case answers which call. */
export const wayHandlers: Pick<Handlers, keyof typeof wayEndpoints> = {
  'ways.reckon': (ctx, input) => reckonWays(ctx.db, input, ctx.clock.today()),
  'ways.decide': { run: (ctx, input) => decide(ctx, input) },
};
