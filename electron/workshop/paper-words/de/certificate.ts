/** Words of the certificate of a knife, in German. */
import type { PaperWords } from '../en.ts';

export const certificate: PaperWords['certificate'] = {
  title: 'Zertifikat',
  facts: { finished: 'Fertiggestellt', serial: 'Seriennummer', maker: 'Gefertigt von', model: 'Modell' },
  photo: (name, serial) => `Fotografie von ${name}, Seriennummer ${serial}`,
  blade: {
    heading: 'Klinge',
    steel: 'Stahl',
    heatNumber: (number) => `Schmelze ${number}`,
    hardened: 'Gehärtet',
    quenchedIn: (bath) => `abgeschreckt in ${bath}`,
    cold: 'Tiefgekühlt',
    tempered: 'Angelassen',
    at: (time, temperature) => [time, temperature].filter((part) => part !== '').join(' bei '),
    hardness: 'Härte',
    meanOf: (words, readings) => `${words}, Mittel aus ${readings} Messungen`,
  },
  measured: {
    heading: 'Gemessen',
    weight: 'Gewicht',
    behindEdge: 'Hinter der Schneide',
    places: { heel: 'Ferse', middle: 'Mitte', tip: 'Spitze' },
    straight: 'Gerade innerhalb',
    tested: 'Geprüft',
    tests: {
      edgeFlex: 'Schneide über den Stab',
      cut: 'Arbeitsschnitt',
      chop: 'Hacken',
      skate: 'Feile',
    },
  },
  handle: { heading: 'Griff und Beschläge', handle: 'Griff', fitting: 'Beschläge', sheath: 'Scheide' },
  flaw: 'Als zweite Wahl verkauft',
  papers: {
    heading: 'Papiere, die zu diesem Messer gehören',
    line: (name, details) => (details === '' ? name : `${name}: ${details}`),
    listing: (listing) => `gelistet ${listing}`,
    origin: (origin) => `aus ${origin}`,
    number: (number) => `Dokument ${number}`,
    caution:
      'Bewahren Sie sie beim Messer auf und prüfen Sie die gültige Vorschrift, bevor es verkauft wird oder eine Grenze überquert.',
  },
  care: 'Pflege',
  warranty: 'Gewährleistung',
  signed: 'Unterschrift',
};
