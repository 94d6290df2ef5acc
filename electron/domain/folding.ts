/** Text made alike for searching and comparing. */

/**
 * One spelling for what a person would call the same: case, accents and width off, blanks evened. Letters of every
 * script stay; nothing of it is shown.
 */
export const folded = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    // Upper case first: a sharp s is two letters there, a final sigma any sigma.
    .toUpperCase()
    .toLowerCase()
    .replace(/\s+/gu, ' ')
    .trim();
