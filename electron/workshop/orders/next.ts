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

/** Whether one invoice asks for money while another is to give some back. */
const standsAgainst = (papers: readonly OrderPaperRecord[]): boolean =>
  papers.some((paper) => openOfPaper(paper) > 0) && papers.some((paper) => openOfPaper(paper) < 0);

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
    default:
      if (standsAgainst(papers)) return 'setOff';
      if (openMinor > 0) return 'payBalance';
      return openMinor < 0 ? 'giveBack' : 'none';
  }
}
