/** What the invented workshop spent beside its purchases: the overhead of two years, as the receipts came. */

/** Categories every workshop's books begin with. */
export const category = {
  insurance: 'cat-insurance',
  website: 'cat-website',
  power: 'cat-power',
  preparer: 'cat-preparer',
  tools: 'cat-tools',
  safety: 'cat-safety',
  freight: 'cat-freight',
  photo: 'cat-photo',
} as const;
export type CategoryKey = keyof typeof category;

export interface DemoRepeat {
  readonly category: CategoryKey;
  readonly payee: string;
  readonly everyMonths: number;
  readonly from: string;
  /** What was paid each time, from a day on. */
  readonly amounts: readonly { readonly from: string; readonly amount: string }[];
  readonly note: string;
}

/** What comes again: 210 and 432 of insurance, 126 and 270 for the website, 96 and 204 of power. */
export const repeats: readonly DemoRepeat[] = [
  {
    category: 'insurance',
    payee: 'Brindlewick Mutual',
    everyMonths: 6,
    from: '2024-07-15',
    amounts: [
      { from: '2024-07-15', amount: '210.00' },
      { from: '2025-01-01', amount: '216.00' },
    ],
    note: 'Liability and contents of the shop',
  },
  {
    category: 'website',
    payee: 'Larkpost Hosting',
    everyMonths: 1,
    from: '2024-07-03',
    amounts: [
      { from: '2024-07-03', amount: '21.00' },
      { from: '2025-01-01', amount: '22.50' },
    ],
    note: 'Shop page and mailbox',
  },
  {
    category: 'power',
    payee: 'Thistlemere Power',
    everyMonths: 3,
    from: '2024-09-30',
    amounts: [
      { from: '2024-09-30', amount: '48.00' },
      { from: '2025-01-01', amount: '51.00' },
    ],
    note: 'Light, heating and standby; what ovens and grinder draw goes to the knives',
  },
];

export interface DemoExpense {
  readonly on: string;
  readonly category: CategoryKey;
  readonly payee: string;
  readonly amount: string;
  readonly note: string;
  /** The receipt got lost. */
  readonly lost?: true;
}

const spent = (on: string, key: CategoryKey, payee: string, amount: string, note: string): DemoExpense => ({
  on,
  category: key,
  payee,
  amount,
  note,
});

/** Freight of each delivery, kept apart from the price of what it brought: 110 and 165. */
const freight: readonly DemoExpense[] = (
  [
    ['2024-07-02', 'Greyfen', '18.00'],
    ['2024-07-03', 'Pellwick', '14.00'],
    ['2024-07-05', 'Copperpint', '9.00'],
    ['2024-07-10', 'Thornapple', '12.00'],
    ['2024-07-10', 'Wickerlee', '16.00'],
    ['2024-07-20', 'Lanternhook', '8.00'],
    ['2024-08-17', 'Dunmarrow', '11.00'],
    ['2024-09-07', 'Greyfen', '10.00'],
    ['2024-11-16', 'Nook Twelve', '4.00'],
    ['2024-12-28', 'Greyfen', '8.00'],
    ['2025-01-04', 'Pellwick', '14.00'],
    ['2025-01-11', 'Thornapple', '12.00'],
    ['2025-02-01', 'Greyfen', '9.00'],
    ['2025-03-08', 'Pellwick', '8.00'],
    ['2025-03-22', 'Greyfen', '9.00'],
    ['2025-04-19', 'Greyfen', '14.00'],
    ['2025-05-10', 'Copperpint', '8.00'],
    ['2025-05-10', 'Thornapple', '11.00'],
    ['2025-06-21', 'Greyfen', '9.00'],
    ['2025-06-28', 'Lanternhook', '9.00'],
    ['2025-07-12', 'Pellwick', '14.00'],
    ['2025-08-02', 'Thornapple', '10.00'],
    ['2025-08-30', 'Greyfen', '9.00'],
    ['2025-08-30', 'Wickerlee', '16.00'],
    ['2025-09-20', 'Dunmarrow', '13.00'],
  ] as const
).map(([on, payee, amount]) => spent(on, 'freight', payee, amount, 'Freight of the delivery'));

