/** Buyers in a maker's words, and the files they leave the program in. */
import type { BuyerExport, BuyerPair, BuyerRow, SupporterSpan } from '../../../electron/api/buyers.ts';
import { addDays } from '../../../electron/domain/calendar.ts';
import { cardText } from '../../../electron/domain/vcard.ts';
import { countries } from '../../lib/countries.ts';
import type { Cell } from '../../lib/csv.ts';
import { day } from '../../lib/format.ts';

const languages = new Intl.DisplayNames('en', { type: 'language' });

/** English name of a language; empty for none. */
export const languageName = (code: string): string => (code === '' ? '' : (languages.of(code) ?? code));

/** English name of a country; empty for none. */
export const countryName = (code: string): string =>
  countries.find((one) => one.value === code)?.label ?? code;

/** When a time of support was, e.g. `12 Aug 2024 to 1 Mar 2025`. */
export function spanWords({ from, until }: Pick<SupporterSpan, 'from' | 'until'>, today: string): string {
  const begun = from === null ? 'before these books' : day(from);
  if (until === null) return `since ${begun}`;
  const last = day(addDays(until, -1));
  return until > today ? `since ${begun}, ends after ${last}` : `${begun} to ${last}`;
}

const whyWords: Readonly<Record<BuyerPair['why'][number], string>> = {
  email: 'email',
  phone: 'telephone',
  name: 'name',
  address: 'address',
};

/** What a buyer is found by while one types. */
export const buyerFindWords = (row: BuyerRow): readonly string[] => [
  row.name,
  row.email,
  row.phone,
  row.address,
  row.city,
  row.region,
  row.postcode,
  row.note,
];

/** What two entries have in common, e.g. `name and address`. */
export const likeness = (why: BuyerPair['why']): string => {
  const words = why.map((one) => whyWords[one]);
  const last = words.at(-1) ?? '';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} and ${last}`;
};

const addressCell = (address: BuyerExport['addresses'][number]): string =>
  [
    address.label,
    address.recipient,
    address.address,
    address.city,
    address.region,
    address.postcode,
    address.country,
  ]
    .filter((part) => part !== '')
    .join('\n');

/** Every field of every buyer; the headings are those a file brought in is matched by. */
export const buyerRows = (people: readonly BuyerExport[]): readonly (readonly Cell[])[] => [
  [
    ...['Name', 'Email', 'Telephone', 'Street', 'Town', 'Region', 'Postcode', 'Country', 'Tax place'],
    ...['Tax number', 'Language', 'First contact', 'Supporter level', 'Supporter since', 'Note'],
    ...['Delivery addresses', 'Put away'],
  ],
  ...people.map((one) => [
    ...[one.name, one.email, one.phone, one.address, one.city, one.region, one.postcode, one.country],
    ...[one.taxPlace, one.taxNumber, one.language, one.firstContactOn, one.level, one.supporterSince],
    ...[one.note, one.addresses.map(addressCell).join('\n\n'), one.archived ? 'yes' : ''],
  ]),
];

/** Every buyer as an address card. */
export const buyerCards = (people: readonly BuyerExport[]): string =>
  people.map((one) => cardText({ ...one, country: countryName(one.country) }, { uid: one.id })).join('');
