import { describe, expect, it } from 'vitest';
import { buildCostSheet } from '../../electron/domain/cost-sheet.ts';
import { perHour } from '../../electron/domain/earnings.ts';
import type {
  CostEntry,
  CostSheetInput,
  HourEntry,
  MaterialCosts,
} from '../../electron/domain/cost-sheet.ts';
import { cents, micro } from './figures.ts';

const entry = (amount: string): CostEntry => ({ valueMicro: micro(amount) });
const material = (label: string, amount: string): MaterialCosts => ({ label, entries: [entry(amount)] });
const hour = (minutes: number, rate: string, guessed = false): HourEntry => ({
  minutes,
  guessed,
  rateMicro: micro(rate),
  overheadRateMicro: micro('8.03'),
});

/** Fractions of a belt and its price, as tables of the invented workshop give them. */
const belts = (...rows: [string, string][]): CostEntry[] =>
  rows.map(([share, price]) => ({
    valueMicro: Math.round(Number(share) * 100) * Math.round(Number(price) * 100) * 100,
  }));
const paringBelts = belts(
  ['0.15', '9.80'],
  ['0.20', '9.20'],
  ['0.20', '7.40'],
  ['0.15', '4.60'],
  ['0.12', '13.50'],
  ['0.10', '13.50'],
  ['0.03', '21.00'],
  ['0.15', '5.10'],
  ['0.15', '4.60'],
);
const pettyBelts = belts(
  ['0.25', '9.80'],
  ['0.30', '9.20'],
  ['0.25', '7.40'],
  ['0.20', '4.60'],
  ['0.15', '13.50'],
  ['0.12', '13.50'],
  ['0.05', '21.00'],
  ['0.18', '5.10'],
  ['0.20', '4.60'],
);
const campBelts = belts(
  ['0.70', '9.80'],
  ['0.60', '9.20'],
  ['0.40', '7.40'],
  ['0.35', '4.60'],
  ['0.30', '4.60'],
  ['0.25', '5.10'],
  ['0.25', '4.60'],
);

const paring: CostSheetInput = {
  decimals: 2,
  materials: [
    material('Steel', '4.00'),
    material('Handle', '14.00'),
    material('Pins', '1.20'),
    material('Liner', '0.90'),
    material('Epoxy', '0.88'),
  ],
  consumables: [...paringBelts, entry('3.10')],
  energy: [entry('0.75')],
  packaging: [entry('6.80')],
  stages: [
    { code: 'CUT', name: 'Cut and profile', entries: [hour(60, '35'), hour(100, '35', true)] },
    { code: 'FIN', name: 'Finish', entries: [hour(250, '35')] },
  ],
  sale: {
    priceMinor: cents(150),
    shippingMinor: cents(12),
    postageMinor: cents('12.05'),
    feeMinor: cents('5.00'),
  },
};

describe('the cost sheet of a paring knife', () => {
  const sheet = buildCostSheet(paring);

  it('adds the lines shown to the direct cost', () => {
    expect({
      materials: sheet.materialsMinor,
      consumables: sheet.consumables.amountMinor,
      energy: sheet.energy.amountMinor,
      packaging: sheet.packaging.amountMinor,
      direct: sheet.directMinor,
    }).toEqual({ materials: 2098, consumables: 1364, energy: 75, packaging: 680, direct: 4217 });
  });

  it('counts attended minutes by stage and marks the guessed ones', () => {
    expect([sheet.minutes, sheet.guessedMinutes]).toEqual([410, 100]);
    expect(
      sheet.stages.map(({ code, minutes, guessedMinutes, labourMinor }) => [
        code,
        minutes,
        guessedMinutes,
        labourMinor,
      ]),
    ).toEqual([
      ['CUT', 160, 100, 9333],
      ['FIN', 250, 0, 14_583],
    ]);
  });

  it('shows what the sale leaves', () => {
    // By hand: 160 min are 93.33 and 250 min 145.83, together 239.16; 410 min of overhead are 54.87.
    expect(sheet.earnings).toEqual({
      contributionMinor: 10_278,
      contributionPerHourMinor: 1504,
      earnedPerHourMinor: 701,
      leftAtRateMinor: 10_278 - 23_916 - 5487,
      marginAtRatePpm: -1_180_556,
    });
  });

  it('keeps the three views apart', () => {
    expect(sheet.views).toEqual({ moneyOutMinor: 5922, atOwnRateMinor: 35_325, inventoryValueMinor: 4217 });
  });

  it('keeps beside each line its exact figure', () => {
    expect(sheet.materials.map((line) => line.amountMinor)).toEqual([400, 1400, 120, 90, 88]);
    expect(sheet.consumables).toEqual({
      label: 'Consumables',
      amountMinor: 1364,
      exactMicro: micro('13.635'),
    });
    expect(sheet.labour.exactMicro).toBe(micro('239.16'));
    expect([sheet.overhead.amountMinor, sheet.overhead.exactMicro]).toEqual([5487, 54_871_667]);
  });
});

