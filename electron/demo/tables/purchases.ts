/** What was bought, July 2024 to December 2025: pieces, item, price of one, and its size where it is not the usual. */
import type { ItemKey } from './items.ts';
import type { SupplierKey } from './setting.ts';

export interface DemoPurchase {
  readonly on: string;
  readonly supplier: SupplierKey;
  readonly lines: readonly (readonly [pieces: number, item: ItemKey, priceEach: string, each?: string])[];
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
  {
    on: '2025-01-04',
    supplier: 'pellwick',
    lines: [
      [8, 'B36', '9.80'],
      [6, 'B60', '9.20'],
      [5, 'B120', '7.40'],
      [5, 'B220', '4.60'],
      [3, 'B400', '4.60'],
      [1, 'BS4', '13.50'],
      [1, 'BS12', '13.50'],
      [3, 'BW80', '5.10'],
      [4, 'BW220', '4.60'],
    ],
  },
  {
    on: '2025-01-11',
    supplier: 'thornapple',
    lines: [
      [8, 'walnut', '14.00'],
      [4, 'maple', '34.00'],
      [4, 'burl', '52.00'],
      [2, 'burlPair', '22.00'],
    ],
  },
  {
    on: '2025-02-01',
    supplier: 'greyfen',
    lines: [[1, 'stainless070', '25.50']],
  },
  {
    on: '2025-03-08',
    supplier: 'pellwick',
    lines: [
      [2, 'stones', '25.20'],
      [50, 'paper', '1.05'],
    ],
  },
  {
    on: '2025-03-22',
    supplier: 'greyfen',
    lines: [[1, 'b52100', '36.50']],
  },
  {
    on: '2025-03-29',
    supplier: 'ashkettle',
    lines: [[1, 'propane', '24.00']],
  },
  {
    on: '2025-04-19',
    supplier: 'greyfen',
    lines: [
      [2, 'b1084', '22.00'],
      [2, 'nickel', '27.00'],
      [1, 'crv125', '25.00'],
    ],
  },
  {
    on: '2025-05-03',
    supplier: 'ashkettle',
    lines: [[1, 'propane', '24.00']],
  },
  {
    on: '2025-05-10',
    supplier: 'copperpint',
    lines: [
      [1, 'fittings', '125.00'],
      [1, 'epoxy', '28.16'],
    ],
  },
  {
    on: '2025-05-10',
    supplier: 'thornapple',
    lines: [
      [3, 'premium', '65.00'],
      [1, 'premiumPair', '38.00'],
    ],
  },
  {
    on: '2025-06-21',
    supplier: 'greyfen',
    lines: [[1, 'crv187', '41.00']],
  },
  {
    on: '2025-06-28',
    supplier: 'lanternhook',
    lines: [[25, 'packaging', '6.80']],
  },
  {
    on: '2025-07-12',
    supplier: 'pellwick',
    lines: [
      [7, 'B36', '9.80'],
      [6, 'B60', '9.20'],
      [5, 'B120', '7.40'],
      [4, 'B220', '4.60'],
      [2, 'B400', '4.60'],
      [2, 'BS4', '13.50'],
      [1, 'BS12', '13.50'],
      [1, 'BSC', '21.00'],
      [3, 'BW80', '5.10'],
      [3, 'BW220', '4.60'],
    ],
  },
  {
    on: '2025-08-02',
    supplier: 'thornapple',
    lines: [
      [3, 'maple', '34.00'],
      [2, 'burl', '52.00'],
    ],
  },
  {
    on: '2025-08-30',
    supplier: 'greyfen',
    lines: [[1, 'stainless080', '31.50']],
  },
  {
    on: '2025-08-30',
    supplier: 'wickerlee',
    lines: [[1, 'shopLot', '121.00']],
  },
  {
    on: '2025-09-20',
    supplier: 'dunmarrow',
    lines: [
      [1, 'leather', '92.00', '8'],
      [1, 'sheathSundries', '34.00'],
    ],
  },
];
