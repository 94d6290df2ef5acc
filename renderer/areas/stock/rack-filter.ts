/** Narrowing the rack while one types: every lot is written down once as one text, which is then only searched. */
import type { ItemKind, LotRow } from '../../../electron/api/stock.ts';
import { searchText } from '../../lib/search-text.ts';
import type { SearchText } from '../../lib/search-text.ts';

/** Lots with the texts they are found by. */
export interface Findable {
  readonly lots: readonly LotRow[];
  readonly texts: SearchText;
}

/** What a lot is found by: tag, item, heat, place, supplier, and the words of its papers. */
export const findable = (lots: readonly LotRow[]): Findable => ({
  lots,
  texts: searchText(
    lots.map((lot) =>
      [
        lot.tag,
        lot.itemName,
        lot.heatNumber,
        lot.place,
        lot.supplierName ?? '',
        lot.species,
        lot.listing,
        lot.origin,
        lot.paperNumber,
      ]
        .join('\n')
        .toLowerCase(),
    ),
  ),
});

export interface RackFilter {
  readonly text: string;
  readonly kind: ItemKind | 'all';
  /** Only lots with a listing, an origin or a document number. */
  readonly papers: boolean;
}

const hasPapers = ({ listing, origin, paperNumber }: LotRow): boolean =>
  listing !== '' || origin !== '' || paperNumber !== '';

/** Lots in which every word typed occurs. */
export const narrowed = ({ lots, texts }: Findable, filter: RackFilter): readonly LotRow[] => {
  const words = filter.text
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  const wanted = (lot: LotRow): boolean =>
    (filter.kind === 'all' || lot.kind === filter.kind) && (!filter.papers || hasPapers(lot));
  if (words.length === 0) return filter.kind === 'all' && !filter.papers ? lots : lots.filter(wanted);
  const found: LotRow[] = [];
  for (const at of texts.find(words)) {
    const lot = lots[at];
    if (lot !== undefined && wanted(lot)) found.push(lot);
  }
  return found;
};
