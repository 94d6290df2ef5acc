/**
 * The text of the code that fills in a euro transfer: EPC069-12 version 2.1 of the European Payments Council.
 * The code is drawn with error correction level M, at most version 13.
 */
import { isBic, isIban, plainIban } from './iban.ts';
import { ok, refuse, type Outcome } from './outcome.ts';
import { isReference } from './payment-reference.ts';

export interface Transfer {
  /** Who is paid, at most 70 characters. */
  readonly name: string;
  readonly iban: string;
  /** May be empty: within the euro area the account number is enough. */
  readonly bic: string;
  /** Euro with a point, from `0.01` to `999999999.99`; empty leaves it to the payer. */
  readonly amount: string;
  /** Four letters of ISO 20022 at most; mostly empty. */
  readonly purpose: string;
  /** Reference of ISO 11649; excludes `text`. */
  readonly reference: string;
  /** Free text of at most 140 characters; excludes `reference`. */
  readonly text: string;
}

/** How letters become bytes: 1 is UTF-8, 2 is ISO 8859-1. */
export type EpcLetters = 1 | 2;

/** Most bytes the code may hold. */
const MOST_BYTES = 331;

/** Trailing zeros are left out: 5.00 is written 5. */
const amountText = (amount: string): string =>
  amount === '' ? '' : `EUR${amount.includes('.') ? amount.replace(/\.?0+$/, '') : amount}`;

const fitsAmount = (amount: string): boolean =>
  amount === '' || (/^\d{1,9}(\.\d{1,2})?$/.test(amount) && Number(amount) >= 0.01);

/** Bytes of a text in the letters chosen. */
export const epcBytes = (text: string, letters: EpcLetters): number => {
  const points = Array.from(text, (character) => character.codePointAt(0) ?? 0);
  if (letters === 2) return points.length;
  return points.reduce((sum, at) => sum + (at < 0x80 ? 1 : at < 0x800 ? 2 : at < 0x10000 ? 3 : 4), 0);
};

const oneLine = (text: string): string => text.replaceAll(/\s+/g, ' ').trim();

/** What stands in the way, as a sentence; undefined when nothing does. */
function obstacle(transfer: Transfer): string | undefined {
  const name = oneLine(transfer.name);
  if (name === '' || name.length > 70) return 'The name of the account’s holder needs 1 to 70 characters.';
  if (!isIban(transfer.iban)) return 'The account number (IBAN) is not right. Check it.';
  if (transfer.bic !== '' && !isBic(transfer.bic)) return 'The bank’s code (BIC) has 8 or 11 characters.';
  if (!fitsAmount(transfer.amount)) return 'A transfer is of 0.01 to 999999999.99 euro.';
  if (!/^[A-Z]{0,4}$/.test(transfer.purpose)) return 'The purpose has four letters at most.';
  if (transfer.reference !== '' && transfer.text !== '') return 'Give a reference or a text, not both.';
  if (transfer.reference !== '' && !isReference(transfer.reference)) return 'The reference is not right.';
  if (oneLine(transfer.text).length > 140) return 'The text has 140 characters at most.';
  return undefined;
}

/**
 * The text of the code, line by line.
 * @param letters UTF-8 unless told
 */
export function epcText(transfer: Transfer, letters: EpcLetters = 1): Outcome<string> {
  const wrong = obstacle(transfer);
  if (wrong !== undefined) return refuse(wrong);
  const lines = [
    'BCD',
    '002',
    String(letters),
    'SCT',
    transfer.bic,
    oneLine(transfer.name),
    plainIban(transfer.iban),
    amountText(transfer.amount),
    transfer.purpose,
    plainIban(transfer.reference),
    oneLine(transfer.text),
  ];
  const text = lines.join('\n').replace(/\n+$/, '');
  if (letters === 2 && Array.from(text).some((character) => (character.codePointAt(0) ?? 0) > 0xff))
    return refuse('These letters are not in ISO 8859-1. Use UTF-8.');
  if (epcBytes(text, letters) > MOST_BYTES) return refuse('This is too long for a payment code.');
  return ok(text);
}
