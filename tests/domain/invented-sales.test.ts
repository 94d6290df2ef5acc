/** Sales of the invented workshop, 2024: tax, fee, contribution and earnings per build hour follow from price, postage, costs and minutes. */
import { describe, expect, it } from 'vitest';
import { buildCostSheet } from '../../electron/domain/cost-sheet.ts';
import { feeOn } from '../../electron/domain/fees.ts';
import { computeTax } from '../../electron/domain/tax.ts';
import { cents, micro } from './figures.ts';

const card = { percentPpm: 29_000, fixedMinor: 30, abroadExtraPpm: 15_000 };
const home = {
  ratePpm: 65_000,
  onPrice: true,
  onShipping: true,
  rounding: 'invoice',
  inclusive: false,
} as const;

/** serial price shipping postage place materials consumables energy minutes | tax fee direct contribution per-hour */
const TABLE = `
W01 150 12 12.05 away 20.98 13.635 0.75 410 | 0.00 5.00 42.17 102.78 15.04
W02 150 12 12.05 away 20.98 13.635 0.75 395 | 0.00 5.00 42.17 102.78 15.61
W03 150 12 12.05 home 20.98 13.635 0.75 380 | 10.53 5.30 42.17 102.48 16.18
W04 540 18 23.59 away 65.55 32.73 3.95 1240 | 0.00 16.48 109.03 408.90 19.79
W05 540 18 23.59 away 65.55 32.73 3.95 1185 | 0.00 16.48 109.03 408.90 20.70
W06 325 18 21.23 home 38.68 22.11 0.80 665 | 22.30 10.89 68.39 242.49 21.88
W07 325 18 21.23 away 38.68 22.11 0.80 640 | 0.00 10.25 68.39 243.13 22.79
W08 265 12 13.32 away 49.38 19.113 0.85 595 | 0.00 8.33 76.14 179.21 18.07
W09 265 12 13.32 away 49.38 19.113 0.85 585 | 0.00 8.33 76.14 179.21 18.38
W10 265 48 46.20 abroad 49.38 19.113 0.85 555 | 0.00 14.07 76.14 176.59 19.09
W13 150 12 12.05 away 20.98 13.635 0.75 365 | 0.00 5.00 42.17 102.78 16.90
`;

interface Sold {
  readonly serial: string;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly place: string;
  readonly materials: string;
  readonly consumables: string;
  readonly energy: string;
  readonly minutes: number;
  /** Tax, fee, direct cost, contribution, contribution per hour. */
  readonly wanted: readonly number[];
}

const toSold = (row: string): Sold => {
  const [given = '', answers = ''] = row.split(' | ');
  const [serial = '', price = '', shipping = '', postage = '', place = '', ...costs] = given.split(' ');
  const [materials = '', consumables = '', energy = '', minutes = ''] = costs;
  return {
    serial,
    priceMinor: cents(price),
    shippingMinor: cents(shipping),
    postageMinor: cents(postage),
    place,
    materials,
    consumables,
    energy,
    minutes: Number(minutes),
    wanted: answers.split(' ').map(cents),
  };
};

const entries = (amount: string) => [{ valueMicro: micro(amount) }];

const taxOf = ({ place, priceMinor, shippingMinor }: Sold): number =>
  place === 'home'
    ? computeTax(home, [
        { kind: 'price', amountMinor: priceMinor },
        { kind: 'shipping', amountMinor: shippingMinor },
      ]).taxMinor
    : 0;

describe('sales of the invented workshop', () => {
  it.each(TABLE.trim().split('\n').map(toSold))('$serial brings what the table says', (sold) => {
    const { priceMinor, shippingMinor, minutes } = sold;
    const taxMinor = taxOf(sold);
    const feeMinor = feeOn(card, { priceMinor, shippingMinor, taxMinor, abroad: sold.place === 'abroad' });
    const rates = { rateMicro: micro(35), overheadRateMicro: micro('8.03') };
    const hours = { minutes, guessed: false, ...rates };
    const sheet = buildCostSheet({
      decimals: 2,
      materials: [{ label: 'All materials', entries: entries(sold.materials) }],
      consumables: entries(sold.consumables),
      energy: entries(sold.energy),
      packaging: entries('6.80'),
      stages: [{ code: 'ALL', name: 'All', entries: [hours] }],
      sale: { priceMinor, shippingMinor, postageMinor: sold.postageMinor, feeMinor },
    });
    const { contributionMinor, contributionPerHourMinor } = sheet.earnings ?? {};
    expect([taxMinor, feeMinor, sheet.directMinor, contributionMinor, contributionPerHourMinor]).toEqual(
      sold.wanted,
    );
  });
});
