/** Names of countries for addresses. */
import { folded } from './folding.ts';

const names = new Intl.DisplayNames('en', { type: 'region', fallback: 'code' });

/**
 * The English name of a country; the code itself where no name is known.
 * @param code ISO 3166-1, two capital letters
 */
export const countryName = (code: string): string => names.of(code) ?? code;

/**
 * The last line of an address that goes abroad: the country's English name in capitals, as the Universal Postal
 * Union's address guidelines ask for; the code itself where no name is known.
 * @param code ISO 3166-1, two capital letters
 */
export const countryLine = (code: string): string => countryName(code).toUpperCase();

const LETTERS = Array.from({ length: 26 }, (_, at) => String.fromCharCode(65 + at));

/** Names people write beside the usual English one, folded. */
const otherNames: Readonly<Record<string, string>> = {
  usa: 'US',
  'u.s.a.': 'US',
  'united states of america': 'US',
  uk: 'GB',
  'u.k.': 'GB',
  'great britain': 'GB',
  england: 'GB',
  scotland: 'GB',
  wales: 'GB',
  'northern ireland': 'GB',
  holland: 'NL',
  deutschland: 'DE',
  osterreich: 'AT',
  schweiz: 'CH',
  'czech republic': 'CZ',
};

let known: ReadonlyMap<string, string> | undefined;

/** Codes by folded name; a code that stands for another one now is left out. */
function byName(): ReadonlyMap<string, string> {
  if (known) return known;
  const codes = LETTERS.flatMap((first) => LETTERS.map((second) => first + second));
  const current = codes.filter(
    (code) => countryName(code) !== code && new Intl.Locale(`und-${code}`).region === code,
  );
  known = new Map([
    ...current.map((code): [string, string] => [folded(countryName(code)), code]),
    ...Object.entries(otherNames),
  ]);
  return known;
}

/** The two letters of a country written as a name or as its letters; undefined when it is neither. */
export function countryCode(text: string): string | undefined {
  const written = folded(text);
  const named = byName().get(written);
  if (named !== undefined) return named;
  const letters = text.trim().toUpperCase();
  return /^[A-Z]{2}$/.test(letters) && countryName(letters) !== letters ? letters : undefined;
}
