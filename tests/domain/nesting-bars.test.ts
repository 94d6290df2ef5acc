/** Which bars to cut: against trying every way, and that the plan can be cut as it is written. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endOfBar, lengthOfCut, takesOfBar } from '../../electron/domain/bar-takes.ts';
import { lengthNeeded, planCut } from '../../electron/domain/cutting.ts';
import { sum } from '../../electron/domain/integers.ts';
import { type BarNestingInput, nestBars } from '../../electron/domain/nesting-bars.ts';
import { parseQuantity } from '../../electron/domain/quantity.ts';
import { value } from './figures.ts';

const inch = (text: string): number => value(parseQuantity(text, 'length', 'in')).base;

const small = fc.record({
  bars: fc.array(fc.record({ length: fc.integer({ min: 1, max: 30 }), offcut: fc.boolean() }), {
    minLength: 1,
    maxLength: 3,
  }),
  blanks: fc.array(fc.integer({ min: 1, max: 14 }), { minLength: 1, maxLength: 5 }),
  kerf: fc.integer({ min: 0, max: 3 }),
  usefulRemnant: fc.constantFrom<number>(0, 1, 3, 6, 10, 99),
});
type Small = typeof small extends fc.Arbitrary<infer T> ? T : never;

const asInput = (one: Small): BarNestingInput => ({
  bars: one.bars.map((bar, at) => ({ id: `bar ${at}`, ...bar })),
  blanks: one.blanks.map((length, at) => ({ key: `blank ${at}`, length })),
  kerf: one.kerf,
  usefulRemnant: one.usefulRemnant,
});

/** Weighs a plan the way a person would, from nothing but who is cut from what; undefined when it cannot be cut. */
function weigh(input: BarNestingInput, places: readonly number[]): number[] | undefined {
  const order = [...input.bars].sort((a, b) => Number(b.offcut) - Number(a.offcut));
  let [waste, bars, whole, ranks] = [0, 0, 0, 0];
  for (const [at, bar] of input.bars.entries()) {
    const cut = input.blanks.filter((_, blank) => places[blank] === at).map((blank) => blank.length);
    if (cut.length === 0) continue;
    if (lengthOfCut(cut, input.kerf) > bar.length) return undefined;
    waste += endOfBar(bar.length, cut, input.kerf, input.usefulRemnant).waste;
    bars += 1;
    whole += bar.offcut ? 0 : 1;
    ranks += order.indexOf(bar);
  }
  return [places.filter((place) => place === input.bars.length).length, waste, bars, whole, ranks];
}

const better = (a: readonly number[], b: readonly number[]): boolean => {
  const at = a.findIndex((figure, place) => figure !== b[place]);
  return at !== -1 && (a[at] ?? 0) < (b[at] ?? 0);
};

/** Every way of giving each blank to a bar or to none. */
function bestByTryingAll(input: BarNestingInput): number[] {
  const ways = (input.bars.length + 1) ** input.blanks.length;
  let best: number[] | undefined;
  for (let way = 0; way < ways; way += 1) {
    let rest = way;
    const places = input.blanks.map(() => {
      const place = rest % (input.bars.length + 1);
      rest = (rest - place) / (input.bars.length + 1);
      return place;
    });
    const figures = weigh(input, places);
    if (figures !== undefined && (best === undefined || better(figures, best))) best = figures;
  }
  return best ?? [];
}

const weighAnswer = (input: BarNestingInput): number[] | undefined => {
  const plan = nestBars(input);
  const placeOf = (key: string): number => {
    const bar = plan.bars.find((one) => one.keys.includes(key));
    return bar === undefined ? input.bars.length : input.bars.findIndex((one) => one.id === bar.id);
  };
  return weigh(
    input,
    input.blanks.map((blank) => placeOf(blank.key)),
  );
};

