/** Use-cases: plan a cut, and cut blanks for knives. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { CutPlan } from '../../api/stock.ts';
import { type CutPlan as Plan, planCut as planInDomain, type Sharing } from '../../domain/cutting.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMicro } from '../../domain/money.ts';
import { type Draw, drawLotParts, type LotState } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import { partLabelOf } from '../../storage/queries/models.ts';
import { stageRow } from '../../storage/queries/workshop.ts';
import { valueOrRefuse } from '../answers.ts';
import { demandOpenFor, needBuild, touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandReceived, onItsDay, postDraws, toLotState } from './draw.ts';
import { needLot, type NeededLot } from './lots.ts';
import { describer } from './views.ts';

/** The stage a cut belongs to, as long as the workshop has it. */
const CUTTING_STAGE = 'CUT';

type CutInput = Omit<Parsed<'stock.planCut'>, 'blanks'>;

interface Reckoned {
  readonly lot: NeededLot;
  readonly plan: Plan;
  readonly draws: readonly Draw[];
  readonly after: LotState;
}

function sharingOf(input: CutInput): Sharing {
  if (input.sharing === 'by-length') return { rule: 'by-length' };
  if (input.blanksPerBar === undefined)
    throw invalid('Enter for how many blanks the bar is planned.', 'blanksPerBar');
  return { rule: 'whole-bar', blanksPerBar: input.blanksPerBar };
}

function reckon(db: ReadDb, input: CutInput, blanks: number): Reckoned {
  const lot = needLot(db, input.lotId);
  if (lot.form !== 'length') {
    throw refused(
      `${lot.item_name} is not measured by length, so no blanks are cut from it. Take it as a part instead.`,
      'lotId',
    );
  }
  const describe = describer(lot);
  const sizes = { blankLength: input.blankLength, kerf: input.kerf, usefulRemnant: lot.useful_remnant };
  const bar = { barLeft: lot.qty_left, barReceived: lot.qty_received };
  const plan = valueOrRefuse(planInDomain({ ...bar, ...sizes, blanks, sharing: sharingOf(input) }, describe));
  const parts = plan.takes.map((take) => take.qty);
  const drawn = valueOrRefuse(drawLotParts(toLotState(lot), parts, describe));
  return { lot, plan, draws: drawn.draws, after: drawn.lot };
}

function sentenceOf(db: ReadDb, { lot, plan, draws, after }: Reckoned, scrap: number): string {
  const { currency } = needWorkshop(db);
  const describe = describer(lot);
  const money = (micro: number): string => formatMicro(micro, currency, 0, { symbol: true });
  const net = plan.takes[0]?.net ?? 0;
  const blanks = draws.length === 1 ? 'One blank' : `${draws.length} blanks`;
  const take = draws.length === 1 ? 'takes' : 'take';
  const taken = `${describe(sumOf(draws, (draw) => draw.qty))} of ${tagOf(lot.number)}, worth ${money(sumOf(draws, (draw) => draw.valueMicro))}`;
  const waste = scrap === 0 ? '' : ` ${describe(scrap)} of kerf and short end goes to the scrap bin.`;
  const stays =
    after.qtyLeft === 0
      ? ' Nothing of the bar stays on the rack.'
      : ` ${describe(after.qtyLeft)} stays on the rack, worth ${money(after.valueLeftMicro)}.`;
  return `${blanks} of ${describe(net)} ${take} ${taken}.${waste}${stays}`;
}

function toCutPlan(db: ReadDb, reckoned: Reckoned): CutPlan {
  const { plan, draws, after } = reckoned;
  const shortEnd = plan.shortEnd + sumOf(plan.takes, (take) => take.kerf);
  return {
    blanks: draws.map(({ qty, valueMicro }) => ({ qty, valueMicro })),
    leftQty: after.qtyLeft,
    leftValueMicro: after.valueLeftMicro,
    shortEnd,
    sentence: sentenceOf(db, reckoned, shortEnd),
  };
}

/** What a cut would take off a bar. Changes nothing. */
export const planCut: HandlerFor<'stock.planCut'> = (ctx, input) =>
  toCutPlan(ctx.db, reckon(ctx.db, input, input.blanks));

function postBlank(
  ctx: CommandContext,
  lot: NeededLot,
  buildId: string,
  on: string,
  blank: { draw: Draw; net: number },
): void {
  const build = needBuild(ctx.db, buildId);
  demandOpenFor(build, 'material');
  touchBuild(ctx.db, buildId, on);
  const partLabel = partLabelOf(ctx.db, build.model_id, lot.item_id, 'material');
  const stageCode = stageRow(ctx.db, CUTTING_STAGE) === undefined ? null : CUTTING_STAGE;
  const order = { buildId, itemId: lot.item_id, use: 'material' as const, on, partLabel, stageCode };
  postDraws(ctx, { draws: [blank.draw] }, order, blank.net);
}

/** Cuts one blank for each of the knives named. */
export const cut: HandlerFor<'stock.cut'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    demandCome(ctx.clock.today(), input.on);
    if (new Set(input.buildIds).size < input.buildIds.length) {
      throw invalid('The same knife is named twice. Name each knife once.', 'buildIds');
    }
    const reckoned = reckon(ctx.db, input, input.buildIds.length);
    demandReceived(reckoned.lot, input.on);
    const answer = toCutPlan(ctx.db, reckoned);
    const { item_id: id, costing } = reckoned.lot;
    const draws = onItsDay(ctx, { id, costing }, input.on, reckoned.draws);
    for (const [at, buildId] of input.buildIds.entries()) {
      const draw = draws[at];
      const take = reckoned.plan.takes[at];
      if (draw === undefined || take === undefined) throw new Error('A cut has fewer blanks than knives');
      postBlank(ctx, reckoned.lot, buildId, input.on, { draw, net: take.net });
    }
    return answer;
  },
};
