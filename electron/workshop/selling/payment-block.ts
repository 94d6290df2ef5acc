/** How an invoice is paid, in words and as the code of a euro transfer. */
import type { InvoicePaper } from '../../documents/types.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { epcText } from '../../domain/epc.ts';
import { inFours } from '../../domain/iban.ts';
import { referenceOf } from '../../domain/payment-reference.ts';
import { decimalText } from '../../domain/rational.ts';
import type { InvoicesTable } from '../../storage/schema-selling.ts';
import { dateIn, moneyIn, wordsFor } from '../paper-words/index.ts';
import type { Particulars } from './particulars.ts';

type Row = Pick<
  InvoicesTable,
  'kind' | 'number' | 'currency' | 'language' | 'due_on' | 'total_minor' | 'prepaid_minor' | 'seller_name'
>;
type Payment = NonNullable<InvoicePaper['payment']>;
type Account = Particulars['account'];

const LONGEST_NAME = 70;

/** What a banking app reads; null where the standard does not allow it, e.g. in another currency than euro. */
function codeOf(row: Row, account: Account, askedMinor: number): string | null {
  if (row.currency !== 'EUR') return null;
  const reference = referenceOf(row.number);
  const made = epcText({
    name: row.seller_name.slice(0, LONGEST_NAME),
    iban: account.iban,
    bic: account.bic,
    amount: decimalText(askedMinor, decimalsOf(row.currency)),
    purpose: '',
    reference: reference ?? '',
    text: reference === null ? row.number : '',
  });
  return made.ok ? made.value : null;
}

/** What is asked for now, where that is not the whole of the invoice by its own day. */
export interface Asked {
  readonly askedMinor: number;
  /** Local day to pay by. */
  readonly payBy: string;
}

/**
 * The block that says how to pay; null for a credit, for nothing to pay, and without an account.
 * @param asked what is still open, for a reminder; left out: what the invoice asks by the day it is due
 */
export function paymentOf(row: Row, account: Account, asked?: Asked): Payment | null {
  const askedMinor = asked?.askedMinor ?? row.total_minor - row.prepaid_minor;
  if (row.kind === 'credit' || account.iban === '' || askedMinor <= 0) return null;
  const { payment: words } = wordsFor(row.language).invoice;
  const reference = referenceOf(row.number);
  const code = row.number === '' ? null : codeOf(row, account, askedMinor);
  const facts = [
    { label: words.holder, text: row.seller_name },
    { label: words.bank, text: account.bankName },
    { label: words.account, text: inFours(account.iban) },
    { label: words.bic, text: account.bic },
    { label: words.reference, text: reference === null ? row.number : inFours(reference) },
    { label: words.amount, text: `${moneyIn(row.language, askedMinor, row.currency)} ${row.currency}` },
    { label: words.by, text: dateIn(row.language, asked?.payBy ?? row.due_on) },
  ];
  return {
    heading: words.heading,
    facts: facts.filter((fact) => fact.text !== ''),
    code: code === null ? null : { text: code, caption: words.scan },
  };
}
