import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { listCopies } from '../../electron/storage/backups.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { assertOrder, type Migration } from '../../electron/storage/migrate.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { edit, labels, look, openOptions, rebuild, tempWorkshop } from './support.ts';

const NOW = '2024-07-08T09:30:00.000Z';
const all = [...migrations, labels, rebuild];
const shape = (file: string) => look(file, 'SELECT user_version FROM pragma_user_version');

/** Books in the shape before `rebuild`, with rows. */
function booksBefore() {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions([...migrations, labels]));
  edit(folder.books, `INSERT INTO labels VALUES ('a', 'bar'), ('b', 'belt'); INSERT INTO twins VALUES ('a')`);
  return folder;
}

describe('migrations', () => {
  it('brings old rows to the new shape and keeps the rows that point to them', async () => {
    const folder = booksBefore();
    await (await open(folder, openOptions(all))).close(NOW);
    expect(look(folder.books, 'SELECT * FROM labels ORDER BY id')).toEqual([
      { id: 'a', text: 'bar', shelf: 1 },
      { id: 'b', text: 'belt', shelf: 1 },
    ]);
    expect([look(folder.books, 'SELECT id FROM twins'), shape(folder.books)]).toEqual([
      [{ id: 'a' }],
      [{ user_version: rebuild.number }],
    ]);
  });

  it('makes a checked safety copy in the old shape first, and none when nothing is due', async () => {
    const folder = booksBefore();
    await (await open(folder, openOptions(all))).close(NOW);
    await (await open(folder, openOptions(all))).close(NOW);
    const copies = listCopies(folder);
    expect(copies.map(({ reason, shape: inside }) => [reason, inside])).toEqual([
      ['before-migration', labels.number],
    ]);
    expect(look(`${folder.backups}/${copies[0]?.name ?? ''}`, 'SELECT * FROM labels')).toHaveLength(2);
  });

  it('leaves the old shape when a step fails, with no row lost', async () => {
    const folder = booksBefore();
    const bad: Migration = {
      number: rebuild.number,
      name: 'bad',
      sql: 'DELETE FROM twins; DELETE FROM labels; SELECT 1 FROM nowhere;',
    };
    await expect(open(folder, openOptions([...migrations, labels, bad]))).rejects.toThrow(
      'no such table: nowhere',
    );
    expect([look(folder.books, 'SELECT count(*) AS n FROM labels'), shape(folder.books)]).toEqual([
      [{ n: 2 }],
      [{ user_version: labels.number }],
    ]);
  });

  it('refuses a step that leaves a row pointing to nothing', async () => {
    const folder = booksBefore();
    const bad: Migration = { number: rebuild.number, name: 'bad', sql: `DELETE FROM labels WHERE id = 'a'` };
    await expect(open(folder, openOptions([...migrations, labels, bad]))).rejects.toThrow(
      'without their parent',
    );
    expect(look(folder.books, 'SELECT count(*) AS n FROM labels')).toEqual([{ n: 2 }]);
  });

  it('keeps the header on the disk in step, so that an older program sees the newer shape at once', async () => {
    const folder = booksBefore();
    await (await open(folder, openOptions(all))).close(NOW);
    expect(fs.readFileSync(folder.books).readUInt32BE(60)).toBe(rebuild.number);
  });

  it.each([
    [[10, 10], 'twice the same'],
    [[20, 10], 'falling'],
    [[10, 15], 'not a step of ten'],
    [[0, 10], 'zero'],
  ])('refuses the list %j: %s', (numbers) => {
    expect(() => assertOrder(numbers.map((number) => ({ number, name: 'x', sql: '' })))).toThrow(
      'multiple of 10',
    );
  });

  it('has a real list in order', () => {
    expect(() => assertOrder(migrations)).not.toThrow();
    expect(migrations.map((each) => each.number)).toContain(10);
  });
});
