/** What a file of each kind may hold, and which heading probably means what. */
import type { ImportField, ImportKind } from '../../api/imports.ts';

interface FieldRule extends ImportField {
  /** Headings that mean this field, in small letters; the likeliest first. */
  readonly words: readonly string[];
}

const rule = (
  key: string,
  label: string,
  required: boolean,
  hint: string,
  ...words: string[]
): FieldRule => ({
  key,
  label,
  required,
  hint,
  words: [label.toLowerCase(), key.toLowerCase(), ...words],
});

/** Also what a vCard holds, under these labels. */
const buyerRules: readonly FieldRule[] = [
  rule(
    'name',
    'Name',
    true,
    'As it should stand on the invoice.',
    'buyer',
    'customer',
    'full name',
    'client',
  ),
  rule('email', 'Email', false, '', 'e mail', 'mail', 'email address'),
  rule('phone', 'Telephone', false, '', 'phone', 'tel', 'mobile'),
  rule(
    'address',
    'Street',
    false,
    'Street and number, or the whole address.',
    'address',
    'address 1',
    'street address',
  ),
  rule('city', 'Town', false, '', 'city', 'locality', 'place'),
  rule('region', 'Region', false, 'State, province or county.', 'state', 'province', 'county'),
  rule('postcode', 'Postcode', false, '', 'zip', 'postal code', 'zip code', 'plz'),
  rule('country', 'Country', false, 'Its name or two letters.', 'land', 'country code'),
  rule(
    'taxPlace',
    'Tax place',
    false,
    'As named under Workshop; the home place when left out.',
    'tax',
    'tax charged',
  ),
  rule(
    'taxNumber',
    'Tax number',
    false,
    'Of a business that accounts for the tax itself.',
    'vat number',
    'vat id',
  ),
  rule('language', 'Language', false, 'Two letters, e.g. en or de.', 'lang'),
  rule('firstContact', 'First contact', false, 'The day you first heard from them.', 'since', 'known since'),
  rule(
    'level',
    'Supporter level',
    false,
    'As named under Buyers, Supporters.',
    'level',
    'membership',
    'tier',
  ),
  rule(
    'supporterSince',
    'Supporter since',
    false,
    'The day it began; before these books when left out.',
    'member since',
  ),
  rule('note', 'Note', false, 'Anything to remember.', 'notes', 'remark', 'comment'),
];

const date = rule('date', 'Date', true, 'The day it took place.', 'day', 'on', 'when');

