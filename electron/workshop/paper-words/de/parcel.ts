/** Words of the packing slip and of the list of what is in a parcel, in German. */
import type { PaperWords } from '../en.ts';

export const parcel: PaperWords['parcel'] = {
  slip: {
    title: 'Packzettel',
    to: 'An',
    columns: { what: 'In diesem Paket', quantity: 'Menge', value: 'Wert' },
    facts: {
      sent: 'Versandt',
      carrier: 'Zusteller',
      tracking: 'Sendungsnummer',
      weight: 'Gewicht',
      insured: 'Versichert mit',
      invoice: 'Rechnung',
      serial: 'Seriennummer',
    },
    together: 'Zusammen',
    open: 'Vorsichtig öffnen: Die Schneide ist scharf. Heben Sie den Karton auf, bis Sie alles angesehen haben.',
    care: 'Pflege',
    returns: 'Rückgabe',
  },
  list: {
    title: 'Inhaltsliste',
    from: 'Absender',
    to: 'Empfänger',
    columns: {
      what: 'Bezeichnung',
      quantity: 'Menge',
      weight: 'Nettogewicht',
      value: 'Wert',
      tariff: 'Zolltarifnummer',
      origin: 'Ursprung',
    },
    facts: {
      reason: 'Grund',
      sale: 'Warenverkauf',
      sent: 'Datum',
      gross: 'Bruttogewicht',
      currency: 'Währung',
      carrier: 'Zusteller',
      tracking: 'Sendungsnummer',
      insured: 'Versicherungswert',
      invoice: 'Rechnung',
    },
    together: 'Zusammen',
    notWeighed: 'nicht gewogen',
    declared: 'Erklärt von',
    signature: 'Datum und Unterschrift',
    caution:
      'Eine Liste zum Abschreiben in das Formular, das Post oder Zusteller verlangen (für Briefe und Pakete meist CN 22 oder CN 23 des Weltpostvereins). Sie ist selbst keine Zollanmeldung. Tarifnummer, Wert und ob die Sendung überhaupt erlaubt ist, prüft der Absender bei der Post und beim Zoll beider Länder: Es gilt die jeweils gültige Vorschrift.',
  },
};
