/** First guesses about a file: how its days are written and which sign stands before the decimals. */
import type { ImportLook } from '../../../electron/api/imports.ts';

/** Column of each field; -1 for none. */
export type Mapping = Readonly<Record<string, number>>;

export type DateOrder = 'ymd' | 'dmy' | 'mdy';
export type DecimalMark = '.' | ',';

/** Cells of the sample under the column matched to a field. */
const cellsOf = (sample: ImportLook['sample'], mapping: Mapping, field: string): readonly string[] => {
  const column = mapping[field] ?? -1;
  return column < 0 ? [] : sample.map((row) => row[column]?.trim() ?? '');
};

/** The order of day, month and year that fits the sample; where both fit, as is usual in the country. */
export const guessDateOrder = (
  sample: ImportLook['sample'],
  mapping: Mapping,
  country: string,
): DateOrder => {
  const days = ['date', 'firstContact', 'supporterSince']
    .flatMap((field) => cellsOf(sample, mapping, field))
    .map((text) => /^(\d{1,4})\D+(\d{1,2})\D+(\d{1,4})/.exec(text));
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
export const guessDecimalMark = (sample: ImportLook['sample'], mapping: Mapping): DecimalMark => {
  const amounts = ['price', 'freight', 'shipping', 'fee', 'time'].flatMap((field) =>
    cellsOf(sample, mapping, field),
  );
  return amounts.some((text) => /,\d{1,2}\D*$/.test(text)) ? ',' : '.';
};
