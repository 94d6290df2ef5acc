/** Use-case: gas burnt for a batch or a making. It leaves the rack by the item's costing rule, shared fairly. */
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import { gasByTime, gasByWeight } from '../../domain/burns.ts';
import { allocate, sumOf } from '../../domain/integers.ts';
import type { Draw } from '../../domain/stock.ts';
import { valueOrInvalid } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { knownStage, pickFromRack } from '../stock/draw.ts';
import { post } from '../stock/post.ts';
import { describer } from '../stock/views.ts';
import { needWorkshop } from '../workshop/need.ts';
import { burnById } from './burns.ts';
import { prepareFor, sharedWords, writeShares } from './for-whom.ts';
import { needGas } from './ovens.ts';
import { howBurnt } from './views.ts';

type Gas = Parsed<'fires.gas'>;

/** How much went, and what that was reckoned from, as the books keep it. */
interface Burnt {
  readonly kind: 'gasByWeight' | 'gasByHours';
  readonly before_ng: number | null;
  readonly after_ng: number | null;
  readonly fire_minutes: number | null;
  readonly burn_rate_ng: number | null;
  readonly qty_ng: number;
}

function weighed({ beforeNg, afterNg }: Gas): Burnt {
  if (beforeNg === undefined) throw invalid('Write what the cylinder weighed before the firing.', 'beforeNg');
  if (afterNg === undefined) throw invalid('Write what the cylinder weighed after the firing.', 'afterNg');
  const qty = valueOrInvalid(gasByWeight(beforeNg, afterNg), 'afterNg');
  return {
    kind: 'gasByWeight',
    before_ng: beforeNg,
    after_ng: afterNg,
    fire_minutes: null,
    burn_rate_ng: null,
    qty_ng: qty,
  };
}

function timed({ fireMinutes, burnRateNg }: Gas): Burnt {
  if (fireMinutes === undefined) throw invalid('Write how long the fire burnt.', 'fireMinutes');
  if (burnRateNg === undefined) throw invalid('Write how much gas the fire burns in an hour.', 'burnRateNg');
  const qty = gasByTime(burnRateNg, fireMinutes);
  if (qty === 0) throw invalid('That burns no gas at all. Check time and burn rate.', 'burnRateNg');
  return {
    kind: 'gasByHours',
    before_ng: null,
    after_ng: null,
    fire_minutes: fireMinutes,
    burn_rate_ng: burnRateNg,
    qty_ng: qty,
  };
}

/** What every movement of one firing says alike. */
interface About {
  readonly on: string;
  readonly reason: string;
  readonly burnId: string;
  readonly rung: 3;
}

/** Of every lot touched each knife takes its part of quantity and of value, so that equal knives pay equal money. */
function drawForKnives(
  ctx: CommandContext,
  draws: readonly Draw[],
  { shares, stageCode }: Gas,
  about: About,
): void {
  const weights = shares.map((share) => share.weight);
  for (const draw of draws) {
    const qtys = allocate(draw.qty, weights);
    // Equal knives pay equal money, except for a crumb too small for all: nothing is worth nothing.
    const values = allocate(draw.valueMicro, qtys.includes(0) ? qtys : weights);
    shares.forEach(({ buildId }, at) => {
      if (qtys[at] === 0) return;
      post(ctx.db, {
        ...about,
        id: ctx.newId(),
        lotId: draw.lotId,
        kind: 'draw',
        qty: 0 - (qtys[at] ?? 0),
        valueMicro: 0 - (values[at] ?? 0),
        use: 'energy',
        buildId,
        stageCode,
      });
    });
  }
}

function drawForMaking(ctx: CommandContext, draws: readonly Draw[], makingId: string, about: About): void {
  for (const draw of draws) {
    post(ctx.db, {
      ...about,
      id: ctx.newId(),
      lotId: draw.lotId,
      kind: 'intoMaking',
      qty: -draw.qty,
      valueMicro: 0 - draw.valueMicro,
      makingId,
    });
  }
}

/** Books gas by weighing the cylinder, or by fire time and burn rate. */
export const gas: HandlerFor<'fires.gas'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const item = needGas(ctx.db, input.itemId, 'itemId');
    const stageCode = knownStage(ctx.db, input.stageCode);
    const burnt = input.how === 'weight' ? weighed(input) : timed(input);
    prepareFor(ctx, input);
    const { draws } = pickFromRack(ctx, item, { lotId: input.lotId, qty: burnt.qty_ng, on: input.on });
    const burnId = ctx.newId();
    const row = {
      id: burnId,
      on_date: input.on,
      label: item.name,
      item_id: item.id,
      making_id: input.makingId,
      amount_micro: sumOf(draws, (draw) => draw.valueMicro),
      note: input.note,
      watt_hours: null,
      per_kwh_micro: null,
      ...burnt,
    };
    ctx.db.run(ctx.db.q.insertInto('burns').values(row));
    writeShares(ctx, burnId, input);
    const how = howBurnt(row, describer(item), houseOf(ctx.db).currency);
    const about: About = { on: input.on, reason: sharedWords(how, input), burnId, rung: 3 };
    if (input.makingId === null) drawForKnives(ctx, draws, { ...input, stageCode }, about);
    else drawForMaking(ctx, draws, input.makingId, about);
    return burnById(ctx.db, burnId);
  },
};
