/** Words at the edge of every page, in German. */
import type { PaperWords } from '../en.ts';

export const page: PaperWords['page'] = {
  numbered: (page, pages) => `Seite ${page} von ${pages}`,
  draft: 'Entwurf',
};
