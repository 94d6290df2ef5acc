import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { currencyOf, decimalsOf } from '../../electron/domain/currencies.ts';
import {
  formatMicro,
  formatMinor,
  microToMinor,
  minorToMicro,
  parseMicro,
  parseMoney,
} from '../../electron/domain/money.ts';
import { plainDecimal } from '../../electron/domain/number-text.ts';
import { cents, micro, sentence, value } from './figures.ts';

describe('costs and selling amounts', () => {
  it('rounds a cost half away from zero where it becomes an amount', () => {
    expect(microToMinor(micro('19.113'), 2)).toBe(1911);
    expect([micro('0.125'), micro('-0.125'), micro('0.124999')].map((cost) => microToMinor(cost, 2))).toEqual(
      [13, -13, 12],
    );
    expect(microToMinor(micro('2.5'), 0)).toBe(3);
    expect(microToMinor(micro('1.2345'), 3)).toBe(1235);
  });

  it('brings every amount back from the cost scale unchanged', () => {
    const amount = fc.integer({ min: -900_000_000, max: 900_000_000 });
    fc.assert(
      fc.property(amount, fc.constantFrom(0, 2, 3, 4), (minor, decimals) => {
        expect(microToMinor(minorToMicro(minor, decimals), decimals)).toBe(minor);
      }),
    );
  });

  it('rounds like decimal.js does half up', () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), (cost) => {
        const wanted = new Decimal(cost).div(10_000).toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber();
        expect(microToMinor(cost, 2)).toBe(wanted || 0);
      }),
    );
  });
});

describe('writing money', () => {
  it('groups thousands and keeps the decimals of the currency', () => {
    expect(formatMinor(128_000, 'USD')).toBe('1,280.00');
    expect(formatMinor(128_000, 'USD', { symbol: true })).toBe('$1,280.00');
    expect(formatMinor(-5, 'EUR', { symbol: true })).toBe('-€0.05');
    expect(formatMinor(1_234_567, 'JPY')).toBe('1,234,567');
    expect(formatMinor(1_234_567, 'KWD')).toBe('1,234.567');
    expect(formatMinor(150_000, 'SEK', { symbol: true })).toBe('kr 1,500.00');
  });

  it('shows an exact cost with as many decimals as it needs, up to the limit', () => {
    expect(formatMicro(micro('19.113'), 'USD')).toBe('19.113');
    expect(formatMicro(micro('24'), 'USD')).toBe('24.00');
    expect(formatMicro(micro('1.470005'), 'USD', 4)).toBe('1.47');
    expect(formatMicro(micro('1.46995'), 'USD', 4)).toBe('1.47');
    expect(formatMicro(micro('12.3456'), 'JPY', 2, { symbol: true })).toBe('¥12.35');
  });
});

describe('reading money', () => {
  it('reads the ways people write an amount', () => {
    const typed = [
      '1,280.00',
      '1280',
      '1.280,00',
      '1 280,00',
      "1'280.00",
      '$1,280',
      '1280 kr',
      'USD 1280.0',
      '€ 1280',
    ];
    expect(typed.map((text) => value(parseMoney(text, 2)))).toEqual(typed.map(() => 128_000));
  });

  it('reads minus signs and brackets as negative', () => {
    expect(['-5', '−5.00', '(5)', '5-', '-$5', '$-5'].map((text) => value(parseMoney(text, 2)))).toEqual(
      Array(6).fill(-500),
    );
    expect(Object.is(value(parseMoney('-0', 2)), 0)).toBe(true);
  });

  it('takes a single comma before three digits as grouping and otherwise as the decimal sign', () => {
    expect(value(parseMoney('1,280', 2))).toBe(128_000);
    expect(value(parseMoney('1,28', 2))).toBe(128);
    expect(value(parseMoney('12,5', 2))).toBe(1250);
    expect(value(parseMoney('1,280,000', 2))).toBe(128_000_000);
  });

  it('does not guess at 1.280 where money has two decimals', () => {
    expect(sentence(parseMoney('1.280', 2))).toBe(
      '“1.280” can be read two ways. Write 1280 for the large amount, or fewer decimals for the small one.',
    );
    expect(value(parseMoney('1.280', 3))).toBe(1280);
  });

  it('says what is wrong with text that is no amount', () => {
    expect(sentence(parseMoney('', 2))).toBe('Enter an amount.');
    expect(sentence(parseMoney('12.3456', 2))).toBe(
      '“12.3456” has too many decimals: at most 2 can be written here.',
    );
    expect(sentence(parseMoney('1.5', 0))).toBe('“1.5” has too many decimals: this currency has none.');
    expect(sentence(parseMoney('99999999999', 2))).toBe(
      '“99999999999” is more than the books can hold. Check the number.',
    );
    for (const text of [
      'abc',
      '--5',
      '1,2,3',
      '1.2.3',
      '5 5',
      '-(5)',
      '.',
      '$',
      '1e5',
      '0x10',
      'x5',
      '5 apples',
      '$5$',
      '12,34.5.6',
      '1,28,000',
    ]) {
      expect(sentence(parseMoney(text, 2))).toBe(`“${text}” is not an amount. Write it like 1,280.00.`);
    }
  });

  it('reads unit costs to six decimals', () => {
    expect(value(parseMicro('0.121234'))).toBe(121_234);
    expect(sentence(parseMicro('0.1212345'))).toContain('at most 6');
  });

  it('reads back what it writes, in every scale', () => {
    const codes = fc.constantFrom('USD', 'JPY', 'KWD', 'CLF', 'SEK', 'CAD', 'INR');
    const amount = fc.integer({ min: -9_000_000_000, max: 9_000_000_000 });
    fc.assert(
      fc.property(amount, codes, fc.boolean(), (minor, code, symbol) => {
        expect(value(parseMoney(formatMinor(minor, code, { symbol }), decimalsOf(code)))).toBe(minor);
      }),
    );
  });

  it('never turns odd text into a number that is not finite', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...Array.from("0123456789.,-() $€'_eE")) }), (text) => {
        const read = parseMoney(text, 2);
        if (read.ok) expect(Number.isSafeInteger(read.value)).toBe(true);
      }),
    );
  });
});

describe('number text', () => {
  it('settles every mixture of signs by its rules', () => {
    const pairs: [string, string | undefined][] = [
      ['1 280', '1280'],
      ['12 80', undefined],
      ['1.280.000', '1280000'],
      ['1.280.00', undefined],
      ['1,280.5', '1280.5'],
      ['1.280,5', '1280.5'],
      ['12,80.5', undefined],
      ['0,280', '0.280'],
      ['.5', '0.5'],
      ['5.', '5'],
      ['', undefined],
      [',', undefined],
    ];
    expect(pairs.map(([text]) => plainDecimal(text))).toEqual(pairs.map(([, wanted]) => wanted));
  });

  it('knows currencies by code only', () => {
    expect(currencyOf('USD')).toEqual({
      code: 'USD',
      number: '840',
      decimals: 2,
      symbol: '$',
      name: 'US Dollar',
    });
    expect(currencyOf('usd')).toBeUndefined();
    expect(() => decimalsOf('XAU')).toThrow(RangeError);
    expect(cents('1.5')).toBe(150);
  });
});
