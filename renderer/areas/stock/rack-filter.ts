/** Narrowing the rack while one types: every lot is written down once as one text, which is then only searched. */
import type { ItemKind, LotRow } from '../../../electron/api/stock.ts';

/** A lot with the text it is found by. */
export interface Findable {
  readonly lot: LotRow;
  readonly text: string;
}

/** What a lot is found by: tag, item, heat, place, supplier, and the words of its papers. */
export const findable = (lots: readonly LotRow[]): readonly Findable[] =>
  lots.map((lot) => ({
    lot,
    text: [
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
  }));

export interface RackFilter {
  readonly text: string;
  readonly kind: ItemKind | 'all';
  /** Only lots with a listing, an origin or a document number. */
  readonly papers: boolean;
}

const hasPapers = ({ listing, origin, paperNumber }: LotRow): boolean =>
  listing !== '' || origin !== '' || paperNumber !== '';

/** Lots in which every word typed occurs. */
export const narrowed = (all: readonly Findable[], filter: RackFilter): readonly LotRow[] => {
  const words = filter.text
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  const found: LotRow[] = [];
  for (const { lot, text } of all) {
    if (filter.kind !== 'all' && lot.kind !== filter.kind) continue;
    if (filter.papers && !hasPapers(lot)) continue;
    if (words.every((word) => text.includes(word))) found.push(lot);
  }
  return found;
};
