/**
 * Reads numbers as people type them.
 * Signs that can mean two things are settled by these rules, in order:
 * 1. Spaces and apostrophes between digits group thousands.
 * 2. Comma and point together: the later one is the decimal sign, the other one groups.
 * 3. The same sign more than once: it groups.
 * 4. One comma followed by exactly three digits, with one to three digits (not a lone 0) before it: it groups (`1,280`).
 * 5. Any other single comma or point is the decimal sign (`1,5`, `7.75`, `0,280`).
 * A grouping sign must stand before every three digits, else the text is refused.
 */

const GROUPED = /^\d{1,3}(?:g\d{3})+$/;

const ungroup = (whole: string, sign: string): string | undefined => {
  if (!whole.includes(sign)) return whole;
  return GROUPED.test(whole.replaceAll(sign, 'g')) ? whole.replaceAll(sign, '') : undefined;
};

const bothSigns = (text: string): string | undefined => {
  const decimal = text.lastIndexOf(',') > text.lastIndexOf('.') ? ',' : '.';
  const cut = text.lastIndexOf(decimal);
  if (text.indexOf(decimal) !== cut) return undefined;
  const whole = ungroup(text.slice(0, cut), decimal === ',' ? '.' : ',');
  return whole === undefined ? undefined : `${whole}.${text.slice(cut + 1)}`;
};

const oneSign = (text: string, sign: string): string | undefined => {
  const parts = text.split(sign);
  if (parts.length > 2) return ungroup(text, sign);
  if (sign === ',' && /^[1-9]\d{0,2},\d{3}$/.test(text)) return parts.join('');
  return parts.join('.');
};

const settle = (text: string): string | undefined => {
  const comma = text.includes(',');
  const point = text.includes('.');
  if (comma && point) return bothSigns(text);
  if (comma) return oneSign(text, ',');
  return point ? oneSign(text, '.') : text;
};

/** Thousands grouped by spaces or apostrophes leave no doubt: what follows them is the decimal part. */
const spaced = (text: string): string | undefined => {
  const match = /^(\d{1,3}(?:_\d{3})+)(?:[.,](\d*))?$/.exec(text);
  return match === null ? undefined : `${(match[1] ?? '').replaceAll('_', '')}.${match[2] ?? ''}`;
};

const tidy = (text: string): string | undefined => {
  const match = /^(\d*)(?:\.(\d*))?$/.exec(text);
  if (match === null || text === '.') return undefined;
  const [, whole = '', part = ''] = match;
  return part === '' ? whole || '0' : `${whole || '0'}.${part}`;
};

/**
 * Turns a typed number without sign or unit into a plain decimal (`1.280,00` into `1280.00`).
 * Answers undefined when it is not a number by the rules above. A leading or trailing decimal sign is allowed (`.5`, `5.`).
 */
export const plainDecimal = (typed: string): string | undefined => {
  const text = typed.trim().replace(/['’\s]/g, '_');
  if (!/^[\d.,_]+$/.test(text) || !/\d/.test(text)) return undefined;
  const settled = text.includes('_') ? spaced(text) : settle(text);
  return settled === undefined ? undefined : tidy(settled);
};
