/** Use-case: plan how to cut sheets into pieces. */
import type { PlannedSheet, SheetPlan } from '../../api/cutting.ts';
import type { Parsed } from '../../api/contract.ts';
import { refused } from '../../api/errors.ts';
import { allocate, sumOf } from '../../domain/integers.ts';
import { type NestedSheet, nestSheets } from '../../domain/nesting-sheets.ts';
import { type Rect, sheetArea, type TakenApart } from '../../domain/sheet-cuts.ts';
import { drawLotParts } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { LotToCut } from '../../storage/queries/cutting.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import { valueOrRefuse } from '../answers.ts';
import type { HandlerFor } from '../handlers.ts';
import { toLotState } from '../stock/draw.ts';
import { type Cutting, cuttingOf, demandKeys, lotsOf, sizeOf } from './gather.ts';
import { cutList, sheetSentence } from './words.ts';

type SheetInput = Parsed<'cutting.planSheets'>;
type Wish = SheetInput['pieces'][number];

/** How one sheet is booked: kerf and crumbs rest in the pieces by their area, useful offcuts keep their share. */
export interface SheetBooking {
  readonly pieceTakes: readonly number[];
  readonly kept: readonly (Rect & { readonly area: number })[];
}

/** Areas that leave the sheet; pieces and offcuts together are all that the books have of it. */
export function bookingOfSheet(lot: LotToCut, pieces: readonly Rect[], apart: TakenApart): SheetBooking {
  const kept = apart.offcuts
    .filter((one) => one.useful)
    .map((one) => ({ ...one, area: sheetArea(one.length, one.width) }));
  const areas = pieces.map((piece) => sheetArea(piece.length, piece.width));
  return { pieceTakes: allocate(lot.qty_left - sumOf(kept, (one) => one.area), areas), kept };
}

function plannedSheet(
  cutting: Cutting,
  lot: LotToCut,
  sheet: NestedSheet,
  wishes: ReadonlyMap<string, Wish>,
): PlannedSheet {
  const { pieceTakes, kept } = bookingOfSheet(lot, sheet.pieces, sheet);
  const parts = [...pieceTakes, ...kept.map((one) => one.area)];
  const { draws } = valueOrRefuse(drawLotParts(toLotState(lot), parts));
  const labels = sheet.pieces.map((piece) => wishes.get(piece.key)?.label ?? '');
  let next = pieceTakes.length;
  return {
    lotId: lot.id,
    tag: tagOf(lot.number),
    place: lot.place,
    lengthNm: lot.length_nm ?? 0,
    widthNm: lot.width_nm ?? 0,
    pieces: sheet.pieces.map(({ key, x, y, length, width, turned }, at) => ({
      key,
      buildId: wishes.get(key)?.buildId ?? null,
      label: labels[at] ?? '',
      x,
      y,
      lengthNm: length,
      widthNm: width,
      turned,
      valueMicro: draws[at]?.valueMicro ?? 0,
    })),
    offcuts: sheet.offcuts.map(({ x, y, length, width, useful }) => {
      const valueMicro = useful ? (draws[next]?.valueMicro ?? 0) : 0;
      if (useful) next += 1;
      return { x, y, lengthNm: length, widthNm: width, useful, valueMicro };
    }),
    cuts: cutList(sheet.root, labels, cutting.length),
  };
}

/** Sheets whose size is known, offcuts before whole ones. @throws FaultError `refused` when there is none */
function sizedSheets(cutting: Cutting, lots: readonly LotToCut[]) {
  const sized = lots.flatMap((lot) => {
    const size = sizeOf(lot);
    return size === undefined ? [] : [{ id: lot.id, ...size, offcut: lot.parent_id !== null }];
  });
  if (sized.length === 0) {
    throw refused(
      `No sheet of ${cutting.item.name} has its size written down. Measure one and enter its length and width.`,
      'lotIds',
    );
  }
  return sized.sort((a, b) => Number(b.offcut) - Number(a.offcut));
}

function demandSome(
  { item, length }: Cutting,
  input: SheetInput,
  sheets: readonly { length: number; width: number }[],
) {
  const [piece] = input.pieces;
  const largest = sheets.reduce((so, one) => (one.length * one.width > so.length * so.width ? one : so));
  const size = (one: { length: number; width: number }): string =>
    `${length(one.length)} × ${length(one.width)}`;
  const wanted = piece === undefined ? '' : size({ length: piece.lengthNm, width: piece.widthNm });
  throw refused(
    `A piece of ${wanted} comes out of no sheet of ${item.name} on the rack; the largest is ${size(largest)}. Make it smaller, let it turn, or buy a larger sheet.`,
    'pieces',
  );
}

/** The plan for some pieces; changes nothing. */
export function planOfSheets(db: ReadDb, input: SheetInput): SheetPlan {
  const cutting = cuttingOf(db, input.itemId, 'area');
  demandKeys(input.pieces);
  const lots = lotsOf(db, cutting, input.lotIds);
  const sheets = sizedSheets(cutting, lots);
  const found = nestSheets({
    sheets,
    pieces: input.pieces.map(({ key, lengthNm, widthNm, mayTurn }) => ({
      key,
      length: lengthNm,
      width: widthNm,
      mayTurn,
    })),
    kerf: input.kerf,
    rule: { usefulArea: cutting.item.useful_remnant },
  });
  if (found.sheets.length === 0) demandSome(cutting, input, sheets);
  const wishes = new Map(input.pieces.map((piece) => [piece.key, piece]));
  const planned = found.sheets.flatMap((sheet) => {
    const lot = lots.find((one) => one.id === sheet.id);
    return lot === undefined ? [] : [plannedSheet(cutting, lot, sheet, wishes)];
  });
  const unplaced = found.unplaced.map((key) => ({ key, label: wishes.get(key)?.label ?? '' }));
  const plan = { sheets: planned, unplaced, exact: found.exact, waste: found.waste };
  return {
    itemId: cutting.item.id,
    itemName: cutting.item.name,
    ...plan,
    sentence: sheetSentence(cutting, plan, input.kerf),
  };
}

/** How to cut the sheets. */
export const planSheets: HandlerFor<'cutting.planSheets'> = (ctx, input) => planOfSheets(ctx.db, input);
