/** Books from before expenses: files keep hanging where they hung, categories are there, and what is booked is not rewritten. */
import { expect, it } from 'vitest';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { migrations } from '../../migrations/index.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const file = (id: string, kind: string): string =>
  `INSERT INTO attachments VALUES ('${id}', '${kind}', 'k1', 'photo', 'a.png', 'c', 'image/png', 3, 'p', 'h', NULL, NULL, 'at', NULL);`;
const expense = `INSERT INTO expenses (id, category_id, cost_on, paid_on, payee, amount_minor, tax_minor, share_ppm, cost_minor,
  receipt, note, repeat_id, repeat_on, reason, reverses_id)
  VALUES ('e1', 'cat-tools', '2025-01-02', NULL, 'P', 100, 0, 1000000, 100, 0, '', NULL, NULL, '', NULL);`;

it('keeps files, brings categories with a line each, and refuses to rewrite what was spent', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(migrations.filter((step) => step.number < 60)));
  edit(folder.books, file('f1', 'build') + file('f2', 'shipment'));
  const before = look(folder.books, 'SELECT * FROM attachments ORDER BY id');
  await (await open(folder, openOptions(migrations))).close('2026-01-05T09:00:00.000Z');
  expect(look(folder.books, 'SELECT * FROM attachments ORDER BY id')).toEqual(before);
  edit(folder.books, file('f3', 'expense') + file('f4', 'asset') + file('f5', 'income'));
  const noLine = look(
    folder.books,
    'SELECT id FROM expense_categories WHERE id NOT IN (SELECT category_id FROM category_lines)',
  );
  expect(noLine).toEqual([]);
  edit(folder.books, expense);
  for (const sql of [
    "UPDATE expenses SET amount_minor = 90 WHERE id = 'e1'",
    "UPDATE expenses SET cost_on = '2024-12-31' WHERE id = 'e1'",
    "DELETE FROM expenses WHERE id = 'e1'",
    expense.replace("'e1'", "'e2'").replace("'P', 100, 0,", "'P', 100, 101,"),
    expense.replace("'e1'", "'e3'").replace("'P', 100,", "'P', -100,"),
  ]) {
    expect(() => {
      edit(folder.books, sql);
    }, sql).toThrow(/immutable|CHECK/);
  }
  edit(folder.books, "UPDATE expenses SET paid_on = '2025-01-09', receipt = 1 WHERE id = 'e1'");
  expect(() => {
    edit(folder.books, "UPDATE expenses SET paid_on = '2025-01-10' WHERE id = 'e1'");
  }).toThrow(/immutable/);
});
