/** Use-cases: a new one on, shared over the knives it serves; sharing it anew; taking it back. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { consumableKinds } from '../../api/stock.ts';
import { likelyLot, type OpeningRow } from '../../storage/queries/consumables.ts';
import type { CommandContext } from '../context.ts';
import { demandCome, todayOrLater, correctionDay } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { demandNotBelowNothing } from '../stock/carried.ts';
import { knownStage, needItem, type NeededItem, pickFromRack } from '../stock/draw.ts';
import { needLot } from '../stock/lots.ts';
import { needWorkshop } from '../workshop/need.ts';
import { drawnAgain, forgetOlderShares, knivesOf, postShares, unpostShares, writeShares } from './shares.ts';
import { needOpening, readOpening } from './views.ts';

type OpenInput = Parsed<'consumables.open'>;

/** One piece or pair, in base units. */
const ONE = 1_000_000;
/** Kinds that are worth a second life when they are blunt; the others go in the bin. Common practice, no source. */
const secondLife: readonly string[] = ['belt', 'disc'];

function demandConsumable(item: NeededItem): void {
  if (consumableKinds.some((kind) => kind === item.kind)) return;
  throw refused(
    `${item.name} is no consumable, so there is no new one to put on. Take it for a knife instead.`,
    'itemId',
  );
}

function quantityOf(item: NeededItem, given: number | undefined): number {
  if (given !== undefined) return given;
  if (item.form === 'piece' || item.form === 'pair') return ONE;
  throw invalid(`Write how much of ${item.name} is taken into use.`, 'qty');
}

/** Puts the one that is replaced on the dull peg, or away. */
function replace(ctx: CommandContext, replacesId: string, on: string): void {
  const before = needOpening(ctx.db, replacesId);
  if (before.state !== 'inUse') {
    throw refused(
      `The ${before.item_name} it should replace is not in use any more. Reload the list.`,
      'replacesId',
    );
  }
  if (on < before.on_date) {
    throw refused(`The one it replaces was opened on ${before.on_date}, after ${on}. Change the date.`, 'on');
  }
  const dull = secondLife.includes(before.kind);
  const columns = {
    state: dull ? 'dull' : 'gone',
    blunt_on: before.blunt_on ?? on,
    ended_on: dull ? null : on,
  };
  ctx.db.run(ctx.db.q.updateTable('openings').set(columns).where('id', '=', replacesId));
}

/** Where stock falls by use, an opening only notes which supplier's it most likely was. */
function origin(ctx: CommandContext, item: NeededItem, lotId: string | undefined) {
  if (lotId === undefined)
    return { lot: null, supplier: likelyLot(ctx.db, item.id)?.supplier_id ?? item.supplier_id };
  const lot = needLot(ctx.db, lotId);
  if (lot.item_id !== item.id) throw invalid(`This lot holds ${lot.item_name}. Choose another lot.`, 'lotId');
  return { lot: lot.id, supplier: supplierOf(ctx, lot.id) };
}

const supplierOf = (ctx: CommandContext, lotId: string): string | null =>
  ctx.db.one(ctx.db.q.selectFrom('lots').select('supplier_id').where('id', '=', lotId))?.supplier_id ?? null;

function insertOpening(
  ctx: CommandContext,
  input: OpenInput,
  row: Pick<OpeningRow, 'id' | 'lot_id' | 'supplier_id' | 'stage_code' | 'qty'>,
): void {
  const { itemId, on, note, replacesId } = input;
  const state = { state: 'inUse', blunt_on: null, ended_on: null, replaces_id: replacesId ?? null };
  const about = { item_id: itemId, on_date: on, opened_at: ctx.clock.now(), note };
  ctx.db.run(ctx.db.q.insertInto('openings').values({ ...row, ...about, ...state }));
}

/**
 * A new one on. Where stock falls by openings its cost is shared over the knives at once, or waits to be shared; where
 * stock falls by use only its life is noted.
 */
