/** Use-case: book a plan of sheets as it was shown. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { sumOf } from '../../domain/integers.ts';
import { type Rect, sheetArea, takeApart } from '../../domain/sheet-cuts.ts';
import type { LotToCut } from '../../storage/queries/cutting.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { demandReceived, needItem, type NeededItem } from '../stock/draw.ts';
import { cutApart, cutForKnife } from './cut-off.ts';
import { type Cutting, cuttingOf, demandLotsOnce, needLotOf, sizeOf } from './gather.ts';
import { bookingOfSheet } from './sheets.ts';
import { counted, listed } from './words.ts';

type BookInput = Parsed<'cutting.bookSheets'>;
type SheetInput = BookInput['sheets'][number];
type Piece = SheetInput['pieces'][number];

/** One piece or one pair in the books. */
const ONE = 1_000_000;

/** How the books count pieces that go on the shelf. */
interface Shelf {
  readonly item: NeededItem;
  /** How many sawn pieces make one of the item. */
  readonly perOne: 1 | 2;
}

/** @throws FaultError when the pieces cannot be counted as that item */
function shelfOf(ctx: CommandContext, input: BookInput): Shelf | undefined {
  if (input.intoItemId === null) return undefined;
  const item = needItem(ctx.db, input.intoItemId);
  if (item.form !== 'piece' && item.form !== 'pair') {
    throw invalid(
      `${item.name} is not kept by the piece or by the pair. Choose an item that is.`,
      'intoItemId',
    );
  }
  const spare = sumOf(input.sheets, ({ pieces }) => pieces.filter((piece) => piece.buildId === null).length);
  if (item.form === 'pair' && spare % 2 !== 0) {
    throw refused(
      `${counted(spare, 'piece')} without a knife make no whole pairs of ${item.name}. Cut one more, or leave one out.`,
      'intoItemId',
    );
  }
  return { item, perOne: item.form === 'pair' ? 2 : 1 };
}

/** @throws FaultError `refused` when the sheet is not what the plan was made for */
function demandAsPlanned({ length }: Cutting, lot: LotToCut, sheet: SheetInput, on: string): void {
  const size = sizeOf(lot);
  if (size?.length !== sheet.lengthNm || size.width !== sheet.widthNm) {
    throw refused(
      `${tagOf(lot.number)} has changed since the plan was made: it was ${length(sheet.lengthNm)} × ${length(sheet.widthNm)} then. Plan again.`,
    );
  }
  demandReceived(lot, on);
}

interface Sawn {
  readonly tag: string;
  readonly lotIds: readonly string[];
}

/** Everything one sheet's booking needs. */
interface Work {
  readonly ctx: CommandContext;
  readonly cutting: Cutting;
  readonly lot: LotToCut;
  readonly on: string;
}

const asRect = ({ x, y, lengthNm, widthNm }: Piece): Rect => ({ x, y, length: lengthNm, width: widthNm });

const from = (lot: LotToCut): string => `cut from ${tagOf(lot.number)}`;

/** Hangs a rectangle of the sheet up as a sheet of its own. */
function hangUp({ ctx, cutting, lot, on }: Work, rect: Rect, qtyOut: number, what: string): string {
  const area = sheetArea(rect.length, rect.width);
  const size = `${cutting.length(rect.length)} × ${cutting.length(rect.width)}`;
  return cutApart(ctx, lot, {
    on,
    qtyOut,
    net: area,
    reason: `${what} of ${size}, ${from(lot)}.`,
    becomes: {
      itemId: lot.item_id,
      qty: area,
      lengthNm: rect.length,
      widthNm: rect.width,
      note: '',
    },
  }).id;
}

/** Puts all spare pieces of one sheet into one lot of another item. */
function ontoShelf(
  { ctx, lot, on }: Work,
  shelf: Shelf,
  spare: readonly { piece: Piece; qty: number }[],
): string {
  const count = (spare.length * ONE) / shelf.perOne;
  return cutApart(ctx, lot, {
    on,
    qtyOut: sumOf(spare, ({ qty }) => qty),
    net: sumOf(spare, ({ piece }) => sheetArea(piece.lengthNm, piece.widthNm)),
    reason: `${counted(spare.length, 'piece')} ${from(lot)}.`,
    becomes: { itemId: shelf.item.id, qty: count, note: '' },
  }).id;
}

function sawSheet(work: Work, sheet: SheetInput, kerf: number, shelf: Shelf | undefined): Sawn {
  const { ctx, cutting, lot, on } = work;
  const rects = sheet.pieces.map(asRect);
  const size = { length: sheet.lengthNm, width: sheet.widthNm };
  const apart = takeApart(size, rects, kerf, { usefulArea: cutting.item.useful_remnant });
  if (apart === undefined) {
    throw invalid(
      `These pieces cannot be cut from ${tagOf(lot.number)} by straight cuts from edge to edge. Plan again.`,
    );
  }
  const { pieceTakes, kept } = bookingOfSheet(lot, rects, apart);
  const cut = sheet.pieces.map((piece, at) => ({ piece, qty: pieceTakes[at] ?? 0 }));
  for (const { piece, qty } of cut) {
    if (piece.buildId === null) continue;
    const net = sheetArea(piece.lengthNm, piece.widthNm);
    cutForKnife(ctx, lot, { buildId: piece.buildId, on, qty, net });
  }
  const spare = cut.filter(({ piece }) => piece.buildId === null);
  const shelved =
    shelf === undefined
      ? spare.map(({ piece, qty }) => hangUp(work, asRect(piece), qty, 'A piece'))
      : spare.length === 0
        ? []
        : [ontoShelf(work, shelf, spare)];
  const offcuts = kept.map((one) => hangUp(work, one, one.area, 'An offcut'));
  return { tag: tagOf(lot.number), lotIds: [...shelved, ...offcuts] };
}

/** Cuts the sheets of a plan, all or none. */
export const bookSheets: HandlerFor<'cutting.bookSheets'> = {
  run(ctx, input) {
    demandCome(ctx.clock.today(), input.on);
    const cutting = cuttingOf(ctx.db, input.itemId, 'area');
    demandLotsOnce(input.sheets.map((sheet) => sheet.lotId));
    const shelf = shelfOf(ctx, input);
    const sawn = input.sheets.map((sheet) => {
      const lot = needLotOf(ctx.db, cutting, sheet.lotId);
      demandAsPlanned(cutting, lot, sheet, input.on);
      return sawSheet({ ctx, cutting, lot, on: input.on }, sheet, input.kerf, shelf);
    });
    const pieces = sumOf(input.sheets, (sheet) => sheet.pieces.length);
    const lotIds = sawn.flatMap((one) => one.lotIds);
    const kept = lotIds.length === 0 ? '' : ` ${counted(lotIds.length, 'new lot')} on the rack.`;
    return {
      lotIds,
      sentence: `${counted(pieces, 'piece')} cut from ${listed(sawn.map((one) => one.tag))}.${kept}`,
    };
  },
};
