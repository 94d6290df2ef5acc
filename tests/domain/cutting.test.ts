import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blanksLeft, lengthNeeded, planCut } from '../../electron/domain/cutting.ts';
import type { CutPlanInput } from '../../electron/domain/cutting.ts';
import { formatQuantity, parseQuantity, toBase } from '../../electron/domain/quantity.ts';
import { drawLotParts } from '../../electron/domain/stock.ts';
import { micro, sentence, value } from './figures.ts';

const inch = (text: string): number => value(parseQuantity(text, 'length', 'in')).base;
const show = (qty: number): string => formatQuantity(qty, 'length', 'in');
const bar = toBase(48, 'in');

const byLength: CutPlanInput = {
  barLeft: bar,
  barReceived: bar,
  blankLength: inch('7 3/4'),
  kerf: inch('1/16'),
  blanks: 3,
  usefulRemnant: inch('6'),
  sharing: { rule: 'by-length' },
};
const wholeBar: CutPlanInput = { ...byLength, sharing: { rule: 'whole-bar', blanksPerBar: 6 } };

describe('cutting by length', () => {
  it('takes length and kerf and keeps a useful offcut', () => {
    const plan = value(planCut(byLength));
    expect(plan.takes.map((take) => show(take.qty))).toEqual(['7 13/16 in', '7 13/16 in', '7 13/16 in']);
    expect(plan.takes[0]).toEqual({ qty: inch('7 13/16'), net: inch('7 3/4'), kerf: inch('1/16'), waste: 0 });
    expect([show(plan.remaining), plan.shortEnd]).toEqual(['24 9/16 in', 0]);
  });

  it('rests a short end below the useful remnant in the blanks of the cut', () => {
    const plan = value(planCut({ ...byLength, blanks: 6 }));
    expect(show(plan.shortEnd)).toBe('1 1/8 in');
    expect(plan.takes.map((take) => show(take.qty))).toEqual(Array(6).fill('8 in'));
    expect(plan.takes.map((take) => show(take.waste))).toEqual(Array(6).fill('3/16 in'));
    expect(plan.remaining).toBe(0);
  });

  it('keeps an offcut of exactly the useful remnant, and not one a nanometre shorter', () => {
    const behind = bar - 3 * inch('7 13/16');
    expect(value(planCut({ ...byLength, usefulRemnant: behind })).remaining).toBe(behind);
    expect(value(planCut({ ...byLength, usefulRemnant: behind + 1 }))).toMatchObject({
      remaining: 0,
      shortEnd: behind,
    });
  });

  it('needs no kerf behind the last blank', () => {
    const plan = value(planCut({ ...byLength, barLeft: inch('7 3/4'), blanks: 1, kerf: inch('1/8') }));
    expect(plan).toEqual({
      takes: [{ qty: inch('7 3/4'), net: inch('7 3/4'), kerf: 0, waste: 0 }],
      shortEnd: 0,
      remaining: 0,
    });
  });

  it('keeps any offcut when no useful remnant is set', () => {
    const plan = value(planCut({ ...byLength, blanks: 6, usefulRemnant: 0 }));
    expect([show(plan.remaining), plan.shortEnd]).toEqual(['1 1/8 in', 0]);
  });
});