export const expenses: readonly DemoExpense[] = [
  ...freight,
  spent('2024-07-03', 'website', 'Larkpost Hosting', '12.00', 'Domain, one year'),
  spent('2024-07-13', 'tools', 'Hobnail & Rasp', '38.50', 'Two files and a rasp'),
  spent('2024-08-03', 'safety', 'Wickerlee', '34.00', 'Respirator cartridges, two pairs'),
  spent('2024-08-15', 'photo', 'Muslin Row', '21.50', 'Backdrop cloth'),
  spent('2024-09-12', 'tools', 'Tumbrel Machine Parts', '64.00', 'Drive belt and bearings, drill press'),
  spent('2024-10-12', 'safety', 'Thistlemere Hardware', '26.00', 'Carbon monoxide alarm'),
  { ...spent('2024-10-22', 'tools', 'Thistlemere Hardware', '27.50', 'Clamps'), lost: true },
  spent('2024-11-21', 'photo', 'Muslin Row', '13.50', 'Two boards to lay knives on'),
  spent('2024-11-27', 'tools', 'Tumbrel Machine Parts', '55.00', 'Platen and wheel for the grinder'),
  spent('2025-01-23', 'tools', 'Tumbrel Machine Parts', '72.00', 'Contact wheel made true again'),
  spent('2025-01-30', 'safety', 'Wickerlee', '34.00', 'Respirator cartridges, two pairs'),
  spent('2025-02-19', 'tools', 'Hobnail & Rasp', '46.00', 'Brass hammer and drifts'),
  spent('2025-02-26', 'photo', 'Muslin Row', '24.00', 'Diffuser for the lamp'),
  spent('2025-03-20', 'preparer', 'Pennyquick & Daughter', '340.00', 'Return for 2024'),
  spent('2025-04-24', 'safety', 'Emberley Fire Service', '48.00', 'Extinguishers looked over'),
  spent('2025-05-13', 'tools', 'Tumbrel Machine Parts', '84.00', 'New probe and lead for the pyrometer'),
  { ...spent('2025-06-30', 'tools', 'Thistlemere Hardware', '39.50', 'Drills and taps'), lost: true },
  spent('2025-07-03', 'website', 'Larkpost Hosting', '12.00', 'Domain, one year'),
  spent('2025-08-22', 'tools', 'Tumbrel Machine Parts', '95.00', 'Motor of the band saw rewound'),
  spent('2025-09-11', 'safety', 'Wickerlee', '36.00', 'Respirator cartridges, two pairs'),
  { ...spent('2025-09-25', 'photo', 'Muslin Row', '36.00', 'Props for the autumn pictures'), lost: true },
  spent('2025-10-28', 'tools', 'Hobnail & Rasp', '73.50', 'Hand vice and stones for it'),
];

/** The shop's own rate for fuel and wear: 80 and 180 miles, 40 and 90 in money. */
export const mileRate = {
  from: '2024-07-01',
  perMile: '0.50',
  note: 'Own rate for fuel and wear; the preparer knows the official one',
} as const;

export const trips: readonly { readonly on: string; readonly miles: number; readonly purpose: string }[] = [
  { on: '2024-07-09', miles: 22, purpose: 'Thornapple, to choose burl' },
  { on: '2024-08-10', miles: 10, purpose: 'Ashkettle, gas cylinder filled' },
  { on: '2024-09-24', miles: 14, purpose: 'Post office, parcels' },
  { on: '2024-11-12', miles: 18, purpose: 'Post office and hardware' },
  { on: '2024-12-11', miles: 16, purpose: 'Post office, parcels' },
  { on: '2025-01-10', miles: 22, purpose: 'Thornapple, to choose burl' },
  { on: '2025-03-15', miles: 18, purpose: 'Post office, parcels of the release' },
  { on: '2025-03-20', miles: 26, purpose: 'Tax preparer' },
  { on: '2025-03-29', miles: 10, purpose: 'Ashkettle, gas cylinder filled' },
  { on: '2025-05-03', miles: 10, purpose: 'Ashkettle, gas cylinder filled' },
  { on: '2025-05-21', miles: 14, purpose: 'Post office, parcels' },
  { on: '2025-08-01', miles: 22, purpose: 'Thornapple, to choose burl' },
  { on: '2025-08-22', miles: 24, purpose: 'Motor of the band saw to be rewound' },
  { on: '2025-10-18', miles: 18, purpose: 'Post office, parcels of the release' },
  { on: '2025-11-18', miles: 16, purpose: 'Post office and hardware' },
];

/** Straight line: 380 + 140 in the first half-year, 760 + 420 in 2025. */
export const assets = [
  {
    boughtOn: '2024-07-01',
    name: 'Heat-treat oven, 240 V, 22 in deep',
    supplier: 'Kettlebrook Furnaces',
    cost: '3800.00',
    lifeMonths: 60,
    note: '',
  },
  {
    boughtOn: '2024-09-02',
    name: 'Small power hammer',
    supplier: 'Second-hand from a smithy that closed',
    cost: '4200.00',
    lifeMonths: 120,
    note: 'Dies dressed and guard renewed before use',
  },
] as const;
