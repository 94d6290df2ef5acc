/** The invented workshop itself. Nobody and nothing here exists. */
import type { Input } from '../../api/contract.ts';
import { micro } from '../amounts.ts';

/** The last day that is replayed at most. */
export const lastDay = '2025-12-31';
/** The price list of the second summer. */
export const newPricesFrom = '2025-06-01';

export const workshop: Input<'workshop.setUp'> = {
  name: 'Sedgewarren Edge Shop',
  maker: 'Jorun Sedgewarren',
  address: '4 Withy Lane\nAlderholt Ferry',
  country: 'US',
  email: 'bench@sedgewarren.example',
  phone: '',
  website: 'sedgewarren.example',
  taxNumber: '',
  currency: 'USD',
  lengthHabit: 'inch',
  weightHabit: 'oz',
  paper: 'Letter',
  invoicePattern: '{YYYY}-{NNNN}',
  invoiceTermsDays: 14,
  invoiceNote:
    'Wash by hand and dry at once. Oil a carbon blade now and then. The first sharpening is free within a year.',
  taxPlace: {
    name: 'Home state',
    label: 'Sales tax',
    ratePpm: 65_000,
    onShipping: true,
    inclusive: false,
    rounding: 'invoice',
    note: '',
  },
  labourPerHourMicro: micro('35.00'),
  labourFrom: '2024-07-01',
  overheadPerHourMicro: micro('8.03'),
};

const untaxed = {
  label: 'Sales tax',
  ratePpm: 0,
  onShipping: false,
  inclusive: false,
  rounding: 'invoice',
} as const;

export const otherPlaces: Readonly<Record<'away' | 'abroad', Input<'workshop.saveTaxPlace'>>> = {
  away: { name: 'Other states', note: 'Sent out of state, no sales tax collected.', ...untaxed },
  abroad: { name: 'Abroad', note: 'Export, no sales tax charged.', ...untaxed },
};

export const suppliers = {
  greyfen: { name: 'Greyfen Bar & Strip', leadDays: 6, note: 'Steel.' },
  pellwick: { name: 'Pellwick Grit House', leadDays: 4, note: 'Abrasives.' },
  thornapple: { name: 'Thornapple Burl Yard', leadDays: 9, note: 'Wood.' },
  nook: { name: 'Nook Twelve Laminates', leadDays: 7, note: 'Sheet.' },
  copperpint: { name: 'Copperpint Sundries', leadDays: 5, note: 'Pins, spacers, guard bar, epoxy.' },
  dunmarrow: { name: 'Dunmarrow Hides', leadDays: 12, note: 'Leather.' },
  ashkettle: { name: 'Ashkettle Gas', leadDays: 0, note: 'Propane, filled while you wait.' },
  wickerlee: { name: 'Wickerlee Quench & Etch', leadDays: 8, note: 'Oil, etchant, gloves.' },
  lanternhook: { name: 'Lanternhook Cartons', leadDays: 5, note: 'Packaging.' },
} as const satisfies Readonly<Record<string, Input<'stock.saveSupplier'>>>;

export type SupplierKey = keyof typeof suppliers;
