/** What the maker proposes after a sale. */
import { USUAL_FREE_MONTHS } from '../../domain/service-terms.ts';
import type { ReadDb } from '../../storage/db.ts';
import { freeMonthsSetting, writeFreeMonths } from '../../storage/queries/services.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';

/** For how many months after the sale the first sharpening is proposed free. */
export const freeMonthsOf = (db: ReadDb): number => freeMonthsSetting(db) ?? USUAL_FREE_MONTHS;

export const careSettings: HandlerFor<'care.settings'> = (ctx) => ({ freeMonths: freeMonthsOf(ctx.db) });

/** Says it otherwise; services already written down stay as they are. */
export const saveCareSettings: HandlerFor<'care.saveSettings'> = {
  run(ctx, { freeMonths }) {
    needWorkshop(ctx.db);
    writeFreeMonths(ctx.db, freeMonths);
    return { freeMonths };
  },
};
