/** How to cut sheets: that the plan can be cut as it is written, and against layouts whose best answer is known. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sum } from '../../electron/domain/integers.ts';
import {
  type NestedSheet,
  nestSheets,
  type SheetNestingInput,
} from '../../electron/domain/nesting-sheets.ts';
import { type Rect, sheetArea, type SheetPart, takeApart } from '../../electron/domain/sheet-cuts.ts';

const INCH = 25_400_000;
const SQUARE_INCH = 645_160_000;
const rule = { usefulArea: 0 };

/** Pieces of several sizes in inches: length, width, how many. */
const pieces = (list: readonly (readonly [number, number, number])[], mayTurn = true) =>
  list.flatMap(([length, width, count], kind) =>
    Array.from({ length: count }, (_, at) => ({
      key: `${kind}.${at}`,
      length: length * INCH,
      width: width * INCH,
      mayTurn,
    })),
  );
const sheets = (count: number, length = 12, width = 12) =>
  Array.from({ length: count }, (_, at) => ({
    id: `sheet ${at}`,
    length: length * INCH,
    width: width * INCH,
    offcut: false,
  }));

/** Follows the cuts as a saw would and answers every part they leave; fails when a cut leaves its part. */
function saw(part: SheetPart, kerf: number): Rect[] {
  if (part.kind !== 'cut') return [part.rect];
  const { rect, way, at } = part;
  const across = way === 'across';
  const end = across ? rect.length : rect.width;
  expect(at).toBeGreaterThan(0);
  expect(at).toBeLessThan(end);
  const first = across ? { ...rect, length: at } : { ...rect, width: at };
  expect(part.first.rect).toEqual(first);
  const behind = end - at - kerf;
  if (behind <= 0) {
    expect(part.second).toBeNull();
    return saw(part.first, kerf);
  }
  const second = across
    ? { ...rect, x: rect.x + at + kerf, length: behind }
    : { ...rect, y: rect.y + at + kerf, width: behind };
  expect(part.second?.rect).toEqual(second);
  return [...saw(part.first, kerf), ...(part.second === null ? [] : saw(part.second, kerf))];
}

const apart = (a: Rect, b: Rect): boolean =>
  a.x + a.length <= b.x || b.x + b.length <= a.x || a.y + a.width <= b.y || b.y + b.width <= a.y;

/** Pieces and offcuts are exactly what the saw leaves, they do not overlap, and with the kerf they are the whole sheet. */
function checkSheet(input: SheetNestingInput, sheet: NestedSheet): void {
  const stock = input.sheets.find((one) => one.id === sheet.id);
  if (stock === undefined) throw new Error('a sheet from nowhere');
  const written = (rect: Rect): string => [rect.x, rect.y, rect.length, rect.width].join(' ');
  const parts = saw(sheet.root, input.kerf);
  expect(parts.map(written).sort()).toEqual([...sheet.pieces, ...sheet.offcuts].map(written).sort());
  for (const [at, one] of parts.entries()) {
    expect(one.x + one.length).toBeLessThanOrEqual(stock.length);
    expect(one.y + one.width).toBeLessThanOrEqual(stock.width);
    for (const other of parts.slice(at + 1)) expect(apart(one, other)).toBe(true);
  }
  const kept = sum(sheet.offcuts.filter((one) => one.useful).map((one) => sheetArea(one.length, one.width)));
  const used = sum(sheet.pieces.map((one) => sheetArea(one.length, one.width)));
  // Each area is rounded to the square micrometre by itself.
  const off = Math.abs(used + kept + sheet.waste - sheetArea(stock.length, stock.width));
  expect(off).toBeLessThanOrEqual(parts.length + 1);
}

function checkPlan(input: SheetNestingInput): ReturnType<typeof nestSheets> {
  const plan = nestSheets(input);
  for (const sheet of plan.sheets) checkSheet(input, sheet);
  const placed = plan.sheets.flatMap((sheet) => sheet.pieces);
  expect([...placed.map((one) => one.key), ...plan.unplaced].sort()).toEqual(
    input.pieces.map((one) => one.key).sort(),
  );
  for (const one of placed) {
    const wanted = input.pieces.find((piece) => piece.key === one.key);
    const size = one.turned ? [wanted?.width, wanted?.length] : [wanted?.length, wanted?.width];
    expect([one.length, one.width]).toEqual(size);
    if (wanted?.mayTurn === false) expect(one.turned).toBe(false);
  }
  return plan;
}

/** Sixteenths of an inch, so that sums of sizes meet often. */
const sixteenth = INCH / 16;