describe('cutting a bar planned for so many blanks', () => {
  it('gives each blank an equal share of the bar', () => {
    const plan = value(planCut(wholeBar));
    expect(plan.takes).toEqual(
      Array(3).fill({ qty: inch('8'), net: inch('7 3/4'), kerf: inch('1/16'), waste: inch('3/16') }),
    );
    expect([show(plan.remaining), plan.shortEnd]).toEqual(['24 in', 0]);
  });

  it('gives the last planned blank what is left', () => {
    const seventh = {
      ...wholeBar,
      blankLength: inch('6'),
      sharing: { rule: 'whole-bar', blanksPerBar: 7 },
    } as const;
    const first = value(planCut({ ...seventh, blanks: 6 }));
    const last = value(planCut({ ...seventh, blanks: 1, barLeft: first.remaining }));
    const taken = [...first.takes, ...last.takes].reduce((so, take) => so + take.qty, 0);
    expect(taken).toBe(bar);
    expect(last.remaining).toBe(0);
    expect(show(last.shortEnd)).toBe('5 9/16 in');
  });

  it('leaves on the rack what other cuts left behind the last share, unless it is of no use', () => {
    // 3 in were cut for something else: 45 in hold five shares of 8 in, and 5 in lie behind them.
    const last = { ...wholeBar, barLeft: inch('13'), blanks: 1 };
    const cut = (usefulRemnant: number): readonly string[] => {
      const plan = value(planCut({ ...last, usefulRemnant }));
      return [...plan.takes.map((take) => show(take.qty)), show(plan.remaining)];
    };
    expect(cut(inch('5'))).toEqual(['8 in', '5 in']);
    expect(cut(0)).toEqual(['8 in', '5 in']);
    expect(cut(inch('5 1/2'))).toEqual(['13 in', '0 in']);
  });

  it('shares the price of a bar to the cent, as the workshop books its paring blanks', () => {
    const plan = value(planCut({ ...wholeBar, blanks: 6 }));
    const lot = { id: 'bar-1', order: 1, qtyLeft: bar, valueLeftMicro: micro('24') };
    const parts = value(
      drawLotParts(
        lot,
        plan.takes.map((take) => take.qty),
      ),
    );
    expect(parts.draws.map((draw) => draw.valueMicro)).toEqual(Array(6).fill(micro('4')));
    expect(parts.lot).toEqual({ id: 'bar-1', order: 1, qtyLeft: 0, valueLeftMicro: 0 });
  });

  it('counts the blanks a bar still holds, whatever rounding its share needed', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100_000, max: bar }),
        fc.integer({ min: 1, max: 30 }),
        fc.nat(30),
        (length, planned, cut) => {
          const done = Math.min(cut, planned);
          const share = Math.floor((length + planned / 2) / planned);
          const left = done === planned ? 0 : length - share * done;
          expect(blanksLeft(left, length, planned)).toBe(planned - done);
        },
      ),
    );
  });

  it('refuses more blanks than the plan has left, and plans the bar cannot yield', () => {
    expect(sentence(planCut({ ...wholeBar, barLeft: inch('16'), blankLength: inch('4') }, show))).toBe(
      'The bar is planned for 6 blanks and holds 2 more, too few to cut 3.',
    );
    expect(sentence(planCut({ ...wholeBar, sharing: { rule: 'whole-bar', blanksPerBar: 7 } }, show))).toBe(
      'A bar of 48 in does not yield 7 blanks of 7 3/4 in. Plan fewer blanks per bar.',
    );
    expect(
      sentence(planCut({ ...wholeBar, sharing: { rule: 'whole-bar', blanksPerBar: 0 } }, show)),
    ).toContain('at least one');
  });
});

describe('cuts that cannot be made', () => {
  it('says what does not fit', () => {
    expect(sentence(planCut({ ...byLength, blankLength: inch('50') }, show))).toBe(
      'The blank of 50 in is longer than what is left of the bar, 48 in.',
    );
    expect(sentence(planCut({ ...byLength, blanks: 7 }, show))).toBe(
      '7 blanks with their cuts need 54 5/8 in, but 48 in is left: enough for 6.',
    );
  });

  it.each([
    [{ blanks: 0 }, 'Enter how many blanks are cut: at least one.'],
    [{ blanks: 1.5 }, 'Enter how many blanks are cut: at least one.'],
    [{ blankLength: 0 }, 'The blank must have a length above zero.'],
    [{ kerf: -1 }, 'The width of the cut cannot be negative.'],
    [{ usefulRemnant: -1 }, 'The least useful remnant cannot be negative.'],
    [{ barLeft: 0 }, 'Nothing is left of this bar. Choose another one.'],
  ])('refuses %j', (change, wanted) => {
    expect(sentence(planCut({ ...byLength, ...change }))).toBe(wanted);
  });

  it('accounts for every nanometre of any cut that it allows', () => {
    const sizes = fc.record({
      barLeft: fc.integer({ min: 1, max: 10_000 }),
      blankLength: fc.integer({ min: 1, max: 3000 }),
      kerf: fc.nat(100),
      blanks: fc.integer({ min: 1, max: 12 }),
      usefulRemnant: fc.nat(3000),
    });
    fc.assert(
      fc.property(sizes, (given) => {
        const plan = planCut({ ...given, barReceived: given.barLeft, sharing: { rule: 'by-length' } });
        const fits = lengthNeeded(given.blanks, given.blankLength, given.kerf) <= given.barLeft;
        expect(plan.ok).toBe(fits);
        if (!plan.ok) return;
        const { takes, remaining } = plan.value;
        expect(takes.reduce((so, take) => so + take.qty, remaining)).toBe(given.barLeft);
        for (const take of takes) expect(take.net + take.kerf + take.waste).toBe(take.qty);
        expect(remaining === 0 || remaining >= given.usefulRemnant).toBe(true);
      }),
    );
  });
});
