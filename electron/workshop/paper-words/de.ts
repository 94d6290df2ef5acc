/** Every phrase of every paper in German. */
import type { PaperWords } from './en.ts';
import { certificate } from './de/certificate.ts';
import { invoice } from './de/invoice.ts';
import { ageing, reminder, statement } from './de/letters.ts';
import { order } from './de/order.ts';
import { page } from './de/page.ts';
import { parcel } from './de/parcel.ts';
import { service } from './de/service.ts';
import { stocktake } from './de/stocktake.ts';
import { preview } from './de/preview.ts';
import { quote } from './de/quote.ts';
import { year } from './de/year.ts';

export const de: PaperWords = {
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
