/**
 * D3: particulars of an invoice, article 226 of Directive 2006/112/EC. READ where its operative wording is restated in a
 * public repository (items 1 to 7 also at service.betterregulation.com); 4 and 11 READ there too.
 */
import { describe, expect, it } from 'vitest';
import {
  isInUnion,
  missingParticulars,
  type StatedParticulars,
} from '../../electron/domain/invoice-particulars.ts';

/** A standard-rated invoice that says everything. Its parties are invented. */
const whole: StatedParticulars = {
  issuedOn: '2025-03-14',
  number: '2025-0007',
  sellerTaxNumber: 'XX123456789',
  buyerTaxNumber: '',
  sellerName: 'Sedgewarren Edge Shop',
  sellerAddress: '4 Quarry Lane\nThistlemere',
  buyerName: 'Petra Gorsewick',
  buyerAddress: '2 Hop Street\nGorse End',
  lines: [{ description: 'Paring knife', qty: 1 }],
  taxableMinor: 10_000,
  ratePpm: 190_000,
  taxMinor: 1900,
  category: 'S',
  reason: '',
};

const missingIn = (change: Partial<StatedParticulars>): string[] =>
  missingParticulars({ ...whole, ...change }).map(({ item }) => item);

describe('D3a: article 226 of the VAT Directive', () => {
  it('finds nothing missing in a whole invoice', () => {
    expect(missingIn({})).toEqual([]);
  });

  it.each([
    ['1', { issuedOn: '' }],
    ['2', { number: '' }],
    ['5', { sellerName: '' }],
    ['5', { sellerAddress: ' ' }],
    ['5', { buyerName: '' }],
    ['5', { buyerAddress: '' }],
    ['6', { lines: [] }],
    ['6', { lines: [{ description: '', qty: 1 }] }],
    ['8', { taxableMinor: null }],
    ['9', { ratePpm: null }],
    ['10', { taxMinor: null }],
    ['3', { sellerTaxNumber: '' }],
  ] satisfies readonly (readonly [string, Partial<StatedParticulars>])[])(
    'names exactly item %s when it alone is taken away',
    (item, change) => {
      expect(missingIn(change)).toEqual([item]);
    },
  );

  it('asks for the buyer’s number and a reason where the buyer accounts for the tax', () => {
    const reverse = { category: 'AE', ratePpm: 0, taxMinor: 0 };
    expect(missingIn(reverse)).toEqual(['4', '11']);
    expect(missingIn({ ...reverse, buyerTaxNumber: 'YY99', reason: 'Reverse charge' })).toEqual([]);
    expect(missingIn({ category: 'G', ratePpm: 0, taxMinor: 0, reason: 'Export' })).toEqual([]);
  });

  it('holds for member states alone (list of the Union, from memory)', () => {
    expect(['DE', 'GR', 'HR', 'SE'].every(isInUnion)).toBe(true);
    expect(['GB', 'US', 'NO', 'CH', 'EL', ''].some(isInUnion)).toBe(false);
  });
});
