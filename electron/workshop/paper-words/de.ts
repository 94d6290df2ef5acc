/** Every phrase of every paper in German. */
import type { PaperWords } from './en.ts';
import { invoice } from './de/invoice.ts';
import { page } from './de/page.ts';

export const de: PaperWords = { page, invoice };
