import { describe, expect, it } from 'vitest';
import { buildCostSheet } from '../../electron/domain/cost-sheet.ts';
import { perHour } from '../../electron/domain/earnings.ts';
import type { CostEntry, CostSheetInput, HourEntry, MaterialLine } from '../../electron/domain/cost-sheet.ts';
import { cents, micro } from './figures.ts';

const entry = (label: string, amount: string): CostEntry => ({ label, valueMicro: micro(amount) });
const material = (label: string, amount: string): MaterialLine => ({
  label,
  entries: [entry(label, amount)],
});
const hour = (minutes: number, rate: string, guessed = false): HourEntry => ({
  label: '2024-07-06',
  minutes,
  guessed,
  rateMicro: micro(rate),
});

/** Fractions of a belt and its price, as tables of the invented workshop give them. */
const belts = (...rows: [string, string][]): CostEntry[] =>
  rows.map(([share, price]) => ({
    label: `belt at ${price}`,
    qtyText: `${share} belt`,
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
  consumables: [...paringBelts, entry('Oil, gloves, solvent', '3.10')],
  energy: [entry('Gas and kiln current', '0.75')],
  packaging: [entry('Box', '6.80')],
  stages: [
    { stage: 'CUT', name: 'Cut and profile', entries: [hour(60, '35'), hour(100, '35', true)] },
    { stage: 'FIN', name: 'Finish', entries: [hour(250, '35')] },
  ],
  overheadRateMicro: micro('8.03'),
  sale: {
    priceMinor: cents(150),
    shippingChargedMinor: cents(12),
    postagePaidMinor: cents('12.05'),
    feeMinor: cents('5.00'),
    taxMinor: 0,
  },
};

describe('the cost sheet of a paring knife', () => {
  const sheet = buildCostSheet(paring);

  it('adds the lines shown to the direct cost', () => {
    expect({
      materials: sheet.materialsMinor,
      consumables: sheet.consumablesMinor,
      energy: sheet.energyMinor,
      packaging: sheet.packagingMinor,
      direct: sheet.directMinor,
    }).toEqual({ materials: 2098, consumables: 1364, energy: 75, packaging: 680, direct: 4217 });
  });

  it('counts attended minutes by stage and marks the guessed ones', () => {
    expect([sheet.minutes, sheet.guessedMinutes]).toEqual([410, 100]);
    expect(
      sheet.stages.map(({ stage, minutes, guessedMinutes, valueMicro }) => [
        stage,
        minutes,
        guessedMinutes,
        valueMicro,
      ]),
    ).toEqual([
      ['CUT', 160, 100, 93_333_333],
      ['FIN', 250, 0, 145_833_333],
    ]);
  });

  it('shows what the sale leaves', () => {
    expect(sheet.earnings).toEqual({
      contributionMinor: 10_278,
      perHourMinor: 1504,
      fullCostMinor: 4217 + 23_917 + 5487 + 1205 + 500,
      leftMinor: 16_200 - 35_326,
      marginPpm: -1_180_617,
      earnedPerHourMinor: 701,
    });
  });

  it('keeps the three views apart', () => {
    expect(sheet.views).toEqual({ moneyOutMinor: 5922, atOwnRateMinor: 35_326, inventoryValueMinor: 4217 });
  });

  it('lists its lines in printing order with their exact figures and working', () => {
    expect(sheet.lines.map((line) => [line.kind, line.amountMinor])).toEqual([
      ['material', 400],
      ['material', 1400],
      ['material', 120],
      ['material', 90],
      ['material', 88],
      ['consumables', 1364],
      ['energy', 75],
      ['packaging', 680],
      ['labour', 23_917],
      ['overhead', 5487],
      ['price', 15_000],
      ['shipping', 1200],
      ['postage', 1205],
      ['fee', 500],
      ['tax', 0],
    ]);
    const consumables = sheet.lines.find((line) => line.kind === 'consumables');
    expect(consumables?.exactMicro).toBe(micro('13.635'));
    expect(consumables?.working).toHaveLength(10);
    expect(sheet.lines.find((line) => line.kind === 'labour')?.working).toEqual([
      { label: 'Cut and profile', qtyText: '2 h 40 min', valueMicro: 93_333_333 },
      { label: 'Finish', qtyText: '4 h 10 min', valueMicro: 145_833_333 },
    ]);
  });
});

describe('rounding on the cost sheet', () => {
  it('rounds the consumables once, from their exact sum', () => {
    const petty = buildCostSheet({ ...paring, consumables: [...pettyBelts, entry('Other', '4.60')] });
    expect([
      petty.lines.find((line) => line.kind === 'consumables')?.exactMicro,
      petty.consumablesMinor,
    ]).toEqual([micro('19.113'), 1911]);
    const stones: CostEntry[] = [entry('3.5 sheets paper', '3.675'), entry('0.10 set of stones', '2.52')];
    const camp = buildCostSheet({
      ...paring,
      consumables: [...campBelts, ...stones, entry('Other', '7.20')],
    });
    expect(camp.consumablesMinor).toBe(3415);
  });

  it('adds materials as shown, each rounded once', () => {
    const camp = ['13.666667', '7.666667', '3.60', '0.75', '0.88', '21.85', '6.20'].map((amount) =>
      material('part', amount),
    );
    expect(buildCostSheet({ ...paring, materials: camp }).materialsMinor).toBe(5462);
  });

  it('rounds labour once even when stages and rates differ', () => {
    const stages = [1, 2, 3].map((at) => ({
      stage: `S${String(at)}`,
      name: 'Stage',
      entries: [hour(1, '20')],
    }));
    const sheet = buildCostSheet({ ...paring, stages });
    expect([sheet.labourMinor, sheet.stages.map((stage) => stage.valueMicro)]).toEqual([
      100,
      [333_333, 333_333, 333_333],
    ]);
    const risen = buildCostSheet({
      ...paring,
      stages: [{ stage: 'FIN', name: 'Finish', entries: [hour(30, '35'), hour(30, '40')] }],
    });
    expect(risen.labourMinor).toBe(3750);
  });

  it('honours currencies without decimals', () => {
    const sheet = buildCostSheet({ ...paring, decimals: 0 });
    expect([sheet.consumablesMinor, sheet.labourMinor]).toEqual([14, 239]);
  });
});

describe('a knife without hours or price', () => {
  it('leaves the figures out instead of dividing by nothing', () => {
    const { sale: _, ...unsold } = paring;
    const sheet = buildCostSheet({ ...unsold, stages: [], packaging: [] });
    expect(sheet.earnings).toBeNull();
    expect(sheet.views).toEqual({ moneyOutMinor: 3537, atOwnRateMinor: 3537, inventoryValueMinor: 3537 });
    expect(sheet.lines.filter((line) => line.kind === 'price')).toEqual([]);
    const gift = buildCostSheet({
      ...paring,
      stages: [],
      sale: { priceMinor: 0, shippingChargedMinor: 0, postagePaidMinor: 0, feeMinor: 0, taxMinor: 0 },
    });
    expect(gift.earnings).toEqual({
      contributionMinor: -4217,
      perHourMinor: null,
      fullCostMinor: 4217,
      leftMinor: -4217,
      marginPpm: null,
      earnedPerHourMinor: null,
    });
    expect(perHour(100, 0)).toBeNull();
  });
});
