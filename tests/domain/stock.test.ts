import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planCut } from '../../electron/domain/cutting.ts';
import {
  drawFifo,
  drawLot,
  drawLotParts,
  emptyPool,
  periodicAverage,
  poolDraw,
  poolReceive,
  poolUnitCostMicro,
  shareOfValue,
  spreadFreight,
} from '../../electron/domain/stock.ts';
import type { LotState } from '../../electron/domain/stock.ts';
import { micro, sentence, value } from './figures.ts';

const lot = (id: string, order: number, qtyLeft: number, amount: string): LotState => ({
  id,
  order,
  qtyLeft,
  valueLeftMicro: micro(amount),
});
const pieces = (qty: number): string => `${String(qty)} pieces`;

describe('drawing from lots', () => {
  it('takes the earliest lot first and its share of the value left', () => {
    const drawn = value(drawFifo([lot('b', 2, 10, '15'), lot('a', 1, 10, '5')], 15));
    expect(drawn).toEqual({
      draws: [
        { lotId: 'a', qty: 10, valueMicro: micro('5') },
        { lotId: 'b', qty: 5, valueMicro: micro('7.5') },
      ],
      valueMicro: micro('12.5'),
      lots: [
        { id: 'a', order: 1, qtyLeft: 0, valueLeftMicro: 0 },
        { id: 'b', order: 2, qtyLeft: 5, valueLeftMicro: micro('7.5') },
      ],
    });
  });

  it('gives the last draw whatever value remains', () => {
    const parts = value(drawLotParts(lot('a', 1, 3, '0.000010'), [1, 1, 1]));
    expect(parts.draws.map((draw) => draw.valueMicro)).toEqual([3, 4, 3]);
    expect(parts.lot).toEqual({ id: 'a', order: 1, qtyLeft: 0, valueLeftMicro: 0 });
  });

  it('passes over empty lots and settles equal moments by id', () => {
    const lots = [lot('c', 1, 5, '5'), lot('b', 1, 5, '10'), lot('a', 0, 0, '0')];
    expect(value(drawFifo(lots, 6)).draws).toEqual([
      { lotId: 'b', qty: 5, valueMicro: micro('10') },
      { lotId: 'c', qty: 1, valueMicro: micro('1') },
    ]);
  });

  it('refuses more than is left and says how much there is', () => {
    expect(sentence(drawFifo([lot('a', 1, 3, '3'), lot('b', 2, 4, '4')], 8, pieces))).toBe(
      'Only 7 pieces left, too little to take 8 pieces. Take less, enter a purchase or choose another lot.',
    );
    expect(sentence(drawLot(lot('a', 1, 3, '3'), 4, pieces))).toContain('Only 3 pieces left');
    expect(sentence(drawFifo([], 4, pieces))).toBe(
      'Nothing is left of this to take 4 pieces from. Enter a purchase or choose another lot.',
    );
    expect(sentence(drawLot(lot('a', 1, 3, '3'), 0))).toBe('The quantity taken must be above zero.');
    expect(sentence(drawFifo([lot('a', 1, 3, '3')], -1))).toBe('The quantity taken must be above zero.');
    expect(sentence(drawLotParts(lot('a', 1, 3, '3'), [2, 2]))).toContain('Only 1 left');
  });
});

describe('the pool of the moving average', () => {
  it('carries its value and derives the unit cost', () => {
    const pool = poolReceive(poolReceive(emptyPool, 10, micro('80')), 10, micro('85'));
    expect(poolUnitCostMicro(pool, 1)).toBe(micro('8.25'));
    expect(value(poolDraw(pool, 10))).toEqual({
      valueMicro: micro('82.5'),
      pool: { qty: 10, valueMicro: micro('82.5') },
    });
    expect(poolUnitCostMicro(emptyPool, 1)).toBeUndefined();
  });

  it('refuses more than it holds', () => {
    expect(sentence(poolDraw({ qty: 2, valueMicro: 10 }, 3, pieces))).toContain('Only 2 pieces left');
    expect(sentence(poolDraw({ qty: 2, valueMicro: 10 }, 0))).toBe('The quantity taken must be above zero.');
  });

  it('keeps a period average whole', () => {
    expect(periodicAverage({ availableQty: 3, availableValueMicro: 10, drawnQty: 2 })).toEqual({
      drawnMicro: 7,
      leftMicro: 3,
    });
    expect(periodicAverage({ availableQty: 0, availableValueMicro: 0, drawnQty: 0 })).toEqual({
      drawnMicro: 0,
      leftMicro: 0,
    });
  });
});

describe('freight', () => {
  it('spreads by value to the last cent', () => {
    const shares = spreadFreight([{ value: 2400 }, { value: 2400 }, { value: 3400 }], 1000);
    expect(shares).toEqual([293, 293, 414]);
    expect(spreadFreight([{ value: 0 }, { value: 0 }], 5)).toEqual([3, 2]);
  });
});

/** One step of a made-up history of an item. */
type Step =
  | { readonly kind: 'receive'; readonly qty: number; readonly valueMicro: number }
  | {
      readonly kind: 'fifo' | 'lot' | 'cut';
      readonly part: number;
      readonly pick: number;
      readonly kerf: number;
    };

