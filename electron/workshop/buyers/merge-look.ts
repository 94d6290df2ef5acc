/** The last look before two entries are put together: what would move, and what stays as it is. */
import type { MergeLook } from '../../api/buyers.ts';
import type { Parsed } from '../../api/contract.ts';
import { goingOver } from '../../storage/queries/buyers-merge.ts';
import type { QueryContext } from '../context.ts';
import { needBuyer } from '../selling/buyers.ts';

type Going = ReturnType<typeof goingOver>;

const kinds: readonly (readonly [keyof Going, string, string])[] = [
  ['sales', 'knife bought', 'knives bought'],
  ['orders', 'wish or order', 'wishes and orders'],
  ['quotes', 'quote', 'quotes'],
  ['services', 'service', 'services'],
  ['invoice_drafts', 'draft of an invoice', 'drafts of invoices'],
  ['buyer_addresses', 'delivery address', 'delivery addresses'],
  ['supporter_spans', 'time of support', 'times of support'],
  ['release_entries', 'name in the hat', 'names in the hat'],
  ['claims', 'hold or offer of a knife', 'holds and offers of knives'],
];

const counted = (n: number, one: string, many: string): string => `${String(n)} ${n === 1 ? one : many}`;

/**
 * What would become of the other entry. Changes nothing.
 * @throws FaultError when either is not in the books
 */
export function mergeLook({ db }: Pick<QueryContext, 'db'>, input: Parsed<'buyers.mergeLook'>): MergeLook {
  const [keep, other] = [needBuyer(db, input.keepId), needBuyer(db, input.otherId)];
  const going = goingOver(db, other.id, keep.id);
  const { invoices, doubles } = going;
  return {
    moves: kinds
      .filter(([kind]) => going[kind] > 0)
      .map(([kind, ...words]) => counted(going[kind], ...words)),
    stays: [
      ...(invoices === 0
        ? []
        : [
            `${counted(invoices, 'issued invoice or credit is', 'issued invoices and credits are')} shown here too, with the name and address of that day: they are never rewritten.`,
          ]),
      ...(doubles === 0
        ? []
        : [
            `${counted(doubles, 'name leaves', 'names leave')} the hat, because one person would be in it twice.`,
          ]),
    ],
  };
}
