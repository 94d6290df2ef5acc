/** Words of reminders, statements of account and the list of what is owed, in German. */
import type { PaperWords } from '../en.ts';

export const reminder: PaperWords['reminder'] = {
  title: (nth) => (nth === 1 ? 'Zahlungserinnerung' : `${String(nth)}. Zahlungserinnerung`),
  to: 'An',
  date: 'Datum',
  payBy: 'Zahlbar bis',
  opening: (number, issued, due) =>
    `Unsere Rechnung ${number} vom ${issued} war am ${due} fällig. In unseren Büchern ist sie noch nicht ganz bezahlt.`,
  what: 'Was',
  amount: 'Betrag',
  invoice: (number) => `Rechnung ${number}`,
  issued: (day) => `vom ${day}`,
  received: 'Bisher erhalten und gutgeschrieben',
  open: 'Noch offen',
  asking: (amount, day) => `Bitte zahlen Sie ${amount} bis zum ${day}.`,
  crossed: 'Ist Ihre Zahlung schon unterwegs, betrachten Sie dieses Schreiben bitte als erledigt.',
};

export const statement: PaperWords['statement'] = {
  title: 'Kontoauszug',
  to: 'An',
  from: 'Von',
  until: 'Bis',
  currency: 'Währung',
  what: 'Was',
  day: 'Tag',
  amount: 'Betrag',
  balance: 'Saldo',
  opening: 'Saldovortrag',
  closing: 'Am Ende offen',
  inYourFavour: 'Am Ende zu Ihren Gunsten',
  kinds: {
    invoice: (number) => `Rechnung ${number}`,
    credit: (number) => `Rechnungskorrektur ${number}`,
    payment: (number) => `Zahlung auf ${number}`,
    refund: (number) => `Rückzahlung auf ${number}`,
    reversal: (number) => `Buchung auf ${number} zurückgenommen`,
    moved: (number) => `Verrechnung auf ${number}`,
  },
  ask: 'Bitte melden Sie sich, wenn Ihre Bücher etwas anderes sagen.',
};

export const ageing: PaperWords['ageing'] = {
  title: 'Offene Forderungen',
  bands: {
    notDue: 'Noch nicht fällig',
    to30: '1 bis 30 Tage überfällig',
    to60: '31 bis 60 Tage überfällig',
    to90: '61 bis 90 Tage überfällig',
    over90: 'Über 90 Tage überfällig',
  },
  buyer: 'Käufer',
  number: 'Rechnung',
  due: 'Fällig',
  late: 'Tage überfällig',
  open: 'Offen',
  owed: 'Insgesamt offen',
  toGiveBack: 'Zurückzuzahlen',
  nothing: 'Niemand schuldet etwas.',
};