const part = fc.record({
  kind: fc.constantFrom('fifo' as const, 'lot' as const, 'cut' as const),
  part: fc.integer({ min: 1, max: 100 }),
  pick: fc.nat(20),
  kerf: fc.nat(50),
});
const receipt = fc.record({
  kind: fc.constant('receive' as const),
  qty: fc.integer({ min: 1, max: 2_000_000_000 }),
  valueMicro: fc.nat(1_000_000_000),
});
const history: fc.Arbitrary<Step[]> = fc.array(fc.oneof(receipt, part), { minLength: 1, maxLength: 40 });

const merge = (lots: readonly LotState[], changed: readonly LotState[]): LotState[] =>
  lots.map((each) => changed.find((now) => now.id === each.id) ?? each);

/** Cuts as many equal blanks as fit in a hundredth-sized grid of the lot, by either sharing rule. */
const cut = (
  from: LotState,
  step: Step & { kind: 'cut' | 'lot' | 'fifo' },
): { drawn: number; lots: LotState[] } => {
  const blanks = (step.pick % 5) + 1;
  const wholeBar = step.pick % 2 === 0;
  const blankLength = Math.floor((from.qtyLeft * step.part) / 100 / (wholeBar ? 6 : blanks));
  const plan = planCut({
    barLeft: from.qtyLeft,
    barReceived: from.qtyLeft,
    blankLength,
    kerf: step.kerf,
    blanks,
    usefulRemnant: Math.floor(from.qtyLeft / 10),
    sharing: wholeBar ? { rule: 'whole-bar', blanksPerBar: 6 } : { rule: 'by-length' },
  });
  if (!plan.ok) return { drawn: 0, lots: [] };
  const takes = plan.value.takes.map((take) => take.qty);
  const parts = value(drawLotParts(from, takes));
  expect(parts.lot.qtyLeft).toBe(plan.value.remaining);
  return { drawn: parts.draws.reduce((so, draw) => so + draw.valueMicro, 0), lots: [parts.lot] };
};

const apply = (
  lots: readonly LotState[],
  step: Step,
  at: number,
): { lots: LotState[]; in: number; out: number } => {
  if (step.kind === 'receive') {
    const fresh = { id: `lot-${String(at)}`, order: at, qtyLeft: step.qty, valueLeftMicro: step.valueMicro };
    return { lots: [...lots, fresh], in: step.valueMicro, out: 0 };
  }
  const open = lots.filter((each) => each.qtyLeft > 0);
  const chosen = open[step.pick % Math.max(1, open.length)];
  if (chosen === undefined) return { lots: [...lots], in: 0, out: 0 };
  if (step.kind === 'cut') {
    const done = cut(chosen, step);
    return { lots: merge(lots, done.lots), in: 0, out: done.drawn };
  }
  const held = step.kind === 'lot' ? chosen.qtyLeft : open.reduce((so, each) => so + each.qtyLeft, 0);
  const qty = Math.max(1, Math.floor((held * step.part) / 100));
  const drawn = value(step.kind === 'lot' ? drawLot(chosen, qty) : drawFifo(lots, qty));
  expect(drawn.draws.reduce((so, draw) => so + draw.qty, 0)).toBe(qty);
  return { lots: merge(lots, drawn.lots), in: 0, out: drawn.valueMicro };
};

describe('no cent is lost', () => {
  it('keeps value in equal to value out and value left after every step of any history', () => {
    fc.assert(
      fc.property(history, (steps) => {
        let lots: LotState[] = [];
        let valueIn = 0;
        let valueOut = 0;
        steps.forEach((step, at) => {
          const done = apply(lots, step, at);
          lots = done.lots;
          valueIn += done.in;
          valueOut += done.out;
          const left = lots.reduce((so, each) => so + each.valueLeftMicro, 0);
          expect(valueIn).toBe(valueOut + left);
          for (const each of lots) {
            expect(each.qtyLeft).toBeGreaterThanOrEqual(0);
            expect(each.valueLeftMicro).toBeGreaterThanOrEqual(0);
            if (each.qtyLeft === 0) expect(each.valueLeftMicro).toBe(0);
          }
        });
      }),
      { numRuns: 300 },
    );
  });

  it('keeps a pool whole over any sequence of receipts and draws', () => {
    fc.assert(
      fc.property(history, (steps) => {
        let pool = emptyPool;
        let valueIn = 0;
        let valueOut = 0;
        for (const step of steps) {
          if (step.kind === 'receive') {
            pool = poolReceive(pool, step.qty, step.valueMicro);
            valueIn += step.valueMicro;
          } else if (pool.qty > 0) {
            const drawn = value(poolDraw(pool, Math.max(1, Math.floor((pool.qty * step.part) / 100))));
            pool = drawn.pool;
            valueOut += drawn.valueMicro;
          }
          expect(valueIn).toBe(valueOut + pool.valueMicro);
          if (pool.qty === 0) expect(pool.valueMicro).toBe(0);
        }
      }),
    );
  });

  it('gives the whole value with the whole quantity', () => {
    expect(shareOfValue(7, 3, 3)).toBe(7);
    expect(shareOfValue(7, 1, 2)).toBe(4);
  });
});