const rules: Readonly<Record<ImportKind, readonly FieldRule[]>> = {
  purchases: [
    date,
    rule(
      'supplier',
      'Supplier',
      true,
      'Who it was bought from.',
      'vendor',
      'seller',
      'shop',
      'bought from',
      'from',
    ),
    rule(
      'item',
      'Item',
      true,
      'What was bought.',
      'article',
      'material',
      'product',
      'description',
      'what',
      'name',
    ),
    rule(
      'pieces',
      'Pieces',
      false,
      'How many bars, sheets or packs; one when left out.',
      'count',
      'pcs',
      'no of pieces',
      'number',
    ),
    rule(
      'quantity',
      'Quantity',
      true,
      'Of one piece, with its unit, e.g. 48 in or 14 sq ft.',
      'qty',
      'amount',
      'size',
      'length',
    ),
    rule(
      'price',
      'Price',
      true,
      'For the whole line, before freight.',
      'total',
      'cost',
      'line total',
      'paid',
      'sum',
    ),
    rule(
      'freight',
      'Freight',
      false,
      'Freight of the purchase; lines of one purchase are added.',
      'shipping',
      'delivery',
      'postage',
    ),
    rule('heat', 'Heat number', false, 'Heat or batch number of steel.', 'heat', 'batch', 'lot'),
    rule(
      'reference',
      'Reference',
      false,
      'Number of the order or receipt; parts purchases of one day.',
      'invoice',
      'order',
      'receipt',
      'ref',
    ),
  ],
  hours: [
    date,
    rule(
      'time',
      'Time',
      true,
      'E.g. 1 h 30 min, 90 min or 1:30.',
      'duration',
      'minutes',
      'mins',
      'min',
      'hours',
      'hrs',
      'h',
      'length',
    ),
    rule(
      'work',
      'Work',
      true,
      'Code or name of a stage, or a kind of other work.',
      'stage',
      'task',
      'activity',
      'step',
      'what',
    ),
    rule(
      'knives',
      'Knives',
      false,
      'Serials, e.g. W01, W02 or W01-W03; none for other work.',
      'knife',
      'serial',
      'serials',
      'build',
      'builds',
    ),
    rule('note', 'Note', false, 'Anything to remember.', 'notes', 'remark', 'remarks', 'comment'),
  ],
  sales: [
    date,
    rule('knife', 'Knife', true, 'Serial of the finished knife.', 'serial', 'build', 'item', 'number'),
    rule('buyer', 'Buyer', true, 'Name of the buyer.', 'customer', 'client', 'name', 'sold to'),
    rule('price', 'Price', true, 'Price of the knife.', 'amount', 'sale price', 'sold for'),
    rule(
      'shipping',
      'Shipping charged',
      false,
      'What the buyer paid for shipping.',
      'shipping',
      'ship charged',
      'delivery',
    ),
    rule(
      'postage',
      'Postage paid',
      false,
      'What the carrier got.',
      'postage',
      'ship paid',
      'shipping paid',
      'shipping cost',
    ),
    rule('tax', 'Tax', false, 'Tax charged; nothing means none.', 'sales tax', 'vat'),
    rule(
      'fee',
      'Fee',
      false,
      'Fee kept back; by the rule of the channel when left out.',
      'payment fee',
      'processor fee',
      'fees',
    ),
    rule('channel', 'Sold through', false, 'Name of the channel.', 'channel', 'where', 'platform'),
    rule(
      'abroad',
      'Goes abroad',
      false,
      'Yes or no; by the buyer’s country when left out.',
      'abroad',
      'export',
      'international',
      'overseas',
    ),
    rule(
      'paidBy',
      'Paid by',
      false,
      'How the invoice was paid; books the payment.',
      'payment',
      'method',
      'paid',
    ),
    rule(
      'invoice',
      'Issue invoice',
      false,
      'Yes to issue an invoice with a number of the workshop’s own.',
      'invoice',
    ),
  ],
  buyers: buyerRules,
  expenses: [
    date,
    rule('payee', 'Paid to', false, 'Who was paid.', 'payee', 'supplier', 'vendor', 'shop', 'name'),
    rule('category', 'Category', true, 'As named under Money, Categories.', 'kind', 'account', 'type'),
    rule('amount', 'Amount', true, 'The whole sum of the receipt.', 'total', 'sum', 'paid', 'price', 'cost'),
    rule('paidOn', 'Paid on', false, 'The day it was paid; the same day when left out.', 'payment date'),
    rule(
      'tax',
      'Sales tax within it',
      false,
      'Only what comes back from the tax office.',
      'sales tax',
      'vat',
      'tax',
    ),
    rule('share', 'Share', false, 'Percent of the workshop; all of it when left out.', 'business share'),
    rule('receipt', 'Receipt kept', false, 'Yes where a receipt is kept.', 'receipt'),
    rule('note', 'Note', false, 'Anything to remember.', 'notes', 'remark', 'comment', 'description'),
  ],
};

/** Fields of a kind as a screen lists them. */
export const fieldsOf = (kind: ImportKind): readonly ImportField[] =>
  rules[kind].map(({ words: _, ...field }) => field);

/** Small letters and digits only, accents off. */
export const plainHeading = (heading: string): string =>
  heading
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\d]+/gu, ' ')
    .trim();

type Fits = (heading: string, word: string) => boolean;

/** Exact words first, then headings that begin with one, then those that hold one. */
const passes: readonly Fits[] = [
  (heading, word) => heading === word,
  (heading, word) => heading.startsWith(`${word} `),
  (heading, word) => ` ${heading} `.includes(` ${word} `),
];

/** The likeliest column for each field; every column serves one field only. -1 for none. */
export function guessMapping(kind: ImportKind, headings: readonly string[]): Record<string, number> {
  const plain = headings.map(plainHeading);
  const mapping: Record<string, number> = Object.fromEntries(rules[kind].map((field) => [field.key, -1]));
  const free = new Set(plain.keys());
  for (const fits of passes) {
    for (const field of rules[kind]) {
      if (mapping[field.key] !== -1) continue;
      const words = field.words.find((word) => [...free].some((at) => fits(plain[at] ?? '', word)));
      const column = words === undefined ? undefined : [...free].find((at) => fits(plain[at] ?? '', words));
      if (column === undefined) continue;
      mapping[field.key] = column;
      free.delete(column);
    }
  }
  return mapping;
}

/** Headings as the key a matching is remembered by. */
export const headingsKey = (headings: readonly string[]): string => headings.map(plainHeading).join('\n');
