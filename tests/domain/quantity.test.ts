import fc from 'fast-check';
import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import {
  formatExactly,
  formatQuantity,
  parseQuantity,
  plural,
  toBase,
} from '../../electron/domain/quantity.ts';
import { forms, isUnitCode, unitOf, units, unitsOf } from '../../electron/domain/units.ts';
import type { Form, UnitCode } from '../../electron/domain/units.ts';
import { sentence, value } from './figures.ts';

const length = (text: string): number => value(parseQuantity(text, 'length', 'in')).base;
const refusal = (text: string, form: Form = 'length', unit: UnitCode = 'in'): string =>
  sentence(parseQuantity(text, form, unit));

describe('reading quantities', () => {
  it('reads inches the way a rule and a drawing write them', () => {
    const sizes: [string, number][] = [
      ['3/16', 4_762_500],
      ['1 1/2', 38_100_000],
      ['1-1/2', 38_100_000],
      ['1½', 38_100_000],
      ['7.75 in', 196_850_000],
      ['7,75 in', 196_850_000],
      ['7 3/4"', 196_850_000],
      ['7 3/4”', 196_850_000],
      ['.070', 1_778_000],
      ['4 ft', 1_219_200_000],
      [`4' 6"`, 1_371_600_000],
      ["4' 6", 1_371_600_000],
      ['4 ft 6 1/2 in', 1_384_300_000],
      ['200mm', 200_000_000],
      ['20 cm', 200_000_000],
      ['0.2 m', 200_000_000],
      ['2 yards', 1_828_800_000],
      ['6 inches', 152_400_000],
      ['0', 0],
    ];
    expect(sizes.map(([text]) => length(text))).toEqual(sizes.map(([, wanted]) => wanted));
  });

  it('reads areas, weights, volumes, pieces and pairs', () => {
    const rows: [string, Form, UnitCode, number][] = [
      ['1.5 sq ft', 'area', 'sqin', 139_354_560_000],
      ['2 square inches', 'area', 'sqft', 1_290_320_000],
      ['300 cm²', 'area', 'sqft', 30_000_000_000],
      ['380', 'weight', 'g', 380_000_000_000],
      ['2 lb 4 oz', 'weight', 'g', 1_020_582_832_500],
      ['0.5 oz', 'volume', 'ml', 14_786_765],
      ['0.5 fl oz', 'volume', 'ml', 14_786_765],
      ['5 US gal', 'volume', 'l', 18_927_058_920],
      ['3 belts', 'piece', 'piece', 3_000_000],
      ['0.15', 'piece', 'piece', 150_000],
      ['1/2', 'pair', 'pair', 500_000],
      ['12.50', 'worth', 'worth', 12_500_000],
    ];
    const read = rows.map(
      ([text, form, unit]) => value(parseQuantity(text, form, unit, { word: 'belt' })).base,
    );
    expect(read).toEqual(rows.map(([, , , wanted]) => wanted));
  });

  it('writes into a field only what reads back as the same', () => {
    const field = (base: number, form: Form, unit: UnitCode) => formatExactly(base, form, unit);
    expect(field(209_550_000, 'length', 'in')).toBe('8 1/4 in');
    expect(field(210_000_000, 'length', 'in')).toBe('210 mm');
    expect(field(toBase(1383, 'g'), 'weight', 'g')).toBe('1,383 g');
    expect(field(toBase(100, 'g'), 'weight', 'oz')).toBe('100 g');
    expect(field(333_333, 'piece', 'piece')).toBe('1/3 piece');
    // A nanometre more than an inch is in no unit exact: the workshop's own, then.
    expect(field(25_400_001, 'length', 'in')).toBe('1 in');
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40_000 }), fc.constantFrom('in', 'mm'), (tenths, unit) => {
        const nm = tenths * 100_000;
        expect(value(parseQuantity(field(nm, 'length', unit), 'length', unit)).base).toBe(nm);
      }),
      { numRuns: 60 },
    );
  });

  it('remembers the unit it was typed in', () => {
    expect(value(parseQuantity('200mm', 'length', 'in')).unit).toBe('mm');
    expect(value(parseQuantity('7', 'length', 'in')).unit).toBe('in');
    expect(value(parseQuantity(`4' 6"`, 'length', 'mm')).unit).toBe('in');
  });

  it('refuses with a sentence that says what to do', () => {
    expect(refusal('')).toBe('Enter a length, for example 7 3/4 in, 4 ft or 200 mm.');
    expect(refusal('3/0')).toBe(
      '“3/0” divides by zero. Write the fraction with a number above zero below the line.',
    );
    expect(refusal('-3 in')).toBe('A length cannot be negative here. Enter it without the minus sign.');
    expect(refusal('5 g')).toBe('“g” measures a weight; a length is wanted here (in, ft, yd, mm, cm, m).');
    expect(refusal('4 furlongs')).toBe(
      '“furlongs” is not a unit known here. Use one of: in, ft, yd, mm, cm, m.',
    );
    expect(refusal('junk')).toBe(
      '“junk” is not a length that can be read. Write it like 7 3/4 in, 4 ft or 200 mm.',
    );
    expect(refusal('99999 kg', 'weight', 'g')).toBe(
      '“99999 kg” is more than the books can hold. Check the number and its unit.',
    );
    expect(refusal('3 belts', 'length', 'in')).toContain('not a unit');
  });

  it('refuses text with something left over or out of order', () => {
    for (const text of [
      '1 2 3',
      '6 in 4 ft',
      '3/4 1',
      '5-',
      '7 3/4 in x',
      '1//2',
      '1/2/3',
      '7..5',
      'in',
      '5 5 in',
      '1 in 1 in',
    ]) {
      expect(refusal(text)).toContain('is not a length that can be read');
    }
  });

  it('takes negatives and refuses zero where told so', () => {
    expect(value(parseQuantity('-1/2', 'length', 'in', { negative: true })).base).toBe(-12_700_000);
    expect(sentence(parseQuantity('0', 'piece', 'piece', { zero: false }))).toBe(
      'A number of pieces above zero is wanted here.',
    );
  });
});

