/** What EN 16931 asks for and an invoice does not say, in sentences a maker can act on. */
import { decimalsOf } from '../../../domain/currencies.ts';
import type { Statement } from './statement.ts';

type Rule = readonly [rule: string, isMissing: (of: Statement) => boolean, sentence: string];

const has = (of: Statement, ...categories: readonly string[]): boolean =>
  of.groups.some(({ category }) => categories.includes(category));

const street = ({ street: lines, city }: Statement['seller']): boolean => lines !== '' || city !== '';

/** Rules of EN 16931-1 by their names in the published rule set. */
const rules: readonly Rule[] = [
  [
    'BR-06',
    (of) => of.seller.name === '',
    'The workshop has no name on it. Enter it under Workshop, Details.',
  ],
  [
    'BR-08',
    (of) => !street(of.seller),
    'The workshop has no address on it. Enter it under Workshop, Details.',
  ],
  [
    'BR-09',
    (of) => of.seller.country === '',
    'The workshop’s country is not on it. Enter it under Workshop, Details.',
  ],
  ['BR-07', (of) => of.buyer.name === '', 'The buyer has no name on it.'],
  [
    'BR-10',
    (of) => !street(of.buyer),
    'The buyer’s address is not on it. Enter it with the buyer before the invoice is issued.',
  ],
  [
    'BR-11',
    (of) => of.buyer.country === '',
    'The buyer’s country is not on it. Enter it with the buyer before the invoice is issued.',
  ],
  [
    'BR-CO-26, BR-S-02',
    (of) => of.seller.taxNumber === '' && of.seller.registerNumber === '',
    'Neither a tax number nor a registration of the workshop is on it. Enter one under Workshop, Details.',
  ],
  [
    'BR-S-02, BR-AE-02, BR-IC-02, BR-G-02, BR-E-02, BR-Z-02',
    (of) => of.seller.taxNumber === '' && of.seller.registerNumber !== '' && !has(of, 'O'),
    'The workshop’s tax number is not on it. Enter it under Workshop, Details.',
  ],
  [
    'BR-AE-02, BR-IC-02',
    (of) => has(of, 'AE', 'K') && of.buyer.taxNumber === '',
    'The buyer accounts for the tax, but their tax number is not on it. Enter it with the buyer.',
  ],
  [
    'BR-G-02, BR-IC-02',
    (of) => has(of, 'G', 'K') && !isVatNumber(of.seller.taxNumber, of.seller.country),
    'Goods go abroad untaxed: the workshop’s tax number must be one for value added tax, beginning with the country’s two letters.',
  ],
  [
    'BR-E-10',
    (of) =>
      of.groups.some((group) => group.category === 'E' && group.reason === '' && group.reasonCode === ''),
    'It is exempt from tax, but no reason is on it. Write the reason with the tax place.',
  ],
  [
    'BR-DEC-01',
    (of) => decimalsOf(of.currency) > 2,
    'The standard takes amounts of two decimals at most; this currency has more.',
  ],
];

/** True for a number for value added tax: the country's letters first (ISO 3166-1; Greece writes EL). */
export function isVatNumber(number: string, country: string): boolean {
  const plain = number.replaceAll(/[\s.-]/g, '').toUpperCase();
  const prefix = country === 'GR' ? 'EL' : country;
  return country !== '' && plain.startsWith(prefix) && /^[A-Z]{2}[0-9A-Z]{2,13}$/.test(plain);
}

/** Sentences for everything that is missing; empty when nothing is. */
export const missingIn = (of: Statement): readonly string[] =>
  rules.filter(([, isMissing]) => isMissing(of)).map(([, , sentence]) => sentence);