describe('rounding on the cost sheet', () => {
  it('rounds the consumables once, from their exact sum', () => {
    const petty = buildCostSheet({ ...paring, consumables: [...pettyBelts, entry('4.60')] });
    expect([petty.consumables.exactMicro, petty.consumables.amountMinor]).toEqual([micro('19.113'), 1911]);
    const stones: CostEntry[] = [entry('3.675'), entry('2.52')];
    const camp = buildCostSheet({
      ...paring,
      consumables: [...campBelts, ...stones, entry('7.20')],
    });
    expect(camp.consumables.amountMinor).toBe(3415);
  });

  it('adds materials as shown, each rounded once', () => {
    const camp = ['13.666667', '7.666667', '3.60', '0.75', '0.88', '21.85', '6.20'].map((amount) =>
      material('part', amount),
    );
    expect(buildCostSheet({ ...paring, materials: camp }).materialsMinor).toBe(5462);
  });

  it('rounds each stage once and adds the stages shown', () => {
    const stages = [1, 2, 3].map((at) => ({
      code: `S${String(at)}`,
      name: 'Stage',
      entries: [hour(1, '20')],
    }));
    const sheet = buildCostSheet({ ...paring, stages });
    // A minute at 20.00 is 0.3333…: three lines of 0.33 are 0.99, though three minutes at once would be 1.00.
    expect([sheet.stages.map((stage) => stage.labourMinor), sheet.labour.amountMinor]).toEqual([
      [33, 33, 33],
      99,
    ]);
    const risen = buildCostSheet({
      ...paring,
      stages: [{ code: 'FIN', name: 'Finish', entries: [hour(30, '35'), hour(30, '40')] }],
    });
    expect(risen.labour.amountMinor).toBe(3750);
  });

  it('honours currencies without decimals', () => {
    const sheet = buildCostSheet({ ...paring, decimals: 0 });
    expect([sheet.consumables.amountMinor, sheet.labour.amountMinor]).toEqual([14, 93 + 146]);
  });
});

describe('a knife without hours or price', () => {
  it('leaves the figures out instead of dividing by nothing', () => {
    const { sale: _, ...unsold } = paring;
    const sheet = buildCostSheet({ ...unsold, stages: [], packaging: [] });
    expect(sheet.earnings).toBeNull();
    expect(sheet.views).toEqual({ moneyOutMinor: 3537, atOwnRateMinor: 3537, inventoryValueMinor: 3537 });
    const gift = buildCostSheet({
      ...paring,
      stages: [],
      sale: { priceMinor: 0, shippingMinor: 0, postageMinor: 0, feeMinor: 0 },
    });
    expect(gift.earnings).toEqual({
      contributionMinor: -4217,
      contributionPerHourMinor: null,
      earnedPerHourMinor: null,
      leftAtRateMinor: -4217,
      marginAtRatePpm: null,
    });
    expect(perHour(100, 0)).toBeNull();
  });
});
