/** Use-case: current for a batch or a making, by the meter or by an oven's habit, at the price of the day. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { currentCost, ovenWattHours } from '../../domain/burns.ts';
import { allocate } from '../../domain/integers.ts';
import { tariffOn } from '../../storage/queries/fires.ts';
import { postCharge } from '../builds/charges.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { postMakingCharge } from '../makings/charges.ts';
import { needWorkshop } from '../workshop/need.ts';
import { burnById } from './burns.ts';
import { prepareFor, sharedWords, writeShares } from './for-whom.ts';
import { needFire } from './ovens.ts';
import { howBurnt } from './views.ts';

type Current = Parsed<'fires.current'>;

interface Drawn {
  readonly wattHours: number;
  readonly label: string;
}

/** By the meter where it was read; otherwise what the oven draws in that time. */
function drawnBy(ctx: CommandContext, { fireId, minutes, wattHours }: Current): Drawn {
  const fire = fireId === undefined ? undefined : needFire(ctx.db, fireId);
  const label = fire === undefined ? 'Current' : `Current, ${fire.name}`;
  if (wattHours !== undefined) return { wattHours, label };
  if (fire === undefined) throw invalid('Choose the oven, or write what the meter counted.', 'fireId');
  if (fire.watts === 0)
    throw invalid(`${fire.name} has no watts written down. Write them there, or read the meter.`, 'fireId');
  if (minutes === undefined) throw invalid('Write how long the oven was on.', 'minutes');
  const reckoned = ovenWattHours(fire.watts, fire.duty_ppm, minutes);
  if (reckoned === 0) throw invalid('That draws no current at all. Check time, watts and duty.', 'minutes');
  return { wattHours: reckoned, label };
}

function chargeKnives(
  ctx: CommandContext,
  { on, shares }: Current,
  about: { readonly label: string; readonly how: string; readonly burnId: string; readonly amount: number },
): void {
  const amounts = allocate(
    about.amount,
    shares.map((share) => share.weight),
  );
  shares.forEach(({ buildId }, at) => {
    postCharge(ctx, {
      buildId,
      on,
      label: about.label,
      use: 'energy',
      amountMicro: amounts[at] ?? 0,
      rung: 3,
      burnId: about.burnId,
      how: about.how,
    });
  });
}

/** Books current at the price of the day. */
export const current: HandlerFor<'fires.current'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const { wattHours, label } = drawnBy(ctx, input);
    const tariff = tariffOn(ctx.db, input.on);
    if (tariff === undefined)
      throw refused(
        `No price of current is set for ${input.on}. Set one under Current, with a start on or before that day.`,
        'on',
      );
    prepareFor(ctx, input);
    const amount = currentCost(wattHours, tariff.per_kwh_micro);
    const row = {
      id: ctx.newId(),
      on_date: input.on,
      kind: 'current',
      label,
      item_id: null,
      making_id: input.makingId,
      before_ng: null,
      after_ng: null,
      fire_minutes: input.minutes ?? null,
      burn_rate_ng: null,
      watt_hours: wattHours,
      per_kwh_micro: tariff.per_kwh_micro,
      qty_ng: null,
      amount_micro: amount,
      note: input.note,
    };
    ctx.db.run(ctx.db.q.insertInto('burns').values(row));
    writeShares(ctx, row.id, input);
    const how = sharedWords(howBurnt(row, String, houseOf(ctx.db).currency), input);
    if (input.makingId === null) chargeKnives(ctx, input, { label, how, burnId: row.id, amount });
    else {
      postMakingCharge(ctx, {
        makingId: input.makingId,
        on: input.on,
        label: `${label}: ${how}`,
        amountMicro: amount,
        burnId: row.id,
      });
    }
    return burnById(ctx.db, row.id);
  },
};
