/**
 * Published inventory examples. READ: figures read at the source; MEM-hi: from memory, high confidence, arithmetic
 * checked; CALC: computed from a published rule. One unit is one base unit here; money is in currency units.
 */
import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { microToMinor } from '../../electron/domain/money.ts';
import {
  drawFifo,
  drawLot,
  emptyPool,
  periodicAverage,
  poolDraw,
  poolReceive,
  poolUnitCostMicro,
  withRoundedUnitCost,
} from '../../electron/domain/stock.ts';
import type { LotState, Pool } from '../../electron/domain/stock.ts';
import { micro, value } from '../domain/figures.ts';

type Event =
  | { readonly buy: number; readonly at: string }
  | { readonly sell: number; readonly of?: readonly (readonly [lot: number, qty: number])[] };

/** Cost of each sale and value left, in currency units exact to the millionth. */
interface Result {
  readonly sales: readonly number[];
  readonly left: number;
  readonly leftQty: number;
}

const units = (inMicro: number): number => inMicro / 1_000_000;

const byLots = (events: readonly Event[], specific: boolean): Result => {
  let lots: LotState[] = [];
  const sales: number[] = [];
  for (const event of events) {
    if ('buy' in event) {
      const id = String(lots.length);
      lots = [
        ...lots,
        { id, order: lots.length, qtyLeft: event.buy, valueLeftMicro: event.buy * micro(event.at) },
      ];
      continue;
    }
    let cost = 0;
    const parts = specific ? (event.of ?? []) : [];
    const draws = specific
      ? parts.map(([at, qty]) =>
          drawLot(lots[at] ?? { id: '', order: 0, qtyLeft: 0, valueLeftMicro: 0 }, qty),
        )
      : [drawFifo(lots, event.sell)];
    for (const draw of draws) {
      const drawn = value(draw);
      cost += drawn.valueMicro;
      lots = lots.map((lot) => drawn.lots.find((now) => now.id === lot.id) ?? lot);
    }
    sales.push(units(cost));
  }
  return {
    sales,
    left: units(lots.reduce((so, lot) => so + lot.valueLeftMicro, 0)),
    leftQty: lots.reduce((so, lot) => so + lot.qtyLeft, 0),
  };
};

const fifo = (events: readonly Event[]): Result => byLots(events, false);
const specific = (events: readonly Event[]): Result => byLots(events, true);

interface PoolStep {
  readonly pool: Pool;
  readonly soldMicro: number;
}

/** The pool after every event, and what each sale took. */
const pooled = (events: readonly Event[]): PoolStep[] => {
  const steps: PoolStep[] = [];
  let pool = emptyPool;
  for (const event of events) {
    if ('buy' in event) {
      pool = poolReceive(pool, event.buy, event.buy * micro(event.at));
      steps.push({ pool, soldMicro: 0 });
    } else {
      const drawn = value(poolDraw(pool, event.sell));
      pool = drawn.pool;
      steps.push({ pool, soldMicro: drawn.valueMicro });
    }
  }
  return steps;
};

const periodic = (events: readonly Event[]): { sold: number; left: number } => {
  const bought = events.flatMap((event) => ('buy' in event ? [event] : []));
  const average = periodicAverage({
    availableQty: bought.reduce((so, event) => so + event.buy, 0),
    availableValueMicro: bought.reduce((so, event) => so + event.buy * micro(event.at), 0),
    drawnQty: events.reduce((so, event) => so + ('sell' in event ? event.sell : 0), 0),
  });
  return { sold: units(average.drawnMicro), left: units(average.leftMicro) };
};

const total = (result: Result): number => new Decimal(0).plus(Decimal.sum(...result.sales)).toNumber();

