/** Words of a quote, in German. */
import type { PaperWords } from '../en.ts';

export const quote: PaperWords['quote'] = {
  title: 'Preisangebot',
  facts: { date: 'Datum', validUntil: 'Gültig bis', expected: 'Voraussichtlich' },
  blade: (length) => `Klinge ${length}`,
  steel: (steel) => `Stahl ${steel}`,
  notes: {
    wish: (wish) => `Ihr Wunsch: ${wish}`,
    valid: (day) =>
      `Der Preis gilt bis ${day}. Bestellt ist damit noch nichts; wenn Sie zusagen, wird daraus ein Angebot mit seinen Bedingungen.`,
    estimate:
      'Der Termin gilt, wenn Sie sich bald entscheiden: Die Werkbank füllt sich; Sie erfahren es, wenn er sich verschiebt.',
  },
};
