/** Words at the edge of every page, in German. */
import type { PaperWords } from '../en.ts';

export const page: PaperWords['page'] = {
  folio: 'Seite {page} von {pages}',
  draft: 'Entwurf',
  sample: {
    mark: 'Muster',
    buyer: 'Name des Käufers',
    address: 'Straße und Hausnummer\nOrt',
    knife: 'Name des Modells',
    detail: 'woraus es gemacht ist, Seriennummer',
    note: 'Hier steht, was Sie unter jede Rechnung schreiben.',
  },
};
