/** What a person is told who dates something in a closed year. */

/** @param through the last closed day */
export const closedSentence = (through: string): string =>
  `The books are closed through ${through}. Date it later, or open that year again under Year, Close a year.`;
