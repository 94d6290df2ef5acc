/** Books from before fiscal years: nothing in them changes, and a rule of the year is checked by the books themselves. */
import { expect, it } from 'vitest';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { migrations } from '../../migrations/index.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const before = migrations.filter((step) => step.number < 110);

it('adds rules of the year to books that had none, and keeps what is in them', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(
    folder.books,
    `INSERT INTO suppliers (id, name, email, phone, website, lead_days, note) VALUES ('s', 'Greyfen', '', '', '', 3, 'bars');`,
  );
  await (await open(folder, openOptions(migrations))).close('2026-01-05T09:00:00.000Z');
  expect(look(folder.books, 'SELECT name, lead_days, note FROM suppliers')).toEqual([
    { name: 'Greyfen', lead_days: 3, note: 'bars' },
  ]);
  const add = (row: string): void => edit(folder.books, `INSERT INTO fiscal_rules VALUES (${row})`);
  add(`'2024-07-01', 'date', 1, 31`);
  expect(() => add(`'2025-01-01', 'last', 11, 8`)).toThrow('CHECK');
  expect(() => add(`'2025-01-01', 'date', 13, 1`)).toThrow('CHECK');
  expect(look(folder.books, 'SELECT from_on, kind, month, day FROM fiscal_rules')).toEqual([
    { from_on: '2024-07-01', kind: 'date', month: 1, day: 31 },
  ]);
});
