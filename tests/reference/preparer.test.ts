/**
 * Schedule C (Form 1040), tax year 2024, through the lines the sheet for the preparer is laid out by.
 * Sources: the form's own line text (copies at omb.report and in three others), a filled sample of the 2024
 * form in the tests of a public form-text parser (C4a, C4c), the 2024 instructions (C4d).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  placeOnForm,
  type PlacedSheet,
  type SheetSource,
  tieOpening,
} from '../../electron/domain/preparer.ts';
import { plainForm, scheduleC, type TaxForm } from '../../electron/domain/preparer-forms.ts';

const source = (name: string, minor: number): SheetSource => ({
  ...{ source: name, label: name, href: '' },
  ...{ cashMinor: minor, earnedMinor: minor },
});

/** Lays amounts on lines of a form: each entry is a line and an amount, which counts as the form has it. */
const lay = (form: TaxForm, entries: readonly (readonly [string, number])[]): PlacedSheet =>
  placeOnForm(
    form,
    entries.map(([, minor], at) => source(String(at), minor)),
    (name) => entries[Number(name)]?.[0],
  );
const minorOf = (sheet: PlacedSheet, code: string): number => {
  const line = sheet.lines.find((each) => each.code === code);
  if (line === undefined) throw new Error(`No line ${code}`);
  return line.cashMinor;
};

describe('Schedule C, tax year 2024', () => {
  test('C4a: Part III of the filled sample', () => {
    const sheet = lay(scheduleC, [
      ['35', 12_000],
      ['36', 45_000],
      ['37', 8_000],
      ['38', 2_500],
      ['39', 0],
      ['41', 14_200],
    ]);
    expect([minorOf(sheet, '40'), minorOf(sheet, '42'), minorOf(sheet, '4')]).toEqual([
      67_500, 53_300, 53_300,
    ]);
  });

  test('C4c: four other expenses of Part V make line 48 and line 27b', () => {
    const sheet = lay(scheduleC, [
      ['27b', 1200],
      ['27b', 800],
      ['27b', 350],
      ['27b', 850],
    ]);
    expect([minorOf(sheet, '48'), minorOf(sheet, '27b'), minorOf(sheet, '28')]).toEqual([3200, 3200, 3200]);
    expect(sheet.lines.find(({ code }) => code === '27b')?.from).toHaveLength(4);
  });

  test('C4d: half of the cost of business meals', () => {
    const sheet = lay(scheduleC, [['24b', 20_001]]);
    expect([minorOf(sheet, '24b'), minorOf(sheet, '28')]).toEqual([10_001, 10_001]);
  });

  // Part I and the lines after Part II as the form words them.
  test('C4: 3 = 1 − 2, 5 = 3 − 4, 7 = 5 + 6, 29 = 7 − 28, 31 = 29 − 30', () => {
    const sheet = lay(scheduleC, [
      ['1', 1000],
      ['2', 40],
      ['6', 15],
      ['35', 100],
      ['36', 300],
      ['41', 150],
      ['8', 60],
      ['30', 25],
    ]);
    const codes = ['3', '4', '5', '7', '28', '29', '31'];
    expect(codes.map((code) => minorOf(sheet, code))).toEqual([960, 250, 710, 725, 60, 665, 640]);
  });

  test('the lines of Parts I to III are those of the form, each once and in its order', () => {
    const codes = scheduleC.lines.map(({ code }) => code);
    const second =
      '8 9 10 11 12 13 14 15 16a 16b 17 18 19 20a 20b 21 22 23 24a 24b 25 26 27a 27b 28 29 30 31';
    expect(codes).toEqual(`1 2 3 4 5 6 7 ${second} 35 36 37 38 39 40 41 42 48`.split(' '));
    const taking = new Set(
      scheduleC.lines.filter(({ terms }) => terms === undefined).map(({ code }) => code),
    );
    expect(Object.values(scheduleC.proposals).filter((code) => !taking.has(code))).toEqual([]);
  });

  // Line 35 must be last year's line 41, or the difference explained (taxlinehero.com, of the form's own instruction).
  test.each([
    [75_004, 75_004, '', 'tied', 0],
    [75_004, 76_000, '', 'open', -996],
    [75_004, 76_000, 'A box of offcuts was counted twice.', 'explained', -996],
    [75_004, null, '', 'unknown', null],
  ] as const)('line 35 of %d after line 41 of %s: %s', (books, last, why, state, difference) => {
    expect(tieOpening(books, last, why)).toMatchObject({ state, differenceMinor: difference });
  });
});

describe('Any list of lines', () => {
  const names = Object.keys(plainForm.proposals);
  const amounts = fc.array(fc.integer({ min: 0, max: 10_000_000 }), {
    minLength: names.length,
    maxLength: names.length,
  });
  const result = (form: TaxForm, minor: readonly number[]) => {
    const signed = (name: string, of: number): number =>
      ['goods.closing', 'goods.personal', 'income.refunds'].includes(name) ? -of : of;
    const sources = names.map((name, at) => source(name, signed(name, minor[at] ?? 0)));
    // Categories have no proposal on the published form: they go where its own map would put them.
    const sheet = placeOnForm(form, sources, (name) => form.proposals[name] ?? '22');
    const lost = [...sheet.unplaced, ...sheet.leftOff].reduce((sum, each) => sum + each.cashMinor, 0);
    return { sheet, lost, all: sources };
  };

  /** What is left must not hang on the list it is laid out by: no figure is lost, doubled or turned. */
  test('the result is income less goods less expenses, whichever list it is laid out by', () => {
    fc.assert(
      fc.property(amounts, (minor) => {
        const plain = result(plainForm, minor);
        const formal = result(scheduleC, minor);
        const sum = (pick: (name: string) => boolean): number =>
          plain.all.filter(({ source: name }) => pick(name)).reduce((so, each) => so + each.cashMinor, 0);
        const net = sum((name) => name.startsWith('income.')) - sum((name) => !name.startsWith('income.'));
        // Tax handed on to the tax office is left off the plain list, and was no part of the sum above.
        expect(minorOf(plain.sheet, 'result')).toBe(net + plain.lost);
        expect(minorOf(formal.sheet, '31')).toBe(net);
      }),
      { numRuns: 60 },
    );
  });

  test('what nobody put on a line is named, and what was left off on purpose is named apart', () => {
    const codes: Readonly<Record<string, string | undefined>> = {
      a: undefined,
      b: '',
      c: 'no such line',
      d: 'A1',
    };
    const sheet = placeOnForm(
      plainForm,
      ['a', 'b', 'c', 'd'].map((name) => source(name, 5)),
      (name) => codes[name],
    );
    expect(sheet.unplaced.map((each) => each.source)).toEqual(['a', 'c']);
    expect(sheet.leftOff.map((each) => each.source)).toEqual(['b']);
    expect(minorOf(sheet, 'result')).toBe(5);
  });
});
