/** Orders in a maker's words. */
import type { DepositTerms, OrderRow, OrderState } from '../../../electron/api/orders.ts';
import { count, day, money, percent as percentOf } from '../../lib/format.ts';

/** Figure and sign stay on one line. */
const percent = (ppm: number): string => percentOf(ppm).replace(' ', '\u00a0');

const stateWords: Readonly<Record<OrderState, string>> = {
  asked: 'Waiting',
  offered: 'Offered',
  agreed: 'Agreed',
  delivered: 'Delivered',
  cancelled: 'Cancelled',
  closed: 'Came to nothing',
};

export interface Standing {
  readonly text: string;
  readonly tone: 'plain' | 'firm' | 'loss' | 'faint';
}

/** How an order stands, in one word or two. */
export function standingOf(row: OrderRow): Standing {
  if (row.knifeLost) return { text: 'Knife lost', tone: 'loss' };
  if (row.late) return { text: 'Late', tone: 'loss' };
  if (row.answerOverdue) return { text: 'Answer overdue', tone: 'loss' };
  if (row.state === 'asked') return { text: `Place ${String(row.place ?? '')}`.trim(), tone: 'plain' };
  if (row.state === 'agreed') return { text: stateWords.agreed, tone: 'firm' };
  return { text: stateWords[row.state], tone: row.state === 'offered' ? 'plain' : 'faint' };
}

/** What is wanted, in a line. */
export const whatOf = (row: Pick<OrderRow, 'modelName' | 'wish'>): string => row.modelName || row.wish;

/** A wish may be a whole letter; in a list its beginning has to do. */
const briefLetters = 90;
/** The same for a line of a list. */
export const whatInBrief = (row: Pick<OrderRow, 'modelName' | 'wish'>): string => {
  const letters = Array.from(whatOf(row).replaceAll(/\s+/gu, ' '));
  return letters.length <= briefLetters ? letters.join('') : `${letters.slice(0, briefLetters).join('')} …`;
};

/** The day that matters next: the promise, or the day to answer by. */
export const dayWords = (row: OrderRow): string => {
  if (row.state === 'agreed') return row.promisedOn === null ? 'no day yet' : `by ${day(row.promisedOn)}`;
  if (row.endedOn !== null) return day(row.endedOn);
  return row.answerBy === null ? `asked ${day(row.askedOn)}` : `reply ${day(row.answerBy)}`;
};

/** A rule for deposits in a sentence. */
export function termsWords(terms: Omit<DepositTerms, 'name'>): string {
  const least = terms.leastMinor === 0 ? '' : `, at least ${money(terms.leastMinor)}`;
  const special =
    terms.specialPpm === terms.percentPpm ? '' : `, ${percent(terms.specialPpm)} of special material`;
  return `${percent(terms.percentPpm)} of the price${least}${special}.`;
}

/** When the deposit goes back, in a sentence. */
export function backWords(terms: Pick<DepositTerms, 'refundable' | 'keptPpm'>): string {
  if (terms.refundable === 'always') return 'It goes back in full whenever the order is cancelled.';
  const kept = `${percent(terms.keptPpm)} of it is kept`;
  return terms.refundable === 'never'
    ? `When the order is cancelled, ${kept}.`
    : `It goes back in full until steel is cut; after that ${kept}.`;
}

/** Days to pay, in a sentence. */
export const daysWords = (terms: Pick<DepositTerms, 'depositDays' | 'balanceDays'>): string =>
  `${count(terms.depositDays, 'day')} to pay the deposit, ${count(terms.balanceDays, 'day')} to pay the rest.`;
