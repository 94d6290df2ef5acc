/** Books from before the sheet for the preparer: items stay stock until told otherwise, and what is kept of a sheet cannot be rewritten. */
import { expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const before = migrations.filter((step) => step.number < 100);
const NOW = '2026-01-05T09:00:00.000Z';

it('leaves every item as it was, counted stock, and keeps sheets handed over', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(
    folder.books,
    `INSERT INTO items (id, name, kind, form, unit, piece_word, costing, useful_remnant, kerf_nm, low_level, note)
     VALUES ('o', 'Quench oil', 'oil', 'volume', 'gal', 'can', 'fifo', 0, 0, 1, 'kept warm');`,
  );
  await (await open(folder, openOptions(migrations))).close(NOW);
  expect(look(folder.books, 'SELECT name, note, low_level, incidental FROM items')).toEqual([
    { name: 'Quench oil', note: 'kept warm', low_level: 1, incidental: 0 },
  ]);
  edit(
    folder.books,
    `INSERT INTO sheets_handed (id, from_on, to_on, on_date, form_id, view, closing_minor, lines)
     VALUES ('h', '2025-01-01', '2025-12-31', '2026-01-04', 'f', 'cash', 110591, '[]');`,
  );
  expect(() => edit(folder.books, `UPDATE sheets_handed SET closing_minor = 1`)).toThrow('not rewritten');
  expect(() => edit(folder.books, `DELETE FROM sheets_handed`)).toThrow('not rewritten');
});