describe('writing quantities', () => {
  it('writes inches as fractions where they lie on the rule, else as decimals', () => {
    expect(formatQuantity(toBase(48, 'in'), 'length', 'in')).toBe('48 in');
    expect(formatQuantity(196_850_000, 'length', 'in')).toBe('7 3/4 in');
    expect(formatQuantity(396_875, 'length', 'in')).toBe('1/64 in');
    expect(formatQuantity(396_875, 'length', 'in', { fractions: 16 })).toBe('0.0156 in');
    expect(formatQuantity(196_850_000, 'length', 'in', { fractions: 0 })).toBe('7.75 in');
    expect(formatQuantity(1_778_000, 'length', 'in')).toBe('0.07 in');
    expect(formatQuantity(-12_700_000, 'length', 'in')).toBe('-1/2 in');
  });

  it('drops zeros at the end and groups thousands', () => {
    expect(formatQuantity(200_000_000, 'length', 'mm')).toBe('200 mm');
    expect(formatQuantity(1_234_567_000_000, 'weight', 'g')).toBe('1,234.567 g');
    expect(formatQuantity(139_354_560_000, 'area', 'sqft')).toBe('1.5 sq ft');
    expect(formatQuantity(12_500_000, 'worth', 'worth')).toBe('12.50');
    expect(formatQuantity(-1, 'length', 'mm')).toBe('0 mm');
  });

  it('names pieces by their own word', () => {
    expect(formatQuantity(3_000_000, 'piece', 'piece', { word: 'belt' })).toBe('3 belts');
    expect(formatQuantity(150_000, 'piece', 'piece', { word: 'belt' })).toBe('0.15 belt');
    expect(formatQuantity(333_333, 'piece', 'piece', { word: 'belt' })).toBe('1/3 belt');
    // Ten belts less two thirds of one, a third at a time.
    expect(formatQuantity(9_333_334, 'piece', 'piece', { word: 'belt' })).toBe('9 1/3 belts');
    expect(formatQuantity(9_000_001, 'piece', 'piece', { word: 'belt' })).toBe('9 belts');
    expect(formatQuantity(1_000_000, 'pair', 'pair')).toBe('1 pair');
    expect(formatQuantity(0, 'piece', 'piece', { word: 'box' })).toBe('0 boxes');
    expect(formatQuantity(3_000_000, 'piece', 'piece', { bare: true })).toBe('3');
    expect(plural('brush')).toBe('brushes');
  });

  it('refuses a unit that does not measure the form', () => {
    expect(() => formatQuantity(1, 'length', 'g')).toThrow(RangeError);
  });
});

