/** What was bought, July to December 2024: pieces, item, price of one. */
import type { ItemKey } from './items.ts';
import type { SupplierKey } from './setting.ts';

export interface DemoPurchase {
  readonly on: string;
  readonly supplier: SupplierKey;
  readonly lines: readonly (readonly [pieces: number, item: ItemKey, priceEach: string])[];
}

export const purchases: readonly DemoPurchase[] = [
  {
    on: '2024-07-02',
    supplier: 'greyfen',
    lines: [
      [1, 'stainless070', '24.00'],
      [1, 'crv125', '24.00'],
      [1, 'b52100', '34.00'],
    ],
  },
  {
    on: '2024-07-03',
    supplier: 'pellwick',
    lines: [
      [7, 'B36', '9.80'],
      [6, 'B60', '9.20'],
      [5, 'B120', '7.40'],
      [5, 'B220', '4.60'],
      [3, 'B400', '4.60'],
      [2, 'BS4', '13.50'],
      [2, 'BS12', '13.50'],
      [1, 'BSC', '21.00'],
      [4, 'BW80', '5.10'],
      [4, 'BW220', '4.60'],
      [50, 'paper', '1.05'],
    ],
  },
  {
    on: '2024-07-05',
    supplier: 'copperpint',
    lines: [
      [1, 'fittings', '118.00'],
      [1, 'epoxy', '28.16'],
    ],
  },
  {
    on: '2024-07-10',
    supplier: 'thornapple',
    lines: [
      [8, 'walnut', '14.00'],
      [4, 'maple', '34.00'],
      [4, 'burl', '52.00'],
      [2, 'burlPair', '22.00'],
    ],
  },
  {
    on: '2024-07-10',
    supplier: 'wickerlee',
    lines: [
      [5, 'oil', '29.60'],
      [1, 'shopLot', '96.00'],
    ],
  },
  { on: '2024-07-20', supplier: 'lanternhook', lines: [[25, 'packaging', '6.80']] },
  { on: '2024-08-10', supplier: 'ashkettle', lines: [[1, 'propane', '24.00']] },
  {
    on: '2024-08-17',
    supplier: 'dunmarrow',
    lines: [
      [1, 'leather', '161.00'],
      [1, 'sheathSundries', '38.00'],
    ],
  },
  {
    on: '2024-09-07',
    supplier: 'greyfen',
    lines: [
      [1, 'stainless080', '30.00'],
      [1, 'crv187', '39.00'],
    ],
  },
  { on: '2024-11-16', supplier: 'nook', lines: [[1, 'laminate', '46.00']] },
  { on: '2024-12-28', supplier: 'greyfen', lines: [[1, 'stainless080', '30.00']] },
];
