/** The use-cases of stocktakes: which one answers which call. */
import type { stocktakeEndpoints } from '../../api/stocktakes.ts';
import type { Handlers } from '../handlers.ts';
import { count, knife, reason, uncount } from './count.ts';
import { drop, finish } from './finish.ts';
import { resultPdf, sheetPdf } from './paper.ts';
import { get, list } from './read.ts';
import { add, places, start } from './start.ts';

export const stocktakeHandlers: Pick<Handlers, keyof typeof stocktakeEndpoints> = {
  'stocktake.list': list,
  'stocktake.get': get,
  'stocktake.places': places,
  'stocktake.start': start,
  'stocktake.count': count,
  'stocktake.uncount': uncount,
  'stocktake.reason': reason,
  'stocktake.knife': knife,
  'stocktake.add': add,
  'stocktake.finish': finish,
  'stocktake.drop': drop,
  'stocktake.sheetPdf': sheetPdf,
  'stocktake.resultPdf': resultPdf,
};