export const open: HandlerFor<'consumables.open'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const item = needItem(ctx.db, input.itemId);
    demandConsumable(item);
    demandCome(ctx.clock.today(), input.on);
    knivesOf(ctx, input.shares);
    const stageCode = knownStage(ctx.db, input.stageCode);
    const qty = quantityOf(item, input.qty);
    if (input.replacesId !== undefined) replace(ctx, input.replacesId, input.on);
    const falls = item.consumed_by === 'opening';
    const draws = falls ? pickFromRack(ctx, item, { lotId: input.lotId, qty, on: input.on }).draws : [];
    const from = origin(ctx, item, draws[0]?.lotId ?? input.lotId);
    const id = ctx.newId();
    insertOpening(ctx, input, {
      id,
      lot_id: falls ? from.lot : null,
      supplier_id: from.supplier,
      stage_code: stageCode,
      qty,
    });
    writeShares(ctx, id, input.shares);
    if (falls) postShares(ctx, { id, item, on: input.on, stageCode }, draws, input.shares);
    return readOpening(ctx.db, id);
  },
};

function needStanding(ctx: CommandContext, id: string): OpeningRow {
  const opening = needOpening(ctx.db, id);
  if (opening.state === 'takenBack') throw refused('This opening was taken back already.');
  return opening;
}

/** Shares an opening over other knives: what it drew is taken back and drawn anew in one step. */
export const share: HandlerFor<'consumables.share'> = {
  run(ctx, { openingId, shares, reason }) {
    needWorkshop(ctx.db);
    const opening = needStanding(ctx, openingId);
    knivesOf(ctx, shares);
    const because = reason === '' ? 'Shared anew' : reason;
    const carriers = readOpening(ctx.db, openingId).builds.map((build) => build.id);
    // Both on the day it is shared anew: knives begun since are not begun earlier, and the rack held no less meanwhile.
    const on = todayOrLater(ctx.clock.today(), opening.on_date);
    const draws = drawnAgain(ctx, unpostShares(ctx, opening, { reason: because, on: () => on }));
    writeShares(ctx, openingId, shares);
    if (draws.length > 0) {
      const item = needItem(ctx.db, opening.item_id);
      postShares(ctx, { id: openingId, item, on, stageCode: opening.stage_code }, draws, shares);
    }
    demandNotBelowNothing(ctx.db, opening.item_id, carriers);
    return readOpening(ctx.db, openingId);
  },
};

/** Puts the replaced one on again, if it was taken off that day and nothing became of it since. */
function putBackOn(ctx: CommandContext, opening: OpeningRow): void {
  if (opening.replaces_id === null) return;
  ctx.db.run(
    ctx.db.q
      .updateTable('openings')
      .set({ state: 'inUse', blunt_on: null, ended_on: null })
      .where('id', '=', opening.replaces_id)
      .where('state', 'in', ['dull', 'gone'])
      .where('blunt_on', '=', opening.on_date),
  );
}

/** Takes an opening back: stock and value return, and the one it replaced is on again. */
export const takeBack: HandlerFor<'consumables.takeBack'> = {
  run(ctx, { openingId, reason }) {
    needWorkshop(ctx.db);
    const opening = needStanding(ctx, openingId);
    const carriers = readOpening(ctx.db, openingId).builds.map((build) => build.id);
    unpostShares(ctx, opening, { reason, on: (day) => correctionDay(ctx, day) });
    forgetOlderShares(ctx, opening, reason);
    demandNotBelowNothing(ctx.db, opening.item_id, carriers);
    putBackOn(ctx, opening);
    const note = [opening.note, reason].filter((part) => part !== '').join('\n');
    ctx.db.run(
      ctx.db.q.updateTable('openings').set({ state: 'takenBack', note }).where('id', '=', openingId),
    );
    return readOpening(ctx.db, openingId);
  },
};

/** Where one goes when it is blunt, and back. */
export const peg: HandlerFor<'consumables.peg'> = {
  run(ctx, { openingId, to, on }) {
    needWorkshop(ctx.db);
    const opening = needStanding(ctx, openingId);
    demandCome(ctx.clock.today(), on);
    if (on < opening.on_date)
      throw refused(`It was opened on ${opening.on_date}, after ${on}. Change the date.`, 'on');
    // Blunt once is blunt for good: back in use is its second life, unless it hung up there by a slip this very day.
    const slip = to === 'inUse' && opening.blunt_on === on;
    const columns = {
      state: to,
      blunt_on: slip ? null : (opening.blunt_on ?? (to === 'inUse' ? null : on)),
      ended_on: to === 'gone' ? on : null,
    };
    ctx.db.run(ctx.db.q.updateTable('openings').set(columns).where('id', '=', openingId));
    return readOpening(ctx.db, openingId);
  },
};
