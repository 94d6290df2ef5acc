import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planCut } from '../../electron/domain/cutting.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { layBar } from '../../renderer/areas/stock/lot/cut-layout.ts';

const inch = toBase(1, 'in');

describe('the bar on the screen', () => {
  it('lays blanks and cuts from the near end and keeps the rest', () => {
    const pieces = layBar({
      barLeft: 48 * inch,
      blankLength: 8 * inch,
      kerf: inch / 4,
      blanks: 2,
      leftQty: 31.5 * inch,
    });
    expect(pieces).toEqual([
      { kind: 'blank', from: 0, size: 8 * inch },
      { kind: 'kerf', from: 8 * inch, size: inch / 4 },
      { kind: 'blank', from: 8.25 * inch, size: 8 * inch },
      { kind: 'kerf', from: 16.25 * inch, size: inch / 4 },
      { kind: 'rest', from: 16.5 * inch, size: 31.5 * inch },
    ]);
  });

  it('calls the end behind the last cut scrap when the plan keeps nothing', () => {
    const pieces = layBar({
      barLeft: 10 * inch,
      blankLength: 8 * inch,
      kerf: inch / 4,
      blanks: 1,
      leftQty: 0,
    });
    expect(pieces.at(-1)).toEqual({ kind: 'scrap', from: 8.25 * inch, size: 1.75 * inch });
  });

  it('fills the whole bar, without gap or overlap, for every plan the domain allows', () => {
    const size = fc.integer({ min: 1, max: 2_000_000_000 });
    fc.assert(
      fc.property(
        size,
        size,
        fc.integer({ min: 0, max: 5_000_000 }),
        fc.integer({ min: 1, max: 12 }),
        (bar, blank, kerf, blanks) => {
          const input = { barLeft: bar, blankLength: blank, kerf, blanks };
          const plan = planCut({
            ...input,
            barReceived: bar,
            usefulRemnant: 0,
            sharing: { rule: 'by-length' },
          });
          if (!plan.ok) {
            fc.pre(false);
            return;
          }
          const pieces = layBar({ ...input, leftQty: plan.value.remaining });
          let at = 0;
          for (const piece of pieces) {
            expect(piece.from).toBe(at);
            at += piece.size;
          }
          expect(at).toBe(bar);
          expect(pieces.filter((piece) => piece.kind === 'blank' && piece.size === blank)).toHaveLength(
            blanks,
          );
        },
      ),
    );
  });
});
