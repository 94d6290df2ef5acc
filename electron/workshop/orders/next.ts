/** The one thing to do next with an order. */
import type { OrderStep, OrderRow } from '../../api/orders.ts';
import { sumOf } from '../../domain/integers.ts';
import type { OrderPaperRecord } from '../../storage/queries/orders.ts';
import { openOfPaper } from './money.ts';

function nextOfAgreed(row: OrderRow, papers: readonly OrderPaperRecord[]): OrderStep {
  const deposits = papers.filter((paper) => paper.kind === 'deposit');
  if (row.knifeLost) return 'remake';
  if (row.depositMinor > 0 && deposits.length === 0) return 'askDeposit';
  if (deposits.some((paper) => openOfPaper(paper) > 0)) return 'payDeposit';
  if (row.knife === null) return 'link';
  return row.knife.state === 'finished' ? 'deliver' : 'make';
}

/** What to do next; `none` where nothing is left to do. */
export function nextStep(row: OrderRow, papers: readonly OrderPaperRecord[]): OrderStep {
  const openMinor = sumOf(papers, openOfPaper);
  switch (row.state) {
    case 'asked':
      return 'offer';
    case 'offered':
      return 'agree';
    case 'agreed':
      return nextOfAgreed(row, papers);
    case 'delivered':
      if (openMinor > 0) return 'payBalance';
      return openMinor < 0 ? 'giveBack' : 'none';
    default:
      return openMinor < 0 ? 'giveBack' : 'none';
  }
}
