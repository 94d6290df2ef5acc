/** Words for papers on the screen. */
import type { PaperTextKind } from '../../../electron/api/papers.ts';

const names = new Intl.DisplayNames('en', { type: 'language' });

/** The English name of a language, e.g. German. @param code ISO 639-1 */
export const languageName = (code: string): string => names.of(code) ?? code;

/** The maker's own texts, in the order they are written. */
export const textFields: readonly {
  readonly kind: PaperTextKind;
  readonly label: string;
  readonly hint: string;
}[] = [
  {
    kind: 'care',
    label: 'Care',
    hint: 'On invoices and certificates of knives whose model has no words of its own.',
  },
  { kind: 'warranty', label: 'Warranty', hint: 'On invoices and certificates.' },
  { kind: 'returns', label: 'Returns', hint: 'On invoices of knives.' },
  {
    kind: 'restricted',
    label: 'Protected material',
    hint: 'Said after species, listing and papers. That the rule in force must be checked is always added.',
  },
  { kind: 'orderTerms', label: 'Terms of orders', hint: 'On offers and deposit invoices.' },
  { kind: 'reminder', label: 'Reminder', hint: 'In letters about money that is late.' },
  { kind: 'preview', label: 'Preview list', hint: 'Under the list of a First look.' },
];
