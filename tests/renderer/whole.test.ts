/** Source: how Unicode's locale data (CLDR, as ICU has it) groups whole numbers in English. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { whole } from '../../renderer/lib/format.ts';

it('writes whole numbers as the English locale does', () => {
  const english = new Intl.NumberFormat('en');
  for (const n of [0, 7, 999, 1000, 10_000, 123_456, 1_234_567, -1000])
    expect(whole(n)).toBe(english.format(n));
  fc.assert(fc.property(fc.integer(), (n) => whole(n) === english.format(n)));
});
