/** Sharing what was opened over knives: the draws it makes on them, and taking those back as a whole. */
import { invalid } from '../../api/errors.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { shareDraws, type Weighted } from '../../domain/consumables.ts';
import { groupBy } from '../../domain/groups.ts';
import type { Draw } from '../../domain/stock.ts';
import { openingMoves, openingMovesUndoneLater, type OpeningRow } from '../../storage/queries/consumables.ts';
import { averagedItemOf } from '../../storage/queries/lots.ts';
import { partLabelOf } from '../../storage/queries/models.ts';
import { valueOrRefuse } from '../answers.ts';
import {
  demandOpenFor,
  demandOpenToTakeBack,
  needBuild,
  type NeededBuild,
  touchBuild,
} from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { correctionDay } from '../days.ts';
import type { NeededItem } from '../stock/draw.ts';
import { needLot } from '../stock/lots.ts';
import { makeRoomFor, type NewMovement, post } from '../stock/post.ts';

/** A share of an opening: its part of the cost is booked as what was used up, on the third rung. */
const SHARED = { kind: 'draw', use: 'consumable', rung: 3 } as const;

/** The knives named, each once. @throws FaultError for one that is unknown or named twice */
export function knivesOf(ctx: CommandContext, shares: readonly Weighted[]): NeededBuild[] {
  const seen = new Set<string>();
  return shares.map(({ buildId }, at) => {
    const build = needBuild(ctx.db, buildId);
    if (seen.has(buildId)) {
      throw invalid(
        `${build.serial} is named twice. Give it one share with more weight.`,
        `shares.${at}.buildId`,
      );
    }
    seen.add(buildId);
    return build;
  });
}

/** Writes down which knives an opening serves, in place of those before. */
export function writeShares(ctx: CommandContext, openingId: string, shares: readonly Weighted[]): void {
  const { q } = ctx.db;
  ctx.db.run(q.deleteFrom('opening_builds').where('opening_id', '=', openingId));
  for (const { buildId, weight } of shares) {
    ctx.db.run(q.insertInto('opening_builds').values({ opening_id: openingId, build_id: buildId, weight }));
  }
}

/** What an opening is, as its movements say it. */
export interface OpeningFacts {
  readonly id: string;
  readonly item: Pick<NeededItem, 'id' | 'kind'>;
  readonly on: string;
  readonly stageCode: string | null;
}

/** With no knife to carry it, what was opened waits to be shared: it has left the rack and lies nowhere else. */
function postUnshared(ctx: CommandContext, { id, on }: OpeningFacts, draws: readonly Draw[]): void {
  for (const { lotId, qty, valueMicro } of draws) {
    const what = { lotId, on, qty: -qty, valueMicro: -valueMicro, openingId: id };
    post(ctx.db, { id: ctx.newId(), kind: 'opened', rung: 3, ...what });
  }
}

/**
 * Posts what left the rack as draws of the knives that share it.
 * @throws FaultError when a knife is closed, or there is too little for so many
 */
export function postShares(
  ctx: CommandContext,
  opening: OpeningFacts,
  draws: readonly Draw[],
  shares: readonly Weighted[],
): void {
  if (shares.length === 0) {
    postUnshared(ctx, opening, draws);
    return;
  }
  const knives = new Map(knivesOf(ctx, shares).map((build) => [build.id, build]));
  for (const build of knives.values()) demandOpenFor(build, 'consumable');
  for (const share of valueOrRefuse(shareDraws(draws, shares), 'shares')) {
    const modelId = knives.get(share.buildId)?.model_id ?? '';
    post(ctx.db, {
      ...SHARED,
      id: ctx.newId(),
      lotId: share.lotId,
      on: opening.on,
      qty: -share.qty,
      valueMicro: -share.valueMicro,
      buildId: share.buildId,
      stageCode: opening.stageCode,
      partLabel: partLabelOf(ctx.db, modelId, opening.item.id, SHARED.use),
      openingId: opening.id,
    });
  }
  for (const id of knives.keys()) touchBuild(ctx.db, id, opening.on);
}

type Move = ReturnType<typeof openingMoves>[number];

/** What every entry about a movement says alike. */
const aboutMove = (move: Move, reason: string) => ({
  lotId: move.lot_id,
  use: move.build_id === null ? null : SHARED.use,
  buildId: move.build_id,
  stageCode: move.stage_code,
  partLabel: move.part_label,
  reason,
  openingId: move.opening_id,
  rung: SHARED.rung,
});

const reversalOf = (move: Move, reason: string): Omit<NewMovement, 'id' | 'on'> => ({
  ...aboutMove(move, reason),
  kind: 'reversal',
  qty: 0 - move.qty,
  valueMicro: 0 - move.value_micro,
  reversesId: move.id,
});

/**
 * Sharing anew takes a share back on the day it is shared anew, so from its own day until then it stands; if the opening
 * never was, it must not. What was taken back is drawn once more on the day it was, and that is taken back on the day of
 * the share: nothing changes in the end, and on no day between does anything stand. In a closed year it stays.
 */
export function forgetOlderShares(ctx: CommandContext, opening: OpeningRow, reason: string): void {
  const open = (day: string): boolean => correctionDay(ctx, day) === day;
  for (const move of openingMovesUndoneLater(ctx.db, opening.id).filter((one) => open(one.on_date))) {
    const draw = { lotId: move.lot_id, qty: 0 - move.qty, valueMicro: 0 - move.value_micro };
    const id = ctx.newId();
    const averaged = averagedItemOf(ctx.db, move.lot_id);
    if (averaged !== undefined) makeRoomFor(ctx.db, averaged, [draw], { key: id, on: move.undone_on });
    post(ctx.db, {
      ...aboutMove(move, reason),
      id,
      on: move.undone_on,
      kind: move.build_id === null ? 'opened' : SHARED.kind,
      qty: move.qty,
      valueMicro: move.value_micro,
    });
    post(ctx.db, {
      ...reversalOf(move, reason),
      id: ctx.newId(),
      on: move.on_date,
      reversesId: id,
    });
  }
}

/**
 * Takes back every movement of an opening. @param why with the day each counts on, by the day it was booked on
 * @returns what lies on the rack again, one draw for each lot
 * @throws FaultError when a knife that carries a share is closed
 */
export function unpostShares(
  ctx: CommandContext,
  opening: OpeningRow,
  { reason, on }: { readonly reason: string; readonly on: (booked: string) => string },
): Draw[] {
  const moves = openingMoves(ctx.db, opening.id);
  for (const { build_id: buildId } of moves) {
    if (buildId !== null) demandOpenToTakeBack(needBuild(ctx.db, buildId), SHARED.use);
  }
  for (const move of moves) {
    post(ctx.db, { ...reversalOf(move, reason), id: ctx.newId(), on: on(move.on_date) });
  }
  return [...groupBy(moves, (move) => move.lot_id)].map(([lotId, own]) => ({
    lotId,
    qty: -sumOf(own, (move) => move.qty),
    valueMicro: -sumOf(own, (move) => move.value_micro),
  }));
}

/** Draws the same again at the value it left with; at the moving average, at what the average is now. */
export const drawnAgain = (ctx: CommandContext, draws: readonly Draw[]): Draw[] =>
  draws.map((draw) => {
    const lot = needLot(ctx.db, draw.lotId);
    if (lot.costing !== 'average') return draw;
    return { ...draw, valueMicro: mulDiv(lot.value_left_micro, draw.qty, lot.qty_left) };
  });
