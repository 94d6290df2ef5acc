/** Use-case: labels for the rack as a PDF. */
import { invalid } from '../../api/errors.ts';
import type { LotRow } from '../../api/stock.ts';
import type { LabelsPaper, LabelSheetKey } from '../../documents/types.ts';
import { forAGlance, formatQuantity } from '../../domain/quantity.ts';
import { isUnitCode, type UnitCode } from '../../domain/units.ts';
import { pdfOut } from '../costs/files.ts';
import type { HandlerFor } from '../handlers.ts';
import { needLot } from '../stock/lots.ts';
import { describer, toLotRow } from '../stock/views.ts';
import { dateIn } from '../paper-words/index.ts';
import { needWorkshop } from '../workshop/need.ts';

/** Labels on one page of each sheet. */
const perPage: Readonly<Record<LabelSheetKey, number>> = { roll62x29: 1, a4of24: 24, letterOf30: 30 };

/** A sheet's sides in the unit of length the workshop writes in; what is left of anything else. */
function sizeOf(lot: LotRow, lengthUnit: UnitCode): string {
  const { lengthNm, widthNm, form, unit, pieceWord, qtyLeft } = lot;
  if (lengthNm !== null && widthNm !== null && isUnitCode(lengthUnit)) {
    const side = (nm: number): string => formatQuantity(nm, 'length', lengthUnit);
    return `${side(lengthNm)} × ${side(widthNm)}`;
  }
  return describer({ form, unit, piece_word: pieceWord })(forAGlance(qtyLeft, form));
}

function labelOf(lot: LotRow, lengthUnit: UnitCode): LabelsPaper['labels'][number] {
  const facts = [
    sizeOf(lot, lengthUnit),
    lot.heatNumber === '' ? '' : `Heat ${lot.heatNumber}`,
    lot.place === '' ? '' : `Place: ${lot.place}`,
  ].filter((fact) => fact !== '');
  return {
    code: lot.tag,
    tag: lot.tag,
    name: lot.itemName,
    facts,
    foot: `In since ${dateIn('en', lot.receivedOn)}`,
  };
}

/** Labels with a code of the tag, in the order the lots are named. */
export const labels: HandlerFor<'rack.labels'> = async (ctx, { lotIds, sheet, skip }) => {
  const shop = needWorkshop(ctx.db);
  if (skip >= perPage[sheet]) {
    throw invalid(
      perPage[sheet] === 1
        ? 'A roll has no used labels to leave out. Write 0.'
        : `This sheet has ${perPage[sheet]} labels. Write how many are used, at most ${perPage[sheet] - 1}.`,
      'skip',
    );
  }
  const lengthUnit: UnitCode = shop.lengthHabit === 'inch' ? 'in' : 'mm';
  const pdf = await ctx.renderer.labels({
    language: 'en',
    madeAt: ctx.clock.now(),
    workshopName: shop.name,
    title: 'Rack labels',
    sheet,
    skip,
    labels: lotIds.map((id) => labelOf(toLotRow(needLot(ctx.db, id)), lengthUnit)),
  });
  return pdfOut(`Rack labels ${ctx.clock.today()}`, pdf);
};
