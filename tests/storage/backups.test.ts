import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { listCopies } from '../../electron/storage/backups.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { hold } from '../../electron/storage/holder.ts';
import { restoreCopy } from '../../electron/storage/restore.ts';
import { edit, hashOf, holder, look, tempWorkshop } from './support.ts';
import { handClock, smallCore } from './small-core.ts';

const texts = (file: string) =>
  (look(file, 'SELECT text FROM notes ORDER BY rowid') as { text: string }[]).map(({ text }) => text);

/** Restores as a host would: folder held, books closed. */
function restore(root: string, name: string, newest = 1000): string {
  const folder = workshopFolder(root);
  const held = hold(folder, holder);
  try {
    return restoreCopy(folder, name, { at: '2024-07-09T08:00:00.000Z', newest }).keptAs;
  } finally {
    held.release();
  }
}

describe('safety copies', () => {
  it('hold the books as they stand, with size, hash and journal position in a side file', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    await core.call('notes.add', { text: 'one bar' });
    const reply = await core.call('workshop.copyNow', {});
    await core.call('notes.add', { text: 'after the copy' });
    await core.close();
    const folder = workshopFolder(root);
    const [record] = listCopies(folder);
    const file = path.join(folder.backups, record?.name ?? '');
    expect(reply).toEqual({
      ok: true,
      seq: 2,
      value: {
        name: record?.name,
        at: '2024-07-06T09:30:00.000Z',
        bytes: fs.statSync(file).size,
        sha256: hashOf(file),
        verified: true,
        changed: null,
        reason: 'asked',
        seq: 1,
      },
    });
    expect([record?.seq, record?.reason, texts(file)]).toEqual([1, 'asked', ['one bar']]);
    expect(fs.readdirSync(folder.backups).sort()).toEqual(
      [record?.name.replace('.db', '.json'), record?.name].sort(),
    );
  });

  it('are made at close when the books changed and the last one is a day old', async () => {
    const root = tempWorkshop();
    const session = async (now: string, note?: string) => {
      const core = await smallCore(root, { clock: handClock(now), newId: () => now });
      if (note !== undefined) await core.call('notes.add', { text: note });
      await core.close();
      return listCopies(workshopFolder(root)).length;
    };
    const counts = [
      await session('2024-07-06T09:00:00.000Z'),
      await session('2024-07-06T10:00:00.000Z', 'first'),
      await session('2024-07-06T11:00:00.000Z', 'same day'),
      await session('2024-07-08T09:00:00.000Z'),
      await session('2024-07-09T09:00:00.000Z'),
    ];
    expect(counts).toEqual([0, 1, 1, 2, 2]);
  });

  it('do not count while their side file is missing or their size is wrong', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    const names: string[] = [];
    for (let n = 0; n < 3; n += 1) {
      await core.call('notes.add', { text: `note ${n}` });
      names.push((await core.books.copyNow(`2024-07-0${n + 1}T09:30:00.000Z`, 'asked')).name);
    }
    const backups = core.books.folder.backups;
    fs.rmSync(path.join(backups, (names[0] ?? '').replace('.db', '.json')));
    fs.truncateSync(path.join(backups, names[1] ?? ''), 4096);
    expect(core.books.copies().map(({ name }) => name)).toEqual([names[2]]);
    await core.close();
  });
});

describe('going back to a safety copy', () => {
  async function changedBooks() {
    const root = tempWorkshop();
    const core = await smallCore(root);
    await core.call('notes.add', { text: 'before' });
    const copy = await core.books.copyNow('2024-07-06T09:30:00.000Z', 'asked');
    await core.call('notes.add', { text: 'after' });
    await core.close();
    return { root, folder: workshopFolder(root), copy };
  }

  it('brings the old books back, keeps the replaced ones, and can itself be undone', async () => {
    const { root, folder, copy } = await changedBooks();
    const keptAs = restore(root, copy.name);
    expect([texts(folder.books), texts(path.join(folder.backups, keptAs))]).toEqual([
      ['before'],
      ['before', 'after'],
    ]);
    const core = await smallCore(root, { goBackTo: keptAs });
    expect(await core.call('notes.all', {})).toMatchObject({
      value: [{ text: 'before' }, { text: 'after' }],
    });
    expect([core.books.checkJournal().sound, core.books.seq()]).toEqual([true, 2]);
    await core.close();
  });

  it('keeps damaged books as they are and opens the restored ones', async () => {
    const { root, folder, copy } = await changedBooks();
    fs.truncateSync(folder.books, 5000);
    const damaged = hashOf(folder.books);
    await expect(smallCore(root)).rejects.toThrow(copy.name);
    const keptAs = restore(root, copy.name);
    expect(hashOf(path.join(folder.backups, keptAs))).toBe(damaged);
    const core = await smallCore(root);
    expect(await core.call('notes.all', {})).toEqual({
      ok: true,
      seq: 1,
      value: [{ id: expect.any(String) as string, text: 'before' }],
    });
    await core.close();
  });

  it('refuses a copy this program is too old for, before anything is touched', async () => {
    const { root, folder, copy } = await changedBooks();
    const before = hashOf(folder.books);
    expect(() => restore(root, copy.name, copy.shape - 1)).toThrow('made with a newer Knifewright');
    expect(hashOf(folder.books)).toBe(before);
    expect(restore(root, copy.name, copy.shape)).toMatch(/^replaced-/);
  });

  it('refuses a copy that changed after it was checked, and one that is not there', async () => {
    const { root, folder, copy } = await changedBooks();
    edit(path.join(folder.backups, copy.name), `UPDATE notes SET text = 'beFore'`);
    const before = hashOf(folder.books);
    expect(() => restore(root, copy.name)).toThrow('has changed since it was checked');
    expect(() => restore(root, 'books-no.db')).toThrow('no verified safety copy');
    expect(hashOf(folder.books)).toBe(before);
  });
});
