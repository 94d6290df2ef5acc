/** Account numbers as ISO 13616 writes them. Which length each country uses is not known here. */
import { fitsCheck97 } from './mod97.ts';

/** As it is stored and sent: capitals, no spaces. */
export const plainIban = (typed: string): string => typed.replaceAll(/[\s-]/g, '').toUpperCase();

/** True for the form of an account number whose check digits fit (ISO 13616-1, remainder 1). */
export const isIban = (typed: string): boolean => {
  const plain = plainIban(typed);
  return /^[A-Z]{2}\d{2}[0-9A-Z]{11,30}$/.test(plain) && fitsCheck97(plain);
};

/** For reading, in groups of four. */
export const inFours = (plain: string): string => plain.replaceAll(/(.{4})(?=.)/g, '$1 ');

/** A bank's code as ISO 9362 writes it: eight characters, or eleven with the branch. */
export const isBic = (typed: string): boolean => /^[A-Z]{4}[A-Z]{2}[0-9A-Z]{2}([0-9A-Z]{3})?$/.test(typed);
