/**
 * Every phrase of every paper in English, a file for each kind of paper. Another language is a folder of the same
 * files and a line in `index.ts`; a phrase it lacks does not compile.
 */
import { certificate } from './en/certificate.ts';
import { invoice } from './en/invoice.ts';
import { ageing, reminder, statement } from './en/letters.ts';
import { order } from './en/order.ts';
import { page } from './en/page.ts';
import { parcel } from './en/parcel.ts';
import { service } from './en/service.ts';
import { stocktake } from './en/stocktake.ts';
import { preview } from './en/preview.ts';
import { quote } from './en/quote.ts';
import { year } from './en/year.ts';

export const en = {
  page,
  invoice,
  order,
  parcel,
  certificate,
  service,
  stocktake,
  preview,
  quote,
  year,
  reminder,
  statement,
  ageing,
};

/** What every language must say. */
export type PaperWords = typeof en;
