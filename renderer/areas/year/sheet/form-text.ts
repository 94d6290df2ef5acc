/** A list of lines as text, one line of the form on each: its number, a space, its words. */
import type { FormLine, SheetPart } from '../../../../electron/domain/preparer-forms.ts';

type Line = Pick<FormLine, 'code' | 'label' | 'part'>;

/** Lines of one part, written down. */
export const textOf = (lines: readonly Line[], part: SheetPart): string =>
  lines
    .filter((line) => line.part === part)
    .map((line) => `${line.code} ${line.label}`)
    .join('\n');

/** Lines read back; empty ones are passed over. A line of one word has no name yet, and is refused by the contract. */
export const linesIn = (text: string, part: SheetPart): readonly Line[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line) => {
      const [code = '', ...words] = line.split(/\s+/);
      return { code, label: words.join(' '), part };
    });
