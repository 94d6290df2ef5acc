/** Words of what is done to a knife after its sale, as an invoice names it, in German. */
import type { PaperWords } from '../en.ts';

export const service: PaperWords['service'] = {
  kinds: {
    sharpening: 'Schärfen',
    repair: 'Reparatur',
    warranty: 'Arbeit auf Gewährleistung',
    other: 'Arbeit an einem Messer',
  },
  received: (knife, day) => `${knife}, eingegangen ${day}`,
};
