/** Lines of an address. Layouts: the address metadata of libaddressinput (`fmt`), as read in a published copy. */
import { describe, expect, it } from 'vitest';
import { addressLines } from '../../electron/domain/addresses.ts';

const parts = {
  address: '12 Larder Street\nFlat 3',
  city: 'Meresbank',
  region: 'NW',
  postcode: '48211',
};

describe('an address', () => {
  it.each([
    // `%A%n%C, %S %Z`
    ['US', 'US', ['Meresbank, NW 48211']],
    // `%A%n%C %S %Z`
    ['CA', 'CA', ['Meresbank NW 48211']],
    // `%A%n%C%n%Z`; a county is not asked for, but is not lost either.
    ['GB', 'GB', ['Meresbank', 'NW', '48211']],
    // `%A%n%Z %C`
    ['DK', 'DK', ['48211 Meresbank', 'NW']],
    // `%A%n%Z %C %S`
    ['ES', 'ES', ['48211 Meresbank NW']],
    // `%A%n%C, %S, %Z`
    ['CO', 'CO', ['Meresbank, NW, 48211']],
    // Abroad the country stands last, in English capitals (UPU addressing guidelines).
    ['DE', 'US', ['48211 Meresbank', 'NW', 'GERMANY']],
    ['', 'US', ['Meresbank, NW 48211']],
  ])('to %s from %s is written in the order of its country', (country, home, below) => {
    expect(addressLines({ ...parts, country }, home)).toEqual(['12 Larder Street', 'Flat 3', ...below]);
  });

  it('leaves out what is empty, with the sign that would have joined it', () => {
    const bare = { ...parts, address: '  ', region: '', postcode: '' };
    expect(addressLines({ ...bare, country: 'US' }, 'US')).toEqual(['Meresbank']);
    expect(addressLines({ ...parts, region: '', country: 'US' }, 'US').at(-1)).toBe('Meresbank 48211');
    expect(addressLines({ ...parts, city: '', country: 'US' }, 'US').at(-1)).toBe('NW 48211');
  });

  it('of older books, all in one text, is kept as it was and names the country once', () => {
    const old = { address: 'Hafenweg 3\n20457 Hamburg\nGermany', city: '', region: '', postcode: '' };
    expect(addressLines({ ...old, country: 'DE' }, 'US')).toEqual(['Hafenweg 3', '20457 Hamburg', 'Germany']);
    expect(addressLines({ ...old, country: 'AT' }, 'DE').at(-1)).toBe('AUSTRIA');
  });

  it('in another script stays as it was written', () => {
    const tokyo = {
      address: '北町 2-1',
      city: '港区',
      region: '東京都',
      postcode: '105-0011',
      country: 'JP',
    };
    expect(addressLines(tokyo, 'US')).toEqual(['北町 2-1', '港区, 東京都', '105-0011', 'JAPAN']);
  });
});
