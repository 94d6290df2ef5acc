/** German words of the count sheet and of what a stocktake came to. */
import type { PaperWords } from '../en.ts';

export const stocktake: PaperWords['stocktake'] = {
  sheet: {
    title: 'Zählliste',
    sentence:
      'Eintragen, was am Ende dieses Tages dalag, in der Einheit der Zeile. Was danach gekauft wurde, gehört nicht auf diese Liste.',
    columns: { what: 'Was', booked: 'Laut Büchern', counted: 'Gezählt', remark: 'Bemerkung' },
    signed: { by: 'Gezählt von', second: 'Zweite Zählung von' },
    inUse:
      'In Gebrauch: von jedem eintragen, welcher Teil übrig ist, zum Beispiel 1/2; ein stumpfes zählt nichts.',
    knives: 'Fertige Messer',
    seen: 'Hier, oder wo',
  },
  result: {
    title: 'Inventur',
    open: 'Nicht abgeschlossen: ein Entwurf vom jetzigen Stand',
    columns: {
      what: 'Was',
      booked: 'Laut Büchern',
      counted: 'Gezählt',
      difference: 'Differenz',
      worth: 'Wert',
    },
    totals: 'Ergebnis zu Einstandskosten',
    materials: 'Material im Lager',
    supplies: 'Verbrauchsmaterial',
    opened: 'Angebrochen und in Bädern',
    inWork: 'Unfertige Erzeugnisse',
    finished: 'Fertige Messer',
    together: 'Zusammen',
    booked: 'Laut Büchern vor der Zählung',
    differences: 'Differenzen',
    noDifferences: 'Alles lag da, wie die Bücher sagen.',
    notCounted: 'nicht gezählt, aus den Büchern übernommen',
    knivesHere: 'Fertige Messer vor Ort',
    knivesAway: 'Fertige Messer in Kommission, unterwegs oder zurückgelegt',
    knivesInWork: 'Messer in Arbeit',
    others: 'Angebrochen, in Bädern und begonnene Fertigungen',
    atCost:
      'Alles steht zu dem, was es gekostet hat: Material, Verbrauchsmaterial, Brennstoff und Verpackung. Eigene Arbeit zählt hier nicht.',
    advice:
      'Diese Zahlen bereiten eine Steuererklärung vor und entscheiden nichts; die Verwendung mit der Steuerberatung klären.',
  },
  facts: {
    day: 'Ende des',
    places: 'Gezählt',
    whole: 'die ganze Werkstatt',
    lines: 'Zeilen',
    ended: 'Abgeschlossen',
    amounts: 'Beträge in',
  },
  noPlace: 'Ohne Platz',
  opened: 'in Gebrauch',
  dull: 'stumpf',
  heat: 'Schmelze',
  onConsignment: 'in Kommission bei',
  away: 'unterwegs',
  keptFor: 'zurückgelegt für',
  reasons: {
    lost: 'verloren',
    damaged: 'beschädigt',
    unbooked: 'verbraucht, nicht gebucht',
    miscounted: 'früher falsch gezählt oder eingetragen',
    found: 'gefunden',
    other: 'anderes',
  },
};
