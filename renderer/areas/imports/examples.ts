/** A small file of each kind, to be filled in. The workshop in them is invented. */
import type { ImportKind } from '../../../electron/api/imports.ts';
import { csvText } from '../../lib/csv.ts';
import type { Cell } from '../../lib/csv.ts';

const rows: Readonly<Record<ImportKind, readonly (readonly Cell[])[]>> = {
  purchases: [
    ['Date', 'Supplier', 'Item', 'Pieces', 'Quantity', 'Price', 'Freight', 'Heat number', 'Reference'],
    [
      '2024-07-01',
      'Greyfen Bar & Strip',
      '1084 bar 1/8 x 1 1/2',
      '2',
      '48 in',
      '48.00',
      '9.50',
      'H-2071',
      'GB-118',
    ],
    ['2024-07-01', 'Greyfen Bar & Strip', '52100 bar 3/16 x 2', '1', '4 ft', '41.00', '', 'H-1880', 'GB-118'],
    ['2024-07-03', 'Thornapple Burl Yard', 'Walnut scales', '3', '1 pair', '54.00', '6.00', '', ''],
    [
      '2024-07-05',
      'Pellwick Grit House',
      'Belt 2 x 72, grit 120',
      '1',
      '10 belts',
      '62.00',
      '7.20',
      '',
      'PG-9',
    ],
  ],
  hours: [
    ['Date', 'Time', 'Work', 'Knives', 'Note'],
    ['2024-07-06', '1 h 30 min', 'Cut and profile', 'W01-W03', 'three blanks from one bar'],
    ['2024-07-07', '45 min', 'GR1', 'W01', ''],
    ['2024-07-08', '2:15', 'Hand finish', 'W01, W02', 'written down in the evening'],
    ['2024-07-08', '30 min', 'cleaning', '', ''],
  ],
  sales: [
    [
      'Date',
      'Knife',
      'Buyer',
      'Price',
      'Shipping charged',
      'Postage paid',
      'Tax',
      'Fee',
      'Sold through',
      'Goes abroad',
      'Paid by',
      'Issue invoice',
    ],
    ['2024-08-02', 'W01', 'M. Tarn', '285.00', '12.00', '9.85', '', '', 'Own website', 'no', 'Card', 'yes'],
    [
      '2024-08-09',
      'W02',
      'L. Ashby',
      '310.00',
      '0.00',
      '0.00',
      '20.15',
      '0.00',
      'Cash or transfer',
      '',
      'Cash',
      'yes',
    ],
  ],
  buyers: [
    ['Name', 'Email', 'Telephone', 'Street', 'Town', 'Region', 'Postcode', 'Country', 'Language', 'Note'],
    [
      'M. Tarn',
      'm.tarn@fellbeck.example',
      '',
      '3 Weir Lane',
      'Fellbeck',
      '',
      '00120',
      'US',
      'en',
      'asks for carbon steel',
    ],
    ['L. Ashby', 'ashby@moorgasse.example', '', 'Moorgasse 4', 'Torffeld', '', '00000', 'Germany', 'de', ''],
  ],
  expenses: [
    ['Date', 'Paid to', 'Category', 'Amount', 'Receipt kept', 'Note'],
    ['2024-07-15', 'Brindlewick Mutual', 'Insurance', '210.00', 'yes', 'half a year'],
    ['2024-08-03', 'Wickerlee', 'Safety', '34.00', 'yes', 'respirator cartridges'],
    ['2024-08-10', '', 'Freight-in', '9.50', '', ''],
  ],
};

/** The example as a table: headings first. */
export const exampleRows = (kind: ImportKind): readonly (readonly Cell[])[] => rows[kind];

/** The example as CSV text. */
export const exampleText = (kind: ImportKind): string => csvText(rows[kind]);
