/** Words of what to make next and of prices. */
import type { NextRow } from '../../../electron/api/next.ts';
import type { Quartiles } from '../../../electron/domain/next-up.ts';
import { TOO_FEW } from '../../../electron/domain/spread.ts';
import { count, money } from '../../lib/format.ts';

/** How a model stands, in a word. */
export const standingWords: Readonly<Record<NextRow['standing'], string>> = {
  promised: 'promised',
  askedFor: 'asked for',
  sells: 'sells',
  tooFew: 'too few to say',
  lies: 'lies unsold',
};

export const tooFew = 'too few to say';

/** True where three or more say something. */
export const says = (spread: Quartiles | null): spread is Quartiles => spread !== null && spread.n >= TOO_FEW;

/** The middle half of some amounts, or that they are too few: `$21.23 to $24.10`. */
export const spreadMoney = (spread: Quartiles | null): string =>
  says(spread) ? `${money(spread.low)} to ${money(spread.high)}` : tooFew;

/** Days, their middle and their middle half: `4 days (2 to 11)`. */
export const spreadDays = (spread: Quartiles | null): string =>
  says(spread)
    ? `${count(spread.middle, 'day')}${spread.low === spread.high ? '' : ` (${String(spread.low)} to ${String(spread.high)})`}`
    : tooFew;

const demand = (row: NextRow): string => {
  if (row.promised > 0) {
    const ready =
      row.unsold === 0
        ? ''
        : ` ${count(row.unsold, 'finished one is', 'finished ones are')} unsold: look whether ${row.unsold === 1 ? 'it' : 'one of them'} will do.`;
    return `${count(row.promised, 'agreed order')} without a knife.${ready}`;
  }
  const waits = [
    row.asked > 0 ? `${count(row.asked, 'person waits', 'people wait')} for one` : '',
    row.quoted > 0 ? `${count(row.quoted, 'person has', 'people have')} a quote that holds` : '',
  ].filter((part) => part !== '');
  const free = row.coming + row.unsold;
  const there = free === 0 ? 'none is planned or free' : `only ${count(free, 'is', 'are')} planned or free`;
  return `${waits.join(' and ')}, and ${there}.`;
};

/** Why a model stands where it stands. */
export const whyOf = (row: NextRow): string => {
  switch (row.standing) {
    case 'promised':
    case 'askedFor':
      return demand(row);
    case 'sells':
      return row.days !== null && says(row.days)
        ? `Half of them went within ${count(row.days.middle, 'day')}.`
        : 'Sold to order; what it does when offered to all is not known.';
    case 'tooFew':
      return row.sold === 0
        ? 'None sold yet.'
        : `Only ${count(row.sold, 'was', 'were')} sold: its hour may look better or worse than it is.`;
    case 'lies':
      return `${count(row.unsold, 'one is', 'are')} unsold${row.unsoldDays === null ? '' : `, for ${count(row.unsoldDays, 'day')} now`}: sell first.`;
  }
};

/** What the rack is enough for. */
export const rackWords = (row: NextRow): string =>
  row.canMake === null ? 'no usual parts' : String(row.canMake);
