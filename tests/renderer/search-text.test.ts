/** Searching many texts in one sweep finds what looking at each of them finds. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { searchText } from '../../renderer/lib/search-text.ts';

const letters = fc.string({ unit: fc.constantFrom('a', 'b', 'ß', '1', '-', '\n'), maxLength: 8 });
const word = fc.string({ unit: fc.constantFrom('a', 'b', 'ß', '1', '-'), minLength: 1, maxLength: 3 });

test('finds the texts that hold every word, in their order', () => {
  fc.assert(
    fc.property(fc.array(letters, { maxLength: 40 }), fc.array(word, { maxLength: 3 }), (texts, words) => {
      const one = texts.flatMap((text, at) => (words.every((each) => text.includes(each)) ? [at] : []));
      expect(searchText(texts).find(words)).toEqual(one);
    }),
    { numRuns: 300 },
  );
});
