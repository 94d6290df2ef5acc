/** Words of a quote. */
export const quote = {
  title: 'Quote',
  facts: { date: 'Date', validUntil: 'Valid until', expected: 'Expected' },
  blade: (length: string): string => `blade ${length}`,
  steel: (steel: string): string => `steel ${steel}`,
  notes: {
    wish: (wish: string): string => `You asked for: ${wish}`,
    valid: (day: string): string =>
      `The price holds until ${day}. Nothing is ordered yet; say yes, and it becomes an offer with its terms.`,
    estimate: 'The day holds if you decide soon: the bench fills up, and you will be told if it moves.',
  },
};
