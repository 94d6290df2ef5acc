/** Buyers and sales, July 2024 to December 2025. The people and their addresses are invented. */
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
  C13: at('away', 'Rufus Candlemere', '19 Wax Row\nCandlemere'),
  C14: at('away', 'Odile Barrowmint', '6 Herb Walk\nMintlow'),
  C15: at('away', 'Garrick Stonepipple', '52 Pebble Street\nStonepipple', true),
  C16: at('away', 'Wynne Quincebury', '4 Orchard Gate\nQuincebury', true),
  C17: at('home', 'Fabian Duskwillow', '81 Osier Bank\nDuskwillow', true),
  C18: at('away', 'Greta Pottlesham', '11 Kiln Close\nPottlesham'),
  C19: at('away', 'Lionel Brackenby', '30 Fern Hill\nBrackenby'),
  C20: at('away', 'Sunniva Hazelgrip', '7 Nut Lane\nHazelgrip'),
  C21: at('away', 'Ambrose Fiddlemarsh', '63 Reed Street\nFiddlemarsh'),
  C22: at('abroad', 'Katya Ferrowind', '9 Foundry Wharf\nFerrowind', false, 'GB'),
  C23: at('home', 'Jonas Millwhistle', '2 Race Row\nMillwhistle'),
  C24: at('away', 'Beatrix Coldspoon', '45 Ladle Street\nColdspoon'),
  C25: at('away', 'Alaric Vanehollow', '14 Weathercock Lane\nVanehollow', true),
  C26: at('away', 'Minna Copsewright', '28 Coppice Road\nCopsewright'),
  C27: at('away', 'Percival Rookbarrel', '3 Stave Yard\nRookbarrel'),
  C28: at('home', 'Delphine Marrowstone', '90 Quarry Foot\nMarrowstone', true),
  C29: at('away', 'Eamon Tidelatch', '17 Slipway\nTidelatch', true),
  C30: at('away', 'Verity Plumbwick', '8 Line Street\nPlumbwick'),
  C31: at('away', 'Silas Gannetford', '55 Cliff Road\nGannetford'),
  C32: at('away', 'Honor Lindenquay', '12 Lime Quay\nLindenquay'),
  C33: at('away', 'Casper Yarrowgate', '21 Gate Row\nYarrowgate'),
} as const satisfies Readonly<Record<string, DemoBuyer>>;

export type BuyerKey = keyof typeof buyers;

export interface DemoSale {
  readonly on: string;
  readonly serial: string;
  readonly buyer: BuyerKey;
  /** Where it was not the list price of the day. */
  readonly price?: string;
}

/** Six of them were promised ahead with a deposit; here they stand as plain sales with one payment. */
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
  { on: '2025-01-07', serial: 'W14', buyer: 'C13' },
  { on: '2025-01-19', serial: 'W15', buyer: 'C14' },
  { on: '2025-03-14', serial: 'W19', buyer: 'C15' },
  { on: '2025-03-14', serial: 'W20', buyer: 'C04' },
  { on: '2025-03-14', serial: 'W16', buyer: 'C16' },
  { on: '2025-03-15', serial: 'W21', buyer: 'C17' },
  { on: '2025-03-15', serial: 'W17', buyer: 'C08' },
  { on: '2025-03-16', serial: 'W23', buyer: 'C01' },
  { on: '2025-03-16', serial: 'W22', buyer: 'C18' },
  { on: '2025-03-18', serial: 'W18', buyer: 'C19' },
  { on: '2025-03-25', serial: 'W24', buyer: 'C20' },
  { on: '2025-05-20', serial: 'W26', buyer: 'C21' },
  { on: '2025-05-28', serial: 'W27', buyer: 'C22' },
  { on: '2025-06-09', serial: 'W25', buyer: 'C23' },
  { on: '2025-07-08', serial: 'W31', buyer: 'C24', price: '540.00' },
  { on: '2025-07-10', serial: 'W29', buyer: 'C25', price: '1280.00' },
  { on: '2025-08-14', serial: 'W35', buyer: 'C26', price: '420.00' },
  { on: '2025-08-20', serial: 'W34', buyer: 'C27', price: '185.00' },
  { on: '2025-10-17', serial: 'W30', buyer: 'C15', price: '1350.00' },
  { on: '2025-10-17', serial: 'W39', buyer: 'C28' },
  { on: '2025-10-17', serial: 'W33', buyer: 'C16' },
  { on: '2025-10-18', serial: 'W32', buyer: 'C25', price: '780.00' },
  { on: '2025-10-19', serial: 'W36', buyer: 'C29' },
  { on: '2025-10-21', serial: 'W41', buyer: 'C30' },
];

export const channelName = 'Own website';
