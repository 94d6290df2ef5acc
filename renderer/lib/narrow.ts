/** Narrowing a long list while one types: every row is written down once as one folded text, which is then searched. */
import { folded } from '../../electron/domain/folding.ts';

/** A row with the text it is found by. */
export interface Findable<Row> {
  readonly row: Row;
  readonly text: string;
}

/** Rows with what they are found by; case and accents do not count. */
export const findable = <Row>(
  rows: readonly Row[],
  words: (row: Row) => readonly (string | null)[],
): readonly Findable<Row>[] => rows.map((row) => ({ row, text: folded(words(row).join('\n')) }));

/** Rows that are wanted and in which every word typed occurs. */
export function narrowed<Row>(
  all: readonly Findable<Row>[],
  text: string,
  wanted: (row: Row) => boolean = () => true,
): readonly Row[] {
  const words = folded(text)
    .split(' ')
    .filter((word) => word !== '');
  const found: Row[] = [];
  for (const one of all)
    if (wanted(one.row) && words.every((word) => one.text.includes(word))) found.push(one.row);
  return found;
}