describe('how to cut sheets', () => {
  it('gives a plan that straight cuts can part, and that adds up to the sheet', () => {
    const size = fc.integer({ min: 8, max: 120 });
    const any = fc.record({
      sheets: fc.array(fc.record({ length: size, width: size }), { minLength: 1, maxLength: 3 }),
      pieces: fc.array(fc.record({ length: size, width: size, mayTurn: fc.boolean() }), {
        minLength: 1,
        maxLength: 12,
      }),
      kerf: fc.integer({ min: 0, max: 2 }),
      usefulArea: fc.constantFrom(0, 4 * SQUARE_INCH, 30 * SQUARE_INCH),
    });
    fc.assert(
      fc.property(any, (one) => {
        const nm = <T extends { length: number; width: number }>(thing: T): T => ({
          ...thing,
          length: thing.length * sixteenth,
          width: thing.width * sixteenth,
        });
        const input = {
          sheets: one.sheets.map((sheet, at) => ({ id: `sheet ${at}`, ...nm(sheet), offcut: at % 2 === 0 })),
          pieces: one.pieces.map((piece, at) => ({ key: `piece ${at}`, ...nm(piece) })),
          kerf: one.kerf * sixteenth,
          rule: { usefulArea: one.usefulArea },
          budget: 5_000,
        };
        expect(checkPlan(input)).toEqual(nestSheets(input));
      }),
      { numRuns: 80 },
    );
  });

  it('finds the plan without any waste where a sheet was cut up without any', () => {
    // A sheet is parted at random into pieces by cuts without width: the best answer is known to waste nothing.
    const cutUp = fc.array(
      fc.record({ across: fc.boolean(), at: fc.integer({ min: 1, max: 99 }), which: fc.nat(99) }),
      {
        minLength: 1,
        maxLength: 4,
      },
    );
    fc.assert(
      fc.property(cutUp, fc.boolean(), (steps, mayTurn) => {
        let parts = [{ length: 100, width: 100 }];
        for (const { across, at, which } of steps) {
          const part = parts[which % parts.length];
          if (part === undefined) continue;
          const size = across ? part.length : part.width;
          const near = Math.max(1, Math.min(size - 1, Math.round((size * at) / 100)));
          if (size < 2) continue;
          const halves = [near, size - near].map((side) =>
            across ? { ...part, length: side } : { ...part, width: side },
          );
          parts = [...parts.filter((one) => one !== part), ...halves];
        }
        const input = {
          sheets: [{ id: 'sheet', length: 100 * sixteenth, width: 100 * sixteenth, offcut: false }],
          pieces: parts.map((part, at) => ({
            key: `piece ${at}`,
            length: part.length * sixteenth,
            width: part.width * sixteenth,
            mayTurn,
          })),
          kerf: 0,
          rule,
        };
        const plan = checkPlan(input);
        expect([plan.unplaced, plan.waste, plan.exact]).toEqual([[], 0, true]);
      }),
      { numRuns: 60 },
    );
  });

  it('cuts four scales from a sheet one on another and keeps one large offcut', () => {
    const plan = checkPlan({ sheets: sheets(1), pieces: pieces([[5, 1.5, 4]]), kerf: INCH / 16, rule });
    expect(plan.exact).toBe(true);
    const [sheet] = plan.sheets;
    const largest = Math.max(0, ...(sheet?.offcuts ?? []).map((one) => sheetArea(one.length, one.width)));
    expect(largest).toBeGreaterThan(100 * SQUARE_INCH);
  });

  it('lets no piece with a grain lie across it', () => {
    const across = { sheets: sheets(1, 12, 4), kerf: 0, rule };
    expect(checkPlan({ ...across, pieces: pieces([[4, 12, 1]], false) }).unplaced).toHaveLength(1);
    expect(checkPlan({ ...across, pieces: pieces([[4, 12, 1]]) }).unplaced).toHaveLength(0);
  });

  it('begins a second sheet only when the first is full, and leaves out what fits on none', () => {
    const plan = checkPlan({
      sheets: sheets(3),
      pieces: pieces([
        [12, 5.5, 3],
        [13, 1, 1],
      ]),
      kerf: INCH / 16,
      rule,
    });
    expect(plan.sheets).toHaveLength(2);
    expect(plan.unplaced).toEqual(['1.0']);
  });

  it('takes an offcut before a whole sheet where it wastes no more', () => {
    const [whole] = sheets(1);
    const offcut = { id: 'offcut', length: 12 * INCH, width: 6 * INCH, offcut: true };
    const input = { sheets: [...(whole ? [whole] : []), offcut], kerf: INCH / 16, rule };
    const plan = checkPlan({ ...input, pieces: pieces([[12, 2, 1]], false) });
    expect(plan.sheets.map((sheet) => sheet.id)).toEqual(['offcut']);
  });

  it('says when it did not try every way', () => {
    const many = pieces([
      [5, 1.5, 6],
      [4.5, 1.25, 6],
      [6, 1.75, 6],
      [3, 2, 6],
    ]);
    expect(checkPlan({ sheets: sheets(4), pieces: many, kerf: INCH / 16, rule }).exact).toBe(false);
  });
});

describe('taking a sheet apart', () => {
  const sheet = { length: 100 * sixteenth, width: 100 * sixteenth };
  const rect = (x: number, y: number, length: number, width: number): Rect => ({
    x: x * sixteenth,
    y: y * sixteenth,
    length: length * sixteenth,
    width: width * sixteenth,
  });

  it('refuses pieces that overlap, stick out, or lie closer than the cut is wide', () => {
    const kerf = sixteenth;
    expect(takeApart(sheet, [rect(0, 0, 60, 60), rect(40, 0, 20, 20)], kerf, rule)).toBeUndefined();
    expect(takeApart(sheet, [rect(0, 0, 101, 20)], kerf, rule)).toBeUndefined();
    expect(takeApart(sheet, [rect(0, 0, 50, 100), rect(50, 0, 50, 100)], kerf, rule)).toBeUndefined();
    expect(takeApart(sheet, [rect(0, 0, 50, 100), rect(51, 0, 49, 100)], kerf, rule)?.offcuts).toEqual([]);
  });

  it('refuses a pinwheel, which no cut from edge to edge can begin', () => {
    // The usual example of a layout that is not guillotine: four rectangles around a middle one.
    const pinwheel = [rect(0, 0, 66, 33), rect(67, 0, 33, 66), rect(34, 67, 66, 33), rect(0, 34, 33, 66)];
    expect(takeApart(sheet, pinwheel, sixteenth, rule)).toBeUndefined();
  });
});
