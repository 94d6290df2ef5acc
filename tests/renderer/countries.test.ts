import { describe, expect, it } from 'vitest';
import { currencyOf } from '../../electron/domain/currencies.ts';
import { countries, habitsOf, movedHabits } from '../../renderer/lib/countries.ts';

describe('what is usual in a country', () => {
  it('offers inches, ounces, dollars and Letter to an American machine', () => {
    expect(habitsOf('en-US')).toEqual({
      country: 'US',
      currency: 'USD',
      lengthHabit: 'inch',
      weightHabit: 'oz',
      paper: 'Letter',
      taxLabel: 'Sales tax',
      inclusive: false,
    });
  });

  it('offers millimetres, grams, euro and A4 to a German machine', () => {
    expect(habitsOf('de')).toEqual({
      country: 'DE',
      currency: 'EUR',
      lengthHabit: 'mm',
      weightHabit: 'g',
      paper: 'A4',
      taxLabel: 'USt',
      inclusive: true,
    });
  });

  it('follows the country chosen, but for what was changed by hand', () => {
    const [was, now] = [habitsOf('en-US'), habitsOf('en-DE')];
    expect(movedHabits(was, was, now)).toEqual(now);
    expect(movedHabits({ ...was, currency: 'CHF', paper: 'A4' }, was, now)).toEqual({
      country: 'DE',
      lengthHabit: 'mm',
      weightHabit: 'g',
      taxLabel: 'USt',
      inclusive: true,
    });
  });

  it('names every country once, each with a name of its own', () => {
    const codes = countries.map((country) => country.value);
    expect(new Set(codes).size).toBe(codes.length);
    expect(countries.filter((country) => country.label === country.value)).toEqual([]);
  });

  it('suggests only currencies that books can be kept in', () => {
    const suggested = new Set(countries.map((country) => habitsOf(`en-${country.value}`).currency));
    expect([...suggested].filter((code) => typeof currencyOf(code)?.decimals !== 'number')).toEqual([]);
  });
});
