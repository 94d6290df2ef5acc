/**
 * Every phrase of every paper in English, a file for each kind of paper. Another language is a folder of the same
 * files and a line in `index.ts`; a phrase it lacks does not compile.
 */
import { invoice } from './en/invoice.ts';
import { page } from './en/page.ts';

export const en = { page, invoice };

/** What every language must say. */
export type PaperWords = typeof en;
