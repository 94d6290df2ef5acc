/**
 * What an invoice must say in the European Union: article 226 of Directive 2006/112/EC. Only what can be seen from the
 * invoice itself is looked at; whether a rate or an exemption is right is not decided here.
 */

/** Member states, ISO 3166-1 (Greece is GR there). Source: article 355 TFEU and the Union's list of members, from memory. */
const MEMBERS = new Set(
  'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK'.split(' '),
);

/** Whether a country is a member state of the European Union. @param country two letters */
export const isInUnion = (country: string): boolean => MEMBERS.has(country);

/** An invoice as far as the article asks; empty text or null is what it does not say. */
export interface StatedParticulars {
  readonly issuedOn: string;
  readonly number: string;
  readonly sellerTaxNumber: string;
  readonly buyerTaxNumber: string;
  readonly sellerName: string;
  readonly sellerAddress: string;
  readonly buyerName: string;
  readonly buyerAddress: string;
  readonly lines: readonly { readonly description: string; readonly qty: number }[];
  readonly taxableMinor: number | null;
  readonly ratePpm: number | null;
  readonly taxMinor: number | null;
  /** Category of UNTDID 5305; empty by the rate. */
  readonly category: string;
  /** Why no tax is charged, in words or as a code. */
  readonly reason: string;
}

export interface MissingParticular {
  /** Number of the item in article 226. */
  readonly item: string;
  /** What is missing and where to enter it. */
  readonly sentence: string;
}

type Demand = readonly [item: string, missing: (said: StatedParticulars) => boolean, sentence: string];

/** The buyer owes the tax (reverse charge), or it is a supply within the Union. */
const NEEDS_BUYER_NUMBER = new Set(['AE', 'K']);
/** No tax is charged, which the invoice must explain. */
const NEEDS_REASON = new Set(['E', 'AE', 'K', 'G', 'O']);
const blank = (text: string): boolean => text.trim() === '';

const demands: readonly Demand[] = [
  ['1', (said) => blank(said.issuedOn), 'The date of issue is missing.'],
  ['2', (said) => blank(said.number), 'The number is missing.'],
  [
    '3',
    (said) => blank(said.sellerTaxNumber),
    'Your tax number is missing. Enter it under Workshop, Details.',
  ],
  [
    '4',
    (said) => NEEDS_BUYER_NUMBER.has(said.category) && blank(said.buyerTaxNumber),
    'The buyer’s tax number is missing. Enter it with the buyer: with this tax place the buyer accounts for the tax.',
  ],
  [
    '5',
    (said) => [said.sellerName, said.sellerAddress, said.buyerName, said.buyerAddress].some(blank),
    'Full name and address of both are needed. Enter what is missing with the buyer or under Workshop, Details.',
  ],
  [
    '6',
    (said) => said.lines.length === 0 || said.lines.some((line) => blank(line.description) || line.qty === 0),
    'A line does not say what it is or how much of it.',
  ],
  ['8', (said) => said.taxableMinor === null, 'The amount the tax is on is missing.'],
  ['9', (said) => said.ratePpm === null, 'The rate of the tax is missing. Choose a tax place.'],
  ['10', (said) => said.taxMinor === null, 'The amount of the tax is missing.'],
  [
    '11',
    (said) => NEEDS_REASON.has(said.category) && blank(said.reason),
    'Why no tax is charged is missing. Enter the words with the tax place.',
  ],
];

/** Items of article 226 an invoice lacks, in their order; an empty list means that it says what can be checked. */
export const missingParticulars = (said: StatedParticulars): MissingParticular[] =>
  demands.filter(([, missing]) => missing(said)).map(([item, , sentence]) => ({ item, sentence }));