describe('round trips', () => {
  const anyUnit = fc.constantFrom(...units);
  it('reads back what it writes to the last decimal shown', () => {
    fc.assert(
      fc.property(anyUnit, fc.integer({ min: 0, max: 1_000_000_000_000 }), (unit, base) => {
        const text = formatQuantity(base, unit.form, unit.code);
        const back = value(parseQuantity(text, unit.form, unit.code)).base;
        const halfStep = Number(unit.factor.n) / Number(unit.factor.d) / 10 ** unit.decimals / 2;
        expect(Math.abs(back - base)).toBeLessThanOrEqual(halfStep + 1);
      }),
    );
  });

  it('keeps sixty-fourths of an inch exactly', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (steps) => {
        const base = steps * 396_875;
        expect(length(formatQuantity(base, 'length', 'in'))).toBe(base);
      }),
    );
  });

  it('never answers anything but a whole number in range', () => {
    const junk = fc.string({
      unit: fc.constantFrom(...Array.from('0123456789./- \'"½infmtgozlb,')),
      maxLength: 12,
    });
    fc.assert(
      fc.property(junk, fc.constantFrom(...forms), (text, form) => {
        const read = parseQuantity(text, form, unitsOf(form)[0]?.code ?? 'piece');
        if (read.ok) expect(Number.isSafeInteger(read.value.base) && read.value.base >= 0).toBe(true);
        else expect(read.message).toMatch(/[.)]$|\?$/);
      }),
    );
  });
});

describe('units', () => {
  /** The same units as the cross-checking library names them, and its name for our base unit. */
  const THEIRS: [UnitCode, string, string, number][] = [
    ['in', 'in', 'm', 1e9],
    ['ft', 'ft', 'm', 1e9],
    ['yd', 'yd', 'm', 1e9],
    ['mm', 'mm', 'm', 1e9],
    ['cm', 'cm', 'm', 1e9],
    ['sqin', 'in2', 'm2', 1e12],
    ['sqft', 'ft2', 'm2', 1e12],
    ['cm2', 'cm2', 'm2', 1e12],
    ['g', 'g', 'kg', 1e12],
    ['oz', 'oz', 'kg', 1e12],
    ['lb', 'lb', 'kg', 1e12],
    ['ml', 'ml', 'l', 1e9],
    ['floz', 'floz', 'l', 1e9],
    ['pt', 'pint', 'l', 1e9],
    ['qt', 'qt', 'l', 1e9],
    ['gal', 'gal', 'l', 1e9],
  ];
  it.each(THEIRS)('agrees with js-quantities on %s', (code, theirs, base, scale) => {
    const factor = Number(unitOf(code).factor.n) / Number(unitOf(code).factor.d);
    const wanted = Qty(1, theirs).to(base).scalar * scale;
    expect(Math.abs(factor / wanted - 1)).toBeLessThan(2e-7);
  });

  it('has every unit once, each in one form', () => {
    expect(new Set(units.map((unit) => unit.code)).size).toBe(units.length);
    expect(forms.flatMap((form) => unitsOf(form))).toHaveLength(units.length);
    expect([isUnitCode('in'), isUnitCode('furlong')]).toEqual([true, false]);
    expect(() => unitOf('furlong' as UnitCode)).toThrow(RangeError);
  });

  it('finds each unit by its own symbol and by all its other names', () => {
    for (const unit of units.filter((each) => each.form !== 'worth')) {
      for (const name of [unit.symbol, unit.code, ...unit.aliases]) {
        const read = parseQuantity(`1 ${name}`, unit.form, unitsOf(unit.form)[0]?.code ?? unit.code);
        expect([name, read.ok ? read.value.unit : read.message]).toEqual([name, unit.code]);
      }
    }
  });
});
