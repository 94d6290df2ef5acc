/** Buyers and sales, July to December 2024. The people and their addresses are invented. */
import type { Input } from '../../api/contract.ts';

export type Where = 'home' | 'away' | 'abroad';
export interface DemoBuyer {
  readonly where: Where;
  readonly buyer: Pick<Input<'selling.saveBuyer'>, 'name' | 'address' | 'country' | 'supporter' | 'note'>;
}

const at = (where: Where, name: string, address: string, supporter = false, country = 'US'): DemoBuyer => ({
  where,
  buyer: { name, address, country, supporter },
});

export const buyers = {
  C01: at('away', 'Ottoline Fernshaw', '12 Larder Street\nMeresbank', true),
  C02: at('away', 'Dunstan Quillfeather', '3 Cooper Yard\nNether Brill'),
  C03: at('home', 'Maribel Oxenmoor', '27 Tannery Row\nUpper Gosling'),
  C04: at('away', 'Tavish Pennycask', '88 Harbour Steps\nCasklow', true),
  C05: at('away', 'Lorna Underleaf', '5 Orchard End\nPippinford'),
  C06: at('home', 'Hesper Tallowby', '41 Wick Street\nAlderholt Ferry'),
  C07: at('away', 'Corwin Mossbarrow', '9 Fellside\nTarn Hollow'),
  C08: at('away', 'Isolde Wrenkettle', '16 Copper Lane\nWhistle Green', true),
  C09: at('away', 'Bram Larkspindle', '2 Mill Race\nSpindle Weir'),
  C10: at('home', 'Petra Gorsewick', '70 Heath Road\nGorse End'),
  C11: at('abroad', 'Emeric Salthollow', '114 Quay Road\nSalthollow Bay', false, 'CA'),
  C12: at('away', 'Nell Thistlecombe', '33 Carder Lane\nThistle Mount'),
} as const satisfies Readonly<Record<string, DemoBuyer>>;

export type BuyerKey = keyof typeof buyers;

export interface DemoSale {
  readonly on: string;
  readonly serial: string;
  readonly buyer: BuyerKey;
}

/** Two of them were promised ahead with a deposit; here they stand as plain sales with one payment. */
export const sales: readonly DemoSale[] = [
  { on: '2024-08-06', serial: 'W01', buyer: 'C01' },
  { on: '2024-08-09', serial: 'W02', buyer: 'C02' },
  { on: '2024-08-25', serial: 'W03', buyer: 'C03' },
  { on: '2024-09-24', serial: 'W04', buyer: 'C04' },
  { on: '2024-10-02', serial: 'W05', buyer: 'C05' },
  { on: '2024-10-21', serial: 'W06', buyer: 'C06' },
  { on: '2024-10-29', serial: 'W07', buyer: 'C07' },
  { on: '2024-11-11', serial: 'W08', buyer: 'C08' },
  { on: '2024-11-14', serial: 'W09', buyer: 'C02' },
  { on: '2024-11-29', serial: 'W10', buyer: 'C11' },
  { on: '2024-12-10', serial: 'W11', buyer: 'C09' },
  { on: '2024-12-12', serial: 'W12', buyer: 'C10' },
  { on: '2024-12-30', serial: 'W13', buyer: 'C12' },
];

export const channelName = 'Own website';
