/** Use-case: write down how long and wide a sheet is. */
import { refused } from '../../api/errors.ts';
import { sheetArea } from '../../domain/sheet-cuts.ts';
import { writeSheetSize } from '../../storage/queries/cutting.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import type { HandlerFor } from '../handlers.ts';
import { count } from '../stock/adjust.ts';
import { needLot } from '../stock/lots.ts';
import { cuttingOf } from './gather.ts';

/** Sets the size of a sheet. Where the books have another area they follow the measure, as by a count. */
export const sheetSize: HandlerFor<'cutting.sheetSize'> = {
  run(ctx, { lotId, lengthNm, widthNm, on }) {
    const lot = needLot(ctx.db, lotId);
    const { describe, length } = cuttingOf(ctx.db, lot.item_id, 'area');
    const area = sheetArea(lengthNm, widthNm);
    if (area === 0)
      throw refused('A sheet of this size holds nothing. Write length and width again.', 'lengthNm');
    const size = `${length(lengthNm)} × ${length(widthNm)}`;
    const counted = count.run(ctx, { lotId, countedQty: area, reason: `Measured: ${size}.`, on }, undefined);
    writeSheetSize(ctx.db, lotId, { length: lengthNm, width: widthNm });
    const change =
      counted === null
        ? ''
        : ` The books had ${describe(lot.qty_left)}; ${describe(Math.abs(counted.qty))} was counted ${counted.qty < 0 ? 'off' : 'on'}.`;
    return { sentence: `${tagOf(lot.number)} is ${size}.${change}` };
  },
};