const a1: Event[] = [
  { buy: 10, at: '8.00' },
  { buy: 10, at: '8.50' },
  { sell: 10, of: [[0, 10]] },
  { buy: 20, at: '8.40' },
  {
    sell: 20,
    of: [
      [1, 10],
      [2, 10],
    ],
  },
  { buy: 10, at: '9.00' },
  { sell: 10, of: [[2, 10]] },
  { buy: 20, at: '8.80' },
  { sell: 20, of: [[4, 20]] },
  { buy: 10, at: '9.10' },
];

describe('A1: Hermanson/Edwards, Accounting Principles, inventories chapter', () => {
  it('carries the moving average step by step (READ at tutorsglobe.com; purchase list MEM-hi)', () => {
    const rows = pooled(a1).map(({ pool, soldMicro }) => [
      new Decimal(soldMicro).div(1e6).toFixed(4),
      pool.qty,
      new Decimal(pool.valueMicro).div(1e6).toFixed(4),
      new Decimal(poolUnitCostMicro(pool, 1) ?? 0).div(1e6).toFixed(6),
    ]);
    expect(rows).toEqual([
      ['0.0000', 10, '80.0000', '8.000000'],
      ['0.0000', 20, '165.0000', '8.250000'],
      ['82.5000', 10, '82.5000', '8.250000'],
      ['0.0000', 30, '250.5000', '8.350000'],
      ['167.0000', 10, '83.5000', '8.350000'],
      ['0.0000', 20, '173.5000', '8.675000'],
      ['86.7500', 10, '86.7500', '8.675000'],
      ['0.0000', 30, '262.7500', '8.758333'],
      ['175.1667', 10, '87.5833', '8.758333'],
      ['0.0000', 20, '178.5833', '8.929167'],
    ]);
  });

  it('ends the moving average at 178.58 with 511.42 sold (READ)', () => {
    const steps = pooled(a1);
    const sold = steps.reduce((so, step) => so + step.soldMicro, 0);
    const left = steps.at(-1)?.pool.valueMicro ?? 0;
    expect([microToMinor(left, 2), microToMinor(sold, 2), sold + left]).toEqual([
      17_858,
      51_142,
      micro('690'),
    ]);
  });

  it('costs each sale first in first out: 80, 169, 84, 178; ending 179.00 (MEM-hi)', () => {
    expect(fifo(a1)).toEqual({ sales: [80, 169, 84, 178], left: 179, leftQty: 20 });
  });

  it('splits 690 into 517.50 and 172.50 by the periodic average (MEM-hi)', () => {
    expect(periodic(a1)).toEqual({ sold: 517.5, left: 172.5 });
  });

  it('leaves 181.00 by specific identification, 509.00 sold (MEM-hi)', () => {
    const result = specific(a1);
    expect([total(result), result.left, result.leftQty]).toEqual([509, 181, 20]);
  });
});

const a2: Event[] = [
  { buy: 10, at: '91' },
  { buy: 15, at: '106' },
  {
    sell: 20,
    of: [
      [0, 8],
      [1, 12],
    ],
  },
  { buy: 20, at: '115' },
  { buy: 10, at: '119' },
  {
    sell: 23,
    of: [
      [0, 2],
      [1, 3],
      [2, 15],
      [3, 3],
    ],
  },
];

describe('A2: Wild/Shaw/Chiappetta, mountain-bike illustration', () => {
  it('costs 1,970 and 2,600 first in first out, 1,420 left (READ, coursehero p3asc8l)', () => {
    expect(fifo(a2)).toEqual({ sales: [1970, 2600], left: 1420, leftQty: 12 });
  });

  it('costs 2,000 and 2,622 by the moving average, 1,368 left (MEM-hi)', () => {
    const steps = pooled(a2);
    expect(steps.map((step) => units(step.soldMicro))).toEqual([0, 0, 2000, 0, 0, 2622]);
    expect(steps.map((step) => units(poolUnitCostMicro(step.pool, 1) ?? 0))).toEqual([
      91, 100, 100, 112, 114, 114,
    ]);
    expect(steps.at(-1)?.pool).toEqual({ qty: 12, valueMicro: micro(1368) });
  });

  it('costs 2,000 and 2,582 by specific identification, 1,408 left (MEM-hi)', () => {
    expect(specific(a2)).toEqual({ sales: [2000, 2582], left: 1408, leftQty: 12 });
  });
});