describe('which bars to cut', () => {
  it('is as good as the best of all ways', () => {
    fc.assert(
      fc.property(small, (one) => {
        const input = asInput(one);
        expect(nestBars(input).exact).toBe(true);
        expect(weighAnswer(input)).toEqual(bestByTryingAll(input));
      }),
      { numRuns: 400 },
    );
  });

  it('names every blank once, cuts no bar beyond its end, and counts the waste it makes', () => {
    const large = fc.record({
      bars: fc.array(fc.record({ length: fc.integer({ min: 20, max: 200 }), offcut: fc.boolean() }), {
        minLength: 1,
        maxLength: 12,
      }),
      blanks: fc.array(fc.integer({ min: 5, max: 90 }), { minLength: 1, maxLength: 40 }),
      kerf: fc.integer({ min: 0, max: 3 }),
      usefulRemnant: fc.constantFrom<number>(0, 20, 60),
    });
    fc.assert(
      fc.property(large, (one) => {
        const input = { ...asInput(one), budget: 20_000 };
        const plan = nestBars(input);
        const named = [...plan.bars.flatMap((bar) => bar.keys), ...plan.unplaced].sort();
        expect(named).toEqual(input.blanks.map((blank) => blank.key).sort());
        expect(weighAnswer(input)?.[1]).toBe(plan.waste);
        expect(nestBars(input)).toEqual(plan);
      }),
      { numRuns: 60 },
    );
  });

  it('is exact for a dozen bars of the trade', () => {
    const bars = ['48', '48', '48', '48', '36', '31 1/4', '24', '19 1/2', '15 3/8', '12', '9 1/4', '8'].map(
      (length, at) => ({ id: `L-${at}`, length: inch(length), offcut: length !== '48' }),
    );
    const lengths = [
      '7 3/4',
      '7 3/4',
      '7 3/4',
      '7 3/4',
      '8 1/2',
      '8 1/2',
      '9 1/4',
      '12',
      '12',
      '14 1/2',
      '6 1/2',
    ];
    const blanks = lengths.map((length, at) => ({ key: `W${at}`, length: inch(length) }));
    const plan = nestBars({ bars, blanks, kerf: inch('1/16'), usefulRemnant: inch('6 1/2') });
    expect(plan.exact).toBe(true);
    expect(plan.unplaced).toEqual([]);
    // Two blanks end flush with their bar (9 1/4 and 12 in): those two need no cut at all.
    expect(plan.waste).toBe(9 * inch('1/16'));
  });

  it('says when it ran out of steps', () => {
    const bars = Array.from({ length: 12 }, (_, at) => ({
      id: `bar ${at}`,
      length: 997 + at * 13,
      offcut: at % 3 === 0,
    }));
    const blanks = Array.from({ length: 40 }, (_, at) => ({
      key: `blank ${at}`,
      length: 151 + ((at * 37) % 101),
    }));
    const plan = nestBars({ bars, blanks, kerf: 2, usefulRemnant: 5_000, budget: 5_000 });
    expect(plan.exact).toBe(false);
    expect(plan.bars.length).toBeGreaterThan(0);
  });

  it('leaves out a blank longer than every bar and still cuts the others', () => {
    const plan = nestBars({
      bars: [{ id: 'a', length: 100, offcut: false }],
      blanks: [
        { key: 'long', length: 101 },
        { key: 'short', length: 40 },
      ],
      kerf: 1,
      usefulRemnant: 0,
    });
    expect(plan).toEqual({ bars: [{ id: 'a', keys: ['short'] }], unplaced: ['long'], waste: 1, exact: true });
  });

  it('takes the older of two equal bars, and the offcut before the whole bar', () => {
    const blanks = [{ key: 'one', length: 40 }];
    const bar = (id: string, offcut: boolean, length = 100) => ({ id, length, offcut });
    const rest = { blanks, kerf: 1, usefulRemnant: 10 };
    expect(nestBars({ bars: [bar('old', false), bar('new', false)], ...rest }).bars[0]?.id).toBe('old');
    expect(nestBars({ bars: [bar('old', false), bar('new', true, 90)], ...rest }).bars[0]?.id).toBe('new');
    // An offcut that would leave a short end is passed over: waste weighs more.
    expect(nestBars({ bars: [bar('old', false), bar('new', true, 45)], ...rest }).bars[0]?.id).toBe('old');
  });
});

describe('what blanks of several lengths take of a bar', () => {
  it('adds up to the bar, and is the rule of a single cut when they are equal', () => {
    const one = fc.record({
      bar: fc.integer({ min: 1, max: 5_000 }),
      lengths: fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 1, maxLength: 6 }),
      kerf: fc.integer({ min: 0, max: 20 }),
      useful: fc.integer({ min: 0, max: 600 }),
    });
    fc.assert(
      fc.property(one, ({ bar, lengths, kerf, useful }) => {
        fc.pre(lengthOfCut(lengths, kerf) <= bar);
        const cut = takesOfBar(bar, lengths, kerf, useful);
        expect(sum(cut.takes) + cut.left).toBe(bar);
        expect(cut.waste + cut.left + sum(lengths)).toBe(bar);
        for (const [at, take] of cut.takes.entries()) expect(take).toBeGreaterThanOrEqual(lengths[at] ?? 0);
      }),
    );
    fc.assert(
      fc.property(one, fc.integer({ min: 1, max: 6 }), ({ bar, lengths, kerf, useful }, blanks) => {
        const blankLength = lengths[0] ?? 1;
        fc.pre(lengthNeeded(blanks, blankLength, kerf) <= bar);
        const single = value(
          planCut({
            barLeft: bar,
            barReceived: bar,
            blankLength,
            kerf,
            blanks,
            usefulRemnant: useful,
            sharing: { rule: 'by-length' },
          }),
        );
        const mixed = takesOfBar(bar, Array<number>(blanks).fill(blankLength), kerf, useful);
        expect(mixed.takes).toEqual(single.takes.map((take) => take.qty));
        expect(mixed.left).toBe(single.remaining);
      }),
    );
  });
});
