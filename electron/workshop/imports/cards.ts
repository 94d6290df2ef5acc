/** Files of address cards, laid out as a table so that they are brought in like one. */
import { invalid } from '../../api/errors.ts';
import type { ImportKind } from '../../api/imports.ts';
import { looksLikeCards, readCards, type ReadCard } from '../../domain/vcard.ts';
import { type CsvTable, readCsv } from './csv.ts';
import { fieldsOf } from './fields.ts';

/** What a card can say, by the field it fills. */
const held = [
  'name',
  'email',
  'phone',
  'address',
  'city',
  'region',
  'postcode',
  'country',
  'language',
  'note',
] as const satisfies readonly (keyof ReadCard)[];

/** Only the language of a tag such as `de-AT`. */
const cellOf = (card: ReadCard, field: (typeof held)[number]): string =>
  field === 'language' ? (card.language.split('-')[0] ?? '') : card[field];

function cardTable(text: string): CsvTable {
  const cards = readCards(text);
  if (!cards.ok) throw invalid(cards.message, 'text');
  const labels = new Map(fieldsOf('buyers').map((field) => [field.key, field.label]));
  return {
    delimiter: '',
    headings: held.map((field) => labels.get(field) ?? field),
    rows: cards.value.map((card) => ({ line: card.line, cells: held.map((field) => cellOf(card, field)) })),
    problems: [],
  };
}

/**
 * Reads a file of either kind.
 * @throws FaultError when it has no headings, or is cards where no people are wanted
 */
export function readTable(kind: ImportKind, text: string): CsvTable {
  if (!looksLikeCards(text)) return readCsv(text);
  if (kind !== 'buyers') throw invalid('This is a file of address cards. Bring it in under Buyers.', 'text');
  return cardTable(text);
}
