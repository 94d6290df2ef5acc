/** Postal addresses in parts, and the lines they make on an envelope. */
import { countryLine } from './country-names.ts';

/** An address in parts. Older ones hold everything but the country in `address`. */
export interface AddressParts {
  /** Street lines, parted by line breaks. */
  readonly address: string;
  readonly city: string;
  /** State, province or county as it is written on a letter there, e.g. `VT`. */
  readonly region: string;
  readonly postcode: string;
  /** ISO 3166-1, two capital letters; empty for the workshop's own. */
  readonly country: string;
}

/**
 * Lines below the name by country: A street lines, C city, S region, Z postcode; `|` parts lines.
 * Source: the `fmt` (or Latin `lfmt`) rows of the address metadata published with libaddressinput, read in a published
 * copy for CA, CL, CN, CO, CR, DE, EG, ES, GB and those written `Z C` up to GR, the rest from memory of the same data.
 * A region keeps a line of its own where the country does not ask for one but one was written.
 */
const layouts: Readonly<Record<string, string>> = {
  'A|C, S Z': 'US BB PR',
  'A|C S Z': 'CA AU',
  'A|C|S|Z': 'GB FK ZA KE LK IE UA RU EG KR',
  'A|C|S, Z': 'CN',
  'A|C, S|Z': 'JP HK',
  'A|C Z|S': 'IN NZ SG BM',
  'A|C-S|Z': 'BR',
  'A|S, C|Z': 'CR',
  'A|C, S, Z': 'CO',
  'A|Z C, S': 'MX',
  'A|Z C S': 'IT ES',
  'A|Z C|S': 'CL MY',
  'C|S|A|Z': 'HU',
};

const usual = 'A|Z C|S';
const american = 'A|C, S Z';

const layoutOf = (country: string): string =>
  Object.keys(layouts).find((layout) => layouts[layout]?.split(' ').includes(country)) ??
  (country === '' ? american : usual);

const trimmed = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** One line of a layout: parts that are empty go, and with them the sign that would have joined them. */
function lineOf(layout: string, parts: Readonly<Record<string, string>>): string {
  let line = '';
  let sign = '';
  for (const token of layout.match(/[CSZ]|[^CSZ]+/g) ?? []) {
    const part = parts[token];
    if (part === undefined) sign = token;
    else if (part !== '') line += line === '' ? part : sign + part;
  }
  return line;
}

/**
 * The lines of an address below the name, in the order of its country.
 * @param homeCountry two letters; the country is named in the last line, in capitals, only where it is another one
 */
export function addressLines(parts: AddressParts, homeCountry: string): readonly string[] {
  const street = parts.address.split('\n').map(trimmed);
  const pieces = { C: trimmed(parts.city), S: trimmed(parts.region), Z: trimmed(parts.postcode) };
  const own = layoutOf(parts.country === '' ? homeCountry : parts.country)
    .split('|')
    .flatMap((layout) => (layout === 'A' ? street : [lineOf(layout, pieces)]))
    .filter((line) => line !== '');
  if (parts.country === '' || parts.country === homeCountry) return own;
  const last = countryLine(parts.country);
  return own.at(-1)?.toUpperCase() === last ? own : [...own, last];
}

/** The same lines as one text. */
export const addressText = (parts: AddressParts, homeCountry: string): string =>
  addressLines(parts, homeCountry).join('\n');
