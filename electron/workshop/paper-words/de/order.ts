/** Words of offers and of the papers of knives made to order, in German. */
import type { PaperWords } from '../en.ts';

export const order: PaperWords['order'] = {
  title: 'Angebot',
  facts: {
    date: 'Datum',
    answerBy: 'Antwort bitte bis',
    promised: 'Voraussichtlich',
  },
  lines: {
    order: (tag) => `Bestellung ${tag}`,
    knife: 'Messer auf Bestellung',
    option: 'Ausführung',
    special: 'Besonderes Material',
    shipping: 'Versand',
    kept: 'Einbehalten von der Anzahlung',
    keptDetail: 'nach den Bedingungen, die bei der Bestellung vereinbart waren',
  },
  totals: { price: 'Preis', deposit: 'Davon vorab als Anzahlung' },
  notes: {
    taxLater: 'Die Steuer wird mit der Schlussrechnung berechnet.',
    wish: (wish) => `Ihr Wunsch: ${wish}`,
    always: 'Die Anzahlung können Sie zurückverlangen, solange das Messer nicht geliefert ist.',
    untilWork: (kept) =>
      `Die Anzahlung können Sie zurückverlangen, bis der Stahl geschnitten ist. Danach werden davon ${kept} einbehalten, wenn Sie absagen.`,
    never: (kept) => `Wenn Sie absagen, werden ${kept} der Anzahlung einbehalten.`,
    days: (deposit, balance) =>
      `Die Anzahlung ist ${deposit} Tage nach ihrer Rechnung fällig, der Rest ${balance} Tage nach der Schlussrechnung, bevor das Messer verschickt wird.`,
    noDeposit: 'Es wird keine Anzahlung verlangt.',
    estimate: 'Der Termin ist geschätzt; Sie erfahren es, wenn er sich verschiebt.',
  },
};