describe('A5: encyclopaedia article “FIFO and LIFO accounting”, Foo Co.', () => {
  it('costs 11,050 first in first out, 5,250 left (READ; layer sizes inferred from the text)', () => {
    const events: Event[] = [
      { buy: 100, at: '50' },
      { buy: 125, at: '55' },
      { buy: 75, at: '59' },
      { sell: 210 },
    ];
    expect(fifo(events)).toEqual({ sales: [11_050], left: 5250, leftQty: 90 });
  });
});

describe('A6: Warren/Reeve style exercise, homeworksource.com p/1123599', () => {
  it('averages 9.50, costs the second sale 2,660 and leaves 2,090 (READ)', () => {
    const steps = pooled([{ buy: 300, at: '8' }, { sell: 175 }, { buy: 375, at: '10' }, { sell: 280 }]);
    expect(steps[1]?.pool).toEqual({ qty: 125, valueMicro: micro(1000) });
    expect(steps[2]?.pool).toEqual({ qty: 500, valueMicro: micro(4750) });
    expect(units(poolUnitCostMicro(steps[2]?.pool ?? emptyPool, 1) ?? 0)).toBe(9.5);
    expect(steps[3]).toEqual({ pool: { qty: 220, valueMicro: micro(2090) }, soldMicro: micro(2660) });
  });
});

describe('A10: a rounding leak, justaaa.com 623161', () => {
  const events: Event[] = [
    { buy: 310, at: '12' },
    { buy: 470, at: '14' },
    { sell: 610 },
    { buy: 390, at: '17' },
  ];
  const steps = pooled(events);
  const before = steps[1]?.pool ?? emptyPool;
  const end = steps[3]?.pool ?? emptyPool;

  it('keeps the exact values: 8,055.1282 sold, 2,244.8718 left, 8,874.8718 at the end (READ)', () => {
    expect(units(poolUnitCostMicro(before, 1) ?? 0)).toBe(13.205128);
    expect(units(steps[2]?.soldMicro ?? 0)).toBeCloseTo(8055.1282, 4);
    expect(units(steps[2]?.pool.valueMicro ?? 0)).toBeCloseTo(2244.8718, 4);
    expect(units(end.valueMicro)).toBeCloseTo(8874.8718, 4);
    expect(units(poolUnitCostMicro(end, 1) ?? 0)).toBe(15.847985);
    expect((steps[2]?.soldMicro ?? 0) + end.valueMicro).toBe(micro(10_300 + 6630));
  });

  it('explains the printed 8,052 and 8,876 by unit costs rounded to 13.20 and 15.85 (READ)', () => {
    expect(withRoundedUnitCost(before, 610, micro('13.20'), 1)).toEqual({
      drawnMicro: micro(8052),
      leftMicro: micro(2244),
      leakMicro: micro(-4),
    });
    const printed = poolReceive({ qty: 170, valueMicro: micro(2244) }, 390, micro(6630));
    expect(printed).toEqual({ qty: 560, valueMicro: micro(8874) });
    expect(withRoundedUnitCost(printed, 0, micro('15.85'), 1)).toEqual({
      drawnMicro: 0,
      leftMicro: micro(8876),
      leakMicro: micro(2),
    });
  });
});

