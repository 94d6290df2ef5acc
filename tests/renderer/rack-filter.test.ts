/** The rack narrows while one types, over everything a lot is known by. */
import { describe, expect, it } from 'vitest';
import type { LotRow } from '../../electron/api/stock.ts';
import { findable, narrowed } from '../../renderer/areas/stock/rack-filter.ts';

const lot = (over: Partial<LotRow>): LotRow => ({
  id: over.tag ?? 'x',
  tag: 'L-0001',
  itemId: 'i',
  itemName: 'Stainless bar',
  kind: 'steel',
  form: 'length',
  unit: 'in',
  pieceWord: 'bar',
  supplierName: null,
  receivedOn: '2024-07-02',
  heatNumber: '',
  place: '',
  qtyReceived: 1,
  valueReceivedMicro: 1,
  qtyLeft: 1,
  valueLeftMicro: 1,
  lengthNm: null,
  widthNm: null,
  makingId: null,
  makingTag: null,
  parentId: null,
  parentTag: null,
  species: '',
  listing: '',
  origin: '',
  paperNumber: '',
  ...over,
});

const rack = findable([
  lot({ tag: 'L-0001', heatNumber: 'H-77', place: 'Rack A' }),
  lot({ tag: 'L-0002', itemName: 'Walnut pair', kind: 'handle', supplierName: 'Greyfen Wood' }),
  lot({ tag: 'L-0003', itemName: 'Blackwood', kind: 'handle', listing: 'Appendix II', origin: 'TZ' }),
]);
const tags = (filter: Partial<Parameters<typeof narrowed>[1]>) =>
  narrowed(rack, { text: '', kind: 'all', papers: false, ...filter }).map((one) => one.tag);

describe('narrowing the rack', () => {
  it('finds by tag, item, heat, place, supplier and papers, whatever the case', () => {
    expect(tags({})).toEqual(['L-0001', 'L-0002', 'L-0003']);
    expect(tags({ text: 'l-0002' })).toEqual(['L-0002']);
    expect(tags({ text: 'h-77' })).toEqual(['L-0001']);
    expect(tags({ text: 'RACK a' })).toEqual(['L-0001']);
    expect(tags({ text: 'greyfen' })).toEqual(['L-0002']);
    expect(tags({ text: 'appendix' })).toEqual(['L-0003']);
    expect(tags({ text: 'no such' })).toEqual([]);
  });

  it('wants every word, in any order', () => {
    expect(tags({ text: 'pair walnut' })).toEqual(['L-0002']);
    expect(tags({ text: 'pair blackwood' })).toEqual([]);
  });

  it('keeps to a kind and to lots with papers', () => {
    expect(tags({ kind: 'handle' })).toEqual(['L-0002', 'L-0003']);
    expect(tags({ kind: 'handle', papers: true })).toEqual(['L-0003']);
  });
});
