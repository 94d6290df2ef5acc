/** Words of invoices and credit notes, in German. */
import type { PaperWords } from '../en.ts';

export const invoice: PaperWords['invoice'] = {
  titles: {
    sale: 'Rechnung',
    second: 'Rechnung',
    deposit: 'Anzahlungsrechnung',
    balance: 'Schlussrechnung',
    service: 'Rechnung',
    // In German law "Gutschrift" is an invoice that the buyer writes.
    credit: 'Rechnungskorrektur',
  },
  head: {
    to: 'An',
    taxNumber: 'Unsere Steuernummer',
    registerNumber: 'Eingetragen',
    buyerTaxNumber: 'Ihre USt-IdNr.',
  },
  facts: {
    date: 'Rechnungsdatum',
    creditDate: 'Datum',
    supply: 'Lieferdatum',
    due: 'Zahlbar bis',
    reference: 'Zahlungsreferenz',
    takesBack: 'Storniert',
    takesBackPartOf: 'Storniert teilweise',
    order: 'Bestellung',
    currency: 'Währung',
  },
  columns: { what: 'Was', quantity: 'Menge', each: 'Einzeln', tax: 'Steuer', amount: 'Betrag' },
  lines: {
    shipping: 'Versand',
    serial: (serial) => `Seriennummer ${serial}`,
    deposit: (what) => `Anzahlung auf ${what}`,
    restocking: 'Einbehalten für die Rücknahme',
    partOf: (number) => `Teil der Rechnung ${number}`,
    taxInside: (counted) => `${counted}, Steuer enthalten`,
  },
  totals: {
    net: 'Netto',
    tax: (label, rate, base) => (base === '' ? `${label} ${rate}` : `${label} ${rate} auf ${base}`),
    total: 'Gesamt',
    totalToPay: 'Zu zahlen',
    totalCredited: 'Gutgeschrieben',
    lessPaid: (number, day) => `Abzüglich bezahlt, Anzahlungsrechnung ${number} vom ${day}`,
    leftToPay: 'Noch zu zahlen',
  },
  notes: {
    material: 'Material',
    care: 'Pflege',
    flaw: 'Zweite Wahl',
    flawIs: (flaw) => `Dieses Messer wird als zweite Wahl verkauft. Sein Fehler: ${flaw}.`,
    warranty: 'Gewährleistung',
    returns: 'Rückgabe',
    restricted: 'Material mit Artenschutzregeln',
    restrictedLot: (name, species, listing, paper) =>
      [
        `${name}${species === '' ? '' : ` (${species})`}`,
        listing === '' ? '' : `gelistet: ${listing}`,
        paper === '' ? '' : `Nachweis ${paper}`,
      ]
        .filter((part) => part !== '')
        .join(', '),
    restrictedCheck: 'Vor dem Grenzübertritt oder der Weitergabe die geltende Regel prüfen.',
    settled: (day) => `Am ${day} vollständig bezahlt, vielen Dank. Es ist nichts mehr offen.`,
    depositTax: (tax) => `Steuer von ${tax} wurde mit der Anzahlung berechnet.`,
    depositsTax: (tax) => `Steuer von ${tax} wurde mit den Anzahlungen berechnet.`,
    reason: 'Grund',
    terms: 'Bedingungen',
    tax: 'Steuer',
  },
  payment: {
    heading: 'So können Sie zahlen',
    account: 'IBAN',
    bank: 'Bank',
    bic: 'BIC',
    holder: 'Kontoinhaber',
    reference: 'Referenz',
    amount: 'Betrag',
    by: 'Bis',
    scan: 'Mit der Banking-App scannen, dann ist die Überweisung ausgefüllt.',
  },
  units: { C62: '', HUR: 'Std.', GRM: 'g', CMT: 'cm', MTR: 'm' },
};