describe('A12: a rounding leak, instantcertcredit.com lesson 318', () => {
  const steps = pooled([
    { buy: 500, at: '2.40' },
    { sell: 300 },
    { buy: 100, at: '3.50' },
    { sell: 250 },
    { buy: 300, at: '4.00' },
  ]);
  const before = steps[2]?.pool ?? emptyPool;

  it('keeps the exact values: 720.00, 691.6667, 138.3333 and 1,338.3333 (READ)', () => {
    expect(units(steps[1]?.soldMicro ?? 0)).toBe(720);
    expect(before).toEqual({ qty: 300, valueMicro: micro(830) });
    expect(units(poolUnitCostMicro(before, 1) ?? 0)).toBe(2.766667);
    expect([steps[3]?.soldMicro, steps[3]?.pool.valueMicro]).toEqual([691_666_667, 138_333_333]);
    expect(steps[4]?.pool).toEqual({ qty: 350, valueMicro: 1_338_333_333 });
  });

  it('explains the printed 692.50 and 138.50, which make 1.00 out of nothing (READ)', () => {
    expect(withRoundedUnitCost(before, 250, micro('2.77'), 1)).toEqual({
      drawnMicro: micro('692.50'),
      leftMicro: micro('138.50'),
      leakMicro: micro('1.00'),
    });
  });
});

describe('A13: rules', () => {
  const examples: [string, Event[]][] = [
    ['A1', a1],
    ['A2', a2],
    [
      'A4',
      [
        { buy: 150, at: '21' },
        { sell: 120, of: [[0, 120]] },
        { buy: 225, at: '27' },
        {
          sell: 180,
          of: [
            [0, 20],
            [1, 160],
          ],
        },
        { buy: 210, at: '33' },
      ],
    ],
  ];

  it.each(examples)(
    'A13a: cost of sales and ending make up what was available, after every event of %s (CALC)',
    (_, events) => {
      for (let count = 1; count <= events.length; count += 1) {
        const prefix = events.slice(0, count);
        const available = prefix.reduce(
          (so, event) => so + ('buy' in event ? event.buy * Number(event.at) : 0),
          0,
        );
        for (const result of [fifo(prefix), specific(prefix)]) {
          expect(result.sales.reduce((so, sale) => so + sale, result.left)).toBeCloseTo(available, 6);
        }
        const steps = pooled(prefix);
        const sold = steps.reduce((so, step) => so + step.soldMicro, 0);
        expect(sold + (steps.at(-1)?.pool.valueMicro ?? 0)).toBe(micro(available));
        const average = periodic(prefix);
        expect(micro(average.sold) + micro(average.left)).toBe(micro(available));
      }
    },
  );

  it.each(examples)(
    'A13b: first in first out is the same at the end of the period as sale by sale, for %s (MEM-hi)',
    (_, events) => {
      const buys = events.filter((event) => 'buy' in event);
      const sold = events.reduce((so, event) => so + ('sell' in event ? event.sell : 0), 0);
      const atTheEnd = fifo([...buys, { sell: sold }]);
      const saleBySale = fifo(events);
      expect([total(saleBySale), saleBySale.left]).toEqual([total(atTheEnd), atTheEnd.left]);
    },
  );

  it('A4: OpenStax GPS trackers come to 7,200, 7,252.94 and 8,284.62 (MEM-hi inputs, totals CALC)', () => {
    const events = examples[2]?.[1] ?? [];
    const sold = pooled(events).reduce((so, step) => so + step.soldMicro, 0);
    expect([total(fifo(events)), fifo(events).left]).toEqual([7200, 8955]);
    expect([microToMinor(sold, 2), microToMinor(micro(16_155) - sold, 2)]).toEqual([725_294, 890_206]);
    expect(microToMinor(micro(periodic(events).sold), 2)).toBe(828_462);
    expect(total(specific(events))).toBe(7260);
  });

  it('A13f: ten at 5 and ten at 15 less fifteen is 125 out and 75 left (READ, public repository note)', () => {
    expect(fifo([{ buy: 10, at: '5' }, { buy: 10, at: '15' }, { sell: 15 }])).toEqual({
      sales: [125],
      left: 75,
      leftQty: 5,
    });
  });
});
