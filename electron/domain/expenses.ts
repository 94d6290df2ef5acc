/** What an expense costs the workshop, and which of the expenses that come again are due. */
import { addMonths } from './calendar.ts';
import { mulDiv } from './integers.ts';

export interface Receipt {
  /** The whole sum, minor units. */
  readonly amountMinor: number;
  /** Sales tax within it that comes back from the tax office. */
  readonly taxMinor: number;
  /** Share of the workshop, parts per million. */
  readonly sharePpm: number;
}

/** The workshop's share of the sum without the tax kept apart, rounded once. Minor units. */
export const costOf = ({ amountMinor, taxMinor, sharePpm }: Receipt): number =>
  mulDiv(amountMinor - taxMinor, sharePpm, 1_000_000);

export interface Repeat {
  readonly from: string;
  /** Last day one may fall on; null: goes on. */
  readonly until: string | null;
  readonly everyMonths: number;
}

/** No list of what is due is longer: who comes back after years sets the beginning later. */
const MOST_DUE = 240;

/** The days a repeat fell due on up to today that are not done with, the oldest first. */
export function daysDue(
  { from, until, everyMonths }: Repeat,
  today: string,
  done: ReadonlySet<string>,
): readonly string[] {
  const last = until !== null && until < today ? until : today;
  const due: string[] = [];
  // Always counted from the first day: the 31st stays the month's last day and comes back to the 31st.
  for (
    let at = 0, day = from;
    day <= last && due.length < MOST_DUE;
    at += 1, day = addMonths(from, at * everyMonths)
  ) {
    if (!done.has(day)) due.push(day);
  }
  return due;
}

/** The next day after today a repeat falls due on; null when it has ended. */
export function nextDue({ from, until, everyMonths }: Repeat, today: string): string | null {
  let day = from;
  for (let at = 1; day <= today; at += 1) day = addMonths(from, at * everyMonths);
  return until !== null && day > until ? null : day;
}
