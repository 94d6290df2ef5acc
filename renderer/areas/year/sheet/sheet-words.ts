/** Words of the sheet for the preparer. */
import type { PreparerSheet, SheetView, Valuation } from '../../../../electron/api/preparer.ts';
import { money } from '../../../lib/format.ts';

export const partWords = { income: 'Income', expenses: 'Expenses', goods: 'Cost of goods' } as const;

export const viewWords: Readonly<Record<SheetView, string>> = {
  cash: 'By the day money moved',
  earned: 'By the day it was earned or owed',
};

export const valuedWords: Readonly<Record<Valuation, string>> = {
  cost: 'At cost',
  lower: 'At the lower of cost and market',
  other: 'Another way',
  '': 'Not said',
};

/** How opening stock stands to last year’s closing stock. */
export const tieWords = ({ opening, answers }: PreparerSheet): string => {
  const { state, lastMinor, differenceMinor, booksMinor } = opening;
  if (state === 'unknown')
    return booksMinor === 0
      ? 'There was no stock at the beginning of the year.'
      : 'Nobody said what closing stock last year’s form had. Tell it under the answers for this year.';
  if (state === 'tied') return `Opening stock is last year’s closing stock, ${money(lastMinor ?? 0)}.`;
  const differs = `Opening stock differs from last year’s closing stock of ${money(lastMinor ?? 0)} by ${money(differenceMinor ?? 0)}.`;
  return state === 'open' ? `${differs} Nobody said why.` : `${differs} ${answers.openingNote}`;
};

/**
 * What stands on a line, with the sign the line has: a form asks for refunds and closing stock above zero, though the
 * books hold them below it.
 */
export const standingOn = (line: PreparerSheet['lines'][number]): PreparerSheet['lines'][number]['from'] => {
  const told = line.from.filter((one) => one.cashMinor !== 0 || one.earnedMinor !== 0);
  const turned = told.every((one) => one.cashMinor <= 0 && one.earnedMinor <= 0);
  if (!turned || line.cashMinor < 0 || line.earnedMinor < 0) return told;
  const flip = (minor: number): number => (minor === 0 ? 0 : -minor);
  return told.map((one) => ({
    ...one,
    cashMinor: flip(one.cashMinor),
    earnedMinor: flip(one.earnedMinor),
  }));
};
