/** Many short texts searched at every key: they lie in one long text, which the machine searches in one sweep. */

/** Stands between two texts; nobody types it. */
const between = '\u0000';

/** Texts laid down for searching. */
export interface SearchText {
  /**
   * The texts in which every word occurs, as their places in the list, in order.
   * @param words as they stand in the texts: lower case where those are
   */
  find(words: readonly string[]): readonly number[];
}

/** How many texts are looked at to see how common a word is. */
const looked = 128;

/** Tells the word that leaves least to be searched for the others. */
const rarestIn = (texts: readonly string[]): ((words: readonly string[]) => string) => {
  const step = Math.max(1, Math.floor(texts.length / looked));
  const some = texts.filter((_text, at) => at % step === 0);
  const hits = (word: string): number => some.filter((text) => text.includes(word)).length;
  return (words) => {
    if (words.length <= 1) return words[0] ?? '';
    const [rarest] = words
      .map((word) => ({ word, hits: hits(word) }))
      .toSorted((a, b) => a.hits - b.hits || b.word.length - a.word.length);
    return rarest?.word ?? '';
  };
};

/** Lays texts down. */
export const searchText = (texts: readonly string[]): SearchText => {
  const whole = texts.join(between);
  const starts = new Uint32Array(texts.length + 1);
  for (const [at, text] of texts.entries()) starts[at + 1] = (starts[at] ?? 0) + text.length + 1;
  const rarestOf = rarestIn(texts);
  const startOf = (at: number): number => starts[at] ?? whole.length;

  /** The text a place in the long one belongs to, none before `from`. */
  const textAt = (place: number, from: number): number => {
    let [low, high] = [from, texts.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (startOf(middle) <= place) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  const holdsAll = (text: string, words: readonly string[]): boolean => {
    for (const word of words) if (!text.includes(word)) return false;
    return true;
  };
  return {
    find(words) {
      const first = rarestOf(words);
      if (first === '') return texts.map((_text, at) => at);
      const others = words.filter((word) => word !== first);
      const found: number[] = [];
      let from = 0;
      for (let place = whole.indexOf(first); place >= 0; place = whole.indexOf(first, startOf(from))) {
        const at = textAt(place, from);
        if (holdsAll(texts[at] ?? '', others)) found.push(at);
        from = at + 1;
        if (from >= texts.length) break;
      }
      return found;
    },
  };
};
