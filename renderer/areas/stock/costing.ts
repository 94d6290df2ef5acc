/** The three rules by which draws choose a lot and what they cost, in plain words. */
import type { Costing } from '../../../electron/api/stock.ts';

export const costingWords: Readonly<Record<Costing, string>> = {
  fifo: 'The oldest first, at its own price',
  average: 'The oldest first, at the average price',
  specific: 'The one I name, at its own price',
};

/** One sentence each, shown under the choice. */
export const costingHints: Readonly<Record<Costing, string>> = {
  fifo: 'A knife pays what the oldest lot on the rack cost: first in, first out.',
  average:
    'All that lies there is worth the same per unit; every purchase moves the average. What is entered late costs the average of its own day, as far as the value left goes.',
  specific: 'For burls and one-off pieces: you say which, and a knife pays what that one cost.',
};
