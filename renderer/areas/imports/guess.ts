/** First guesses about a file: how its days are written and which sign stands before the decimals. */
import type { ImportLook } from '../../../electron/api/imports.ts';

export type DateOrder = 'ymd' | 'dmy' | 'mdy';
export type DecimalMark = '.' | ',';

/** Cells of the sample under the column matched to a field. */
const cellsOf = (look: ImportLook, field: string): readonly string[] => {
  const column = look.mapping[field] ?? -1;
  return column < 0 ? [] : look.sample.map((row) => row[column]?.trim() ?? '');
};

/** The order of day, month and year that fits the sample; where both fit, as is usual in the country. */
export const guessDateOrder = (look: ImportLook, country: string): DateOrder => {
  const days = cellsOf(look, 'date').map((text) => /^(\d{1,4})\D+(\d{1,2})\D+(\d{1,4})/.exec(text));
  const usual = country === 'US' ? 'mdy' : 'dmy';
  let order: DateOrder | undefined;
  for (const [text, first = '', second = ''] of days.filter((parts) => parts !== null)) {
    if (first.length === 4) return 'ymd';
    if (Number(first) > 12) return 'dmy';
    if (Number(second) > 12) return 'mdy';
    order ??= text.includes('.') ? 'dmy' : usual;
  }
  return order ?? 'ymd';
};

/** A comma before the last one or two digits, and no point after it, means that commas mark decimals. */
export const guessDecimalMark = (look: ImportLook): DecimalMark => {
  const amounts = ['price', 'freight', 'shipping', 'fee', 'time'].flatMap((field) => cellsOf(look, field));
  return amounts.some((text) => /,\d{1,2}\D*$/.test(text)) ? ',' : '.';
};
