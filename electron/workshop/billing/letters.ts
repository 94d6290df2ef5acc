/** Reminder, statement and list of what is owed as finished text for the paper. */
import type { Ageing, Statement } from '../../api/billing.ts';
import type { LetterPaper } from '../../documents/types.ts';
import { addressLines } from '../../domain/addresses.ts';
import type { InvoiceRecord } from '../../storage/queries/selling-invoices.ts';
import type { BuyerRecord } from '../../storage/queries/selling.ts';
import type { QueryContext } from '../context.ts';
import { houseOf, type House } from '../costs/house.ts';
import { statedIn } from '../papers/stated.ts';
import { textOf } from '../papers/texts.ts';
import { paymentOf } from '../selling/payment-block.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { dateIn, knownLanguage, moneyIn, wordsFor } from '../paper-words/index.ts';

type Ctx = Pick<QueryContext, 'db' | 'files' | 'clock'>;

const paragraphs = (text: string): string[] =>
  text
    .split(/\n\s*\n/)
    .map((part) => part.trim())
    .filter((part) => part !== '');

const plainLines = (text: string): string[] => text.split('\n').filter((line) => line.trim() !== '');

const senderOf = ({ shop }: House): LetterPaper['sender'] => ({
  name: shop.name,
  lines: addressLines(shop, shop.country),
  contact: [shop.email, shop.phone, shop.website].filter((part) => part !== ''),
});

/** The language a buyer is written to in. */
const languageOf = (house: House, buyer: Pick<BuyerRecord, 'language'>): string =>
  knownLanguage(buyer.language === '' ? house.shop.language : buyer.language);

/** What a reminder says. */
export interface Reminding {
  readonly nth: number;
  readonly on: string;
  readonly payBy: string;
  readonly openMinor: number;
}

/** A reminder of one invoice, in the language of the invoice. The workshop's own words stand under it. */
export function reminderLetter(ctx: Ctx, invoice: InvoiceRecord, said: Reminding): LetterPaper {
  const house = houseOf(ctx.db);
  const language = knownLanguage(invoice.language);
  const words = wordsFor(language).reminder;
  const day = (iso: string): string => dateIn(language, iso);
  const money = (minor: number): string => moneyIn(language, minor, invoice.currency);
  const less = invoice.total_minor - invoice.prepaid_minor - said.openMinor;
  return dressed(ctx, {
    ...frameOf(house, language, ctx.clock.now()),
    title: words.title(said.nth),
    mark: invoice.number,
    to: words.to,
    sender: senderOf(house),
    recipient: { name: invoice.buyer_name, lines: plainLines(invoice.buyer_address) },
    facts: [
      { label: words.date, text: day(said.on) },
      { label: words.payBy, text: day(said.payBy) },
    ],
    before: [words.opening(invoice.number, day(invoice.issued_on), day(invoice.due_on))],
    heads: [words.what, words.amount],
    rows: [
      {
        cells: [words.invoice(invoice.number), money(invoice.total_minor - invoice.prepaid_minor)],
        detail: words.issued(day(invoice.issued_on)),
      },
      ...(less === 0 ? [] : [{ cells: [words.received, money(-less)], detail: '' }]),
    ],
    totals: [{ label: `${words.open}, ${invoice.currency}`, amount: money(said.openMinor), strong: true }],
    after: [
      words.asking(`${money(said.openMinor)} ${invoice.currency}`, day(said.payBy)),
      ...paragraphs(textOf(ctx.db, 'reminder', language)),
      words.crossed,
    ],
    payment: paymentOf(invoice, statedIn(invoice).account, { askedMinor: said.openMinor, payBy: said.payBy }),
  });
}

/** What stands between the workshop and a buyer, in the buyer's language. */
export function statementLetter(ctx: Ctx, statement: Statement, buyer: BuyerRecord): LetterPaper {
  const house = houseOf(ctx.db);
  const language = languageOf(house, buyer);
  const words = wordsFor(language).statement;
  const day = (iso: string): string => dateIn(language, iso);
  const money = (minor: number): string => moneyIn(language, minor, house.currency);
  const closing = statement.closingMinor;
  return dressed(ctx, {
    ...frameOf(house, language, ctx.clock.now()),
    title: words.title,
    mark: '',
    to: words.to,
    sender: senderOf(house),
    recipient: { name: buyer.name, lines: addressLines(buyer, house.shop.country) },
    facts: [
      { label: words.from, text: day(statement.from) },
      { label: words.until, text: day(statement.to) },
      { label: words.currency, text: house.currency },
    ],
    before: [],
    heads: [words.what, words.day, words.amount, words.balance],
    rows: [
      { cells: [words.opening, day(statement.from), '', money(statement.openingMinor)], detail: '' },
      ...statement.rows.map((row) => ({
        cells: [
          words.kinds[row.what](row.number),
          day(row.on),
          money(row.amountMinor),
          money(row.balanceMinor),
        ],
        detail: row.detail,
      })),
    ],
    totals: [
      {
        label: closing < 0 ? words.inYourFavour : words.closing,
        amount: money(Math.abs(closing)),
        strong: true,
      },
    ],
    after: [words.ask],
  });
}

/** What buyers owe, for the workshop's own desk. */
export function ageingLetter(ctx: Ctx, ageing: Ageing): LetterPaper {
  const house = houseOf(ctx.db);
  const language = knownLanguage(house.shop.language);
  const words = wordsFor(language).ageing;
  const day = (iso: string): string => dateIn(language, iso);
  const money = (minor: number): string => moneyIn(language, minor, house.currency);
  const owed = [...ageing.rows, ...ageing.toGiveBack];
  return dressed(ctx, {
    ...frameOf(house, language, ctx.clock.now()),
    title: words.title,
    mark: day(ageing.on),
    to: '',
    sender: senderOf(house),
    recipient: null,
    facts: ageing.bands.map((band) => ({ label: words.bands[band.band], text: money(band.openMinor) })),
    before: owed.length === 0 ? [words.nothing] : [],
    heads: [words.buyer, words.number, words.due, words.late, words.open],
    rows: owed.map((row) => ({
      cells: [row.buyerName, row.number, day(row.dueOn), late(row.daysLate), money(row.openMinor)],
      detail: '',
    })),
    totals: [
      { label: `${words.owed}, ${house.currency}`, amount: money(ageing.owedMinor), strong: true },
      ...(ageing.toGiveBackMinor === 0
        ? []
        : [{ label: words.toGiveBack, amount: money(ageing.toGiveBackMinor), strong: false }]),
    ],
    after: [],
  });
}

/** Days past the due day; nothing where it is not due yet. */
const late = (days: number): string => (days > 0 ? String(days) : '');
