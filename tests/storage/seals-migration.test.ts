/** Books from before years were closed: nothing in them changes, and what a seal says can never be rewritten. */
import { expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const before = migrations.filter((step) => step.number < 80);
const rates = `INSERT INTO rates VALUES ('r1', 'labour', '2024-01-01', 35000000, 'mine')`;
const seal = `INSERT INTO year_seals VALUES ('s1', 1, '2024-01-01', '2024-12-31', '2025-01-20T09:00:00.000Z', 7, 'h', '{}', 1, 'r', '[]', '', 'mark');
  INSERT INTO year_seal_rows VALUES ('s1', 'rates', 'r1', '0123456789abcdef');
  INSERT INTO year_reopenings VALUES ('s1', '2025-02-01T09:00:00.000Z', 'a receipt was found')`;

it('leaves the books as they were and keeps seals and reopenings from being rewritten', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(folder.books, rates);
  await (await open(folder, openOptions(migrations))).close('2026-01-05T09:00:00.000Z');
  expect(look(folder.books, 'SELECT * FROM rates')).toEqual([
    { id: 'r1', kind: 'labour', from_date: '2024-01-01', per_hour_micro: 35_000_000, note: 'mine' },
  ]);
  expect(look(folder.books, 'SELECT count(*) AS n FROM year_seals')).toEqual([{ n: 0 }]);
  edit(folder.books, seal);
  for (const statement of [
    `UPDATE year_seals SET seal = 'other'`,
    'DELETE FROM year_seals',
    `UPDATE year_seal_rows SET mark = ''`,
    'DELETE FROM year_seal_rows',
    `UPDATE year_reopenings SET reason = 'another'`,
    'DELETE FROM year_reopenings',
  ])
    expect(() => {
      edit(folder.books, statement);
    }, statement).toThrow('not rewritten');
  const twice = `INSERT INTO year_reopenings VALUES ('s1', '2025-03-01T09:00:00.000Z', 'once more')`;
  expect(() => edit(folder.books, twice)).toThrow('UNIQUE');
});
