import fs from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { APPLICATION_ID } from '../../electron/storage/header.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { StorageTrouble } from '../../electron/storage/trouble.ts';
import { contentsOf, edit, labels, look, openOptions, tempFolder, tempWorkshop } from './support.ts';

/** Durable, guarded, and nothing in the file trusted. */
const wanted = {
  journal_mode: 'wal',
  synchronous: 2,
  foreign_keys: 1,
  trusted_schema: 0,
  cell_size_check: 1,
  mmap_size: 0,
  cache_size: -65_536,
  wal_autocheckpoint: 0,
  checkpoint_fullfsync: 1,
  busy_timeout: 5000,
  defensive: true,
};

const LATER = '2024-07-08T09:30:00.000Z';

function made(root = tempWorkshop()) {
  const folder = workshopFolder(root);
  createBooks(folder, openOptions());
  return folder;
}

const troubleOf = async (work: () => unknown): Promise<StorageTrouble> => {
  try {
    await work();
  } catch (error) {
    if (error instanceof StorageTrouble) return error;
    throw error;
  }
  throw new Error('it was not refused');
};

/** Opening must be refused for the reason given and leave the folder as it was, to the byte. */
async function expectUntouched(root: string, why: string): Promise<string> {
  const before = contentsOf(root);
  const trouble = await troubleOf(() => open(workshopFolder(root), openOptions()));
  expect([trouble.why, contentsOf(root)]).toEqual([why, before]);
  return trouble.message;
}

describe('making and opening a workshop', () => {
  it('makes books with our mark, the newest shape and private permissions', () => {
    const folder = made();
    const modes = [folder.root, folder.attachments, folder.documents, folder.backups, folder.books].map(
      (each) => fs.statSync(each).mode & 0o777,
    );
    expect(modes).toEqual([0o700, 0o700, 0o700, 0o700, 0o600]);
    expect(look(folder.books, 'SELECT * FROM pragma_application_id, pragma_user_version')).toEqual([
      { application_id: APPLICATION_ID, user_version: labels.number },
    ]);
    expect(fs.readdirSync(folder.root).sort()).toEqual([
      'attachments',
      'backups',
      'documents',
      'holder.lock',
      'workshop.db',
    ]);
  });

  it('keeps the log beside the books private too', async () => {
    const folder = made();
    const books = await open(folder, openOptions());
    const modes = fs
      .readdirSync(folder.root)
      .map((name) => [name, (fs.statSync(path.join(folder.root, name)).mode & 0o077) === 0]);
    expect(Object.fromEntries(modes)).toEqual({
      attachments: true,
      backups: true,
      documents: true,
      'holder.json': true,
      'holder.lock': true,
      'workshop.db': true,
      'workshop.db-shm': true,
      'workshop.db-wal': true,
    });
    await books.close(LATER);
  });

  it('sets every wanted setting at every open', async () => {
    const folder = made();
    for (const round of [1, 2]) {
      const books = await open(folder, openOptions());
      expect([round, books.settings()]).toEqual([round, wanted]);
      await books.close(LATER);
    }
  });

  it('never makes books over a file that is there', async () => {
    const root = tempFolder();
    fs.writeFileSync(path.join(root, 'workshop.db'), '');
    const before = contentsOf(root);
    const trouble = await troubleOf(() => createBooks(workshopFolder(root), openOptions()));
    expect([trouble.why, contentsOf(root)]).toEqual(['exists', before]);
  });

  it('never starts afresh beside safety copies whose books are gone', async () => {
    const folder = made();
    fs.rmSync(folder.books);
    fs.writeFileSync(path.join(folder.backups, 'books-1.db'), 'a copy');
    const trouble = await troubleOf(() => createBooks(folder, openOptions()));
    expect([trouble.why, trouble.message.includes('its books are gone')]).toEqual(['exists', true]);
  });
});

describe('files that are not opened', () => {
  it('refuses a folder without books and makes none', async () => {
    const root = tempFolder();
    expect(await expectUntouched(root, 'missing')).toContain('There is no workshop in');
  });

  it('refuses an emptied file, which SQLite itself would accept', async () => {
    const root = tempFolder();
    fs.writeFileSync(path.join(root, 'workshop.db'), '');
    expect(await expectUntouched(root, 'empty')).toContain('empty file');
  });

  it('refuses a text file', async () => {
    const root = tempFolder();
    fs.writeFileSync(path.join(root, 'workshop.db'), 'Bar stock, 48 in\n'.repeat(50));
    expect(await expectUntouched(root, 'foreign')).toContain('was not made by Knifewright');
  });

  it('refuses the database of another program', async () => {
    const root = tempFolder();
    edit(
      path.join(root, 'workshop.db'),
      'PRAGMA application_id = 77; CREATE TABLE t (a); INSERT INTO t VALUES (1)',
    );
    await expectUntouched(root, 'foreign');
  });

  it('refuses books of a newer shape and says which', async () => {
    const folder = made();
    fs.rmSync(folder.lock);
    edit(folder.books, `PRAGMA user_version = ${labels.number + 10}`);
    const message = await expectUntouched(folder.root, 'newer');
    expect(message).toContain(`books version ${labels.number + 10}; this one reads up to ${labels.number}`);
  });

  it('refuses books whose newer shape is still only in the log', async () => {
    const folder = made();
    const root = tempFolder();
    const db = new Database(folder.books);
    db.pragma('journal_mode = wal');
    db.pragma(`user_version = ${labels.number + 10}`);
    for (const name of ['workshop.db', 'workshop.db-wal'])
      fs.copyFileSync(path.join(folder.root, name), path.join(root, name));
    db.close();
    await expectUntouched(root, 'newer');
  });

  it('refuses garbled and cut-off books and names the newest safety copy', async () => {
    const folder = made();
    const books = await open(folder, openOptions());
    const copy = await books.copyNow(LATER, 'asked');
    await books.close(LATER);
    fs.rmSync(folder.lock);
    const sound = fs.readFileSync(folder.books);

    const garbled = Buffer.from(sound);
    garbled.fill(0xa5, 4096 * 2, 4096 * 4);
    fs.writeFileSync(folder.books, garbled);
    expect(await expectUntouched(folder.root, 'damaged')).toContain(
      `${copy.name} of 2024-07-08 09:30 UTC; go back to it`,
    );

    fs.writeFileSync(folder.books, sound.subarray(0, 4096 * 3 + 100));
    expect(await expectUntouched(folder.root, 'damaged')).toContain(copy.name);

    fs.writeFileSync(folder.books, sound);
    await (await open(folder, openOptions())).close(LATER);
  });

  it('refuses books whose last journal entry was altered', async () => {
    const folder = made();
    const books = await open(folder, openOptions());
    books.write({ at: LATER, who: 'Test bench', command: 'labels.add', input: { text: 'bar' } }, () => null);
    await books.close(LATER);
    fs.rmSync(folder.lock);
    edit(folder.books, `DROP TRIGGER journal_no_update; UPDATE journal SET body = '{"text":"belt"}'`);
    expect(await expectUntouched(folder.root, 'damaged')).toContain('journal entry 1: the entry was altered');
  });

  it('opens the real list of migrations and no other shape', async () => {
    const folder = workshopFolder(tempWorkshop());
    createBooks(folder, openOptions(migrations));
    const books = await open(folder, openOptions(migrations));
    expect(books.seq()).toBe(0);
    await books.close(LATER);
  });
});
