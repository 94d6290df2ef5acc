/** D5: ISO 4217 minor units, READ at datasets/currency-codes @ ab9b0ae, data/codes-all.csv; and the whole table against the package currency-codes. */
import currencyCodes from 'currency-codes';
import { describe, expect, it } from 'vitest';
import { bookCurrencies, currencies, currencyOf, decimalsOf } from '../../electron/domain/currencies.ts';

describe('currencies', () => {
  it.each([
    [0, 'JPY KRW ISK'],
    [2, 'USD EUR GBP CAD AUD CHF SEK HUF'],
    [3, 'KWD BHD TND'],
    [4, 'CLF UYW'],
  ])('D5a: have %i decimals where the standard says so (READ)', (decimals, codes) => {
    expect(codes.split(' ').map((code) => [code, decimalsOf(code)])).toEqual(
      codes.split(' ').map((code) => [code, decimals]),
    );
  });

  it('D5a: gold has no minor unit (READ)', () => {
    expect(currencyOf('XAU')?.decimals).toBeNull();
    expect(bookCurrencies.some((currency) => currency.code === 'XAU')).toBe(false);
  });

  it('D5b: have the numbers of the standard (READ)', () => {
    const numbers = { USD: '840', EUR: '978', GBP: '826', JPY: '392', KWD: '414', CHF: '756', CLF: '990' };
    expect(Object.fromEntries(Object.keys(numbers).map((code) => [code, currencyOf(code)?.number]))).toEqual(
      numbers,
    );
  });

  it('are all the active codes, with number, name and decimals as in the package (list of 2024-06-25)', () => {
    const ours = currencies.map(({ code, number, name, decimals }) => ({
      code,
      number,
      name,
      digits: decimals ?? 0,
    }));
    const theirs = currencyCodes.data
      .map(({ code, number, currency, digits }) => ({ code, number, name: currency.trim(), digits }))
      .sort((a, b) => (a.code < b.code ? -1 : 1));
    expect(ours).toEqual(theirs);
  });
});
