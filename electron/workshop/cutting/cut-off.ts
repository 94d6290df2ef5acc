/** Booking what comes off a piece of the rack: into a knife, or back on the rack as a lot of its own. */
import { drawLot } from '../../domain/stock.ts';
import type { LotToCut } from '../../storage/queries/cutting.ts';
import { partLabelOf } from '../../storage/queries/models.ts';
import { stageRow } from '../../storage/queries/workshop.ts';
import { valueOrRefuse } from '../answers.ts';
import { demandOpenFor, needBuild, touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { onItsDay, postDraws, toLotState } from '../stock/draw.ts';
import { needLot } from '../stock/lots.ts';
import { type AddedLot, newLot, type NewLot } from '../stock/new-lot.ts';
import { post } from '../stock/post.ts';
import { inherited } from './gather.ts';

/** The stage a cut belongs to, as long as the workshop has it. */
const CUTTING_STAGE = 'CUT';

/** What leaves a lot now: its share of the value left. Read anew each time, so that the last part takes what remains. */
function drawNow(ctx: CommandContext, lotId: string, qty: number, on: string) {
  const lot = needLot(ctx.db, lotId);
  const { draws } = valueOrRefuse(drawLot(toLotState(lot), qty));
  const [draw] = onItsDay(ctx, { id: lot.item_id, costing: lot.costing }, on, draws);
  if (draw === undefined) throw new Error('A cut drew nothing');
  return draw;
}

export interface ForKnife {
  readonly buildId: string;
  readonly on: string;
  /** Drawn in the books: the piece, its kerf and its share of what is too small to keep. */
  readonly qty: number;
  /** The piece itself. */
  readonly net: number;
}

/** Books a piece for a knife, which is in work from then on. @returns ids of the movements */
export function cutForKnife(
  ctx: CommandContext,
  lot: LotToCut,
  { buildId, on, qty, net }: ForKnife,
): readonly string[] {
  const build = needBuild(ctx.db, buildId);
  demandOpenFor(build, 'material');
  touchBuild(ctx.db, buildId, on);
  const partLabel = partLabelOf(ctx.db, build.model_id, lot.item_id, 'material');
  const stageCode = stageRow(ctx.db, CUTTING_STAGE) === undefined ? null : CUTTING_STAGE;
  const order = { buildId, itemId: lot.item_id, use: 'material' as const, on, partLabel, stageCode };
  return postDraws(ctx, { draws: [drawNow(ctx, lot.id, qty, on)] }, order, net).movementIds;
}

export interface Apart {
  readonly on: string;
  /** Leaves the lot. */
  readonly qtyOut: number;
  /** What it is in itself, without kerf and crumbs, in the unit it left in. */
  readonly net: number;
  readonly reason: string;
  /** The lot it becomes. */
  readonly becomes: Pick<NewLot, 'itemId' | 'qty' | 'lengthNm' | 'widthNm' | 'note'>;
}

/** Cuts a part off a lot and hangs it up as a lot of its own; value out is value in. */
export function cutApart(
  ctx: CommandContext,
  lot: LotToCut,
  part: Apart,
): AddedLot & { movementIds: string[] } {
  const { valueMicro, qty } = drawNow(ctx, lot.id, part.qtyOut, part.on);
  const id = ctx.newId();
  const what = { on: part.on, kind: 'split' as const, reason: part.reason };
  post(ctx.db, { ...what, id, lotId: lot.id, qty: -qty, valueMicro: -valueMicro, netQty: part.net });
  const added = newLot(ctx, { ...inherited(lot), ...what, ...part.becomes, valueMicro });
  return { ...added, movementIds: [id, added.movementId] };
}
