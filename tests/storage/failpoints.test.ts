import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { listCopies } from '../../electron/storage/backups.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { CHILD_TIMEOUT_MS, hashOf, openOptions, runChild, tempWorkshop } from './support.ts';
import { smallCore, smallMigrations } from './small-core.ts';

const newest = smallMigrations.at(-1)?.number ?? 0;

/** Runs a task that is killed at a step, and once more in case the recovery passes the step too. */
async function killTwice(step: string, args: readonly string[]): Promise<void> {
  const first = await runChild(args, { KNIFEWRIGHT_FAILPOINT: step });
  expect([step, first.signal, first.err]).toEqual([step, 'SIGKILL', '']);
  await runChild(args, { KNIFEWRIGHT_FAILPOINT: step });
}

async function notesIn(root: string): Promise<string[]> {
  const core = await smallCore(root, { create: false });
  const reply = await core.call('notes.all', {});
  expect(core.books.checkJournal().sound).toBe(true);
  await core.close();
  return reply.ok ? (reply.value as { text: string }[]).map(({ text }) => text) : [reply.fault.message];
}

/** Closed books with one note before the safety copy and one after. */
async function booksWithCopy(): Promise<{ root: string; copy: string }> {
  const root = tempWorkshop();
  const core = await smallCore(root);
  await core.call('notes.add', { text: 'before' });
  const { name } = await core.books.copyNow('2024-07-06T09:30:00.000Z', 'asked');
  await core.call('notes.add', { text: 'after' });
  await core.close();
  return { root, copy: name };
}

describe.concurrent('a power cut at a named step', { timeout: CHILD_TIMEOUT_MS }, () => {
  it.each(['create.made', 'create.done'])('%s: leaves no workshop or a whole one', async (step) => {
    const root = tempWorkshop();
    await killTwice(step, ['openAndClose', root]);
    const last = await runChild(['openAndClose', root]);
    expect(last.said).toEqual([{ seq: 0, sound: true }]);
  });

  it.each([
    ['command.worked', 0],
    ['command.journalled', 0],
    ['command.committed', 2],
  ])('%s: the command is there with its entry, or not at all', async (step, notes) => {
    const root = tempWorkshop();
    await killTwice(step, ['postSome', root, '1']);
    expect(await notesIn(root)).toHaveLength(notes);
  });

  it.each(['sql', 'version', 'done'])(
    'migrate %s: the books have the old shape or the new one, and their copy',
    async (end) => {
      const folder = workshopFolder(tempWorkshop());
      createBooks(folder, openOptions(migrations));
      await killTwice(`migrate.${newest}.${end}`, ['openAndClose', folder.root]);
      expect(listCopies(folder)[0]).toMatchObject({ reason: 'before-migration', shape: newest - 10 });
      expect(await notesIn(folder.root)).toEqual([]);
    },
  );

  it('migrate.checkpointed: the new shape is in the file itself', async () => {
    const folder = workshopFolder(tempWorkshop());
    createBooks(folder, openOptions(migrations));
    await killTwice('migrate.checkpointed', ['openAndClose', folder.root]);
    expect(fs.readFileSync(folder.books).readUInt32BE(60)).toBe(newest);
    expect(await notesIn(folder.root)).toEqual([]);
  });

  it.each(['copy.written', 'copy.flushed', 'copy.verified', 'copy.renamed', 'copy.done'])(
    '%s: every copy that counts is whole, and the next one clears up',
    async (step) => {
      const { root } = await booksWithCopy();
      const { backups } = workshopFolder(root);
      await killTwice(step, ['copy', root]);
      const reply = await runChild(['copy', root]);
      expect(reply.said).toMatchObject([{ ok: true }]);
      const copies = listCopies(workshopFolder(root));
      expect(copies.map(({ name }) => hashOf(path.join(backups, name)))).toEqual(
        copies.map(({ sha256 }) => sha256),
      );
      expect(fs.readdirSync(backups).filter((name) => name.includes('.part'))).toEqual([]);
    },
  );

  it.each([
    ['restore.copied', ['before', 'after']],
    ['restore.noted', ['before']],
    ['restore.aside', ['before']],
    ['restore.aside-wal', ['before']],
    ['restore.swapped', ['before']],
    ['restore.recorded', ['before']],
  ])('%s: the books are the old ones or the restored ones, and nothing is lost', async (step, expected) => {
    const { root, copy } = await booksWithCopy();
    const first = await runChild(['restore', root, copy], { KNIFEWRIGHT_FAILPOINT: step });
    expect([step, first.signal, first.err]).toEqual([step, 'SIGKILL', '']);
    await runChild(['openAndClose', root], { KNIFEWRIGHT_FAILPOINT: step });
    expect(await notesIn(root)).toEqual(expected);
    const replaced = listCopies(workshopFolder(root)).filter(({ reason }) => reason === 'replaced');
    expect(replaced.map(({ seq }) => seq)).toEqual(expected.length === 1 ? [2] : []);
    expect(
      fs.readdirSync(root).filter((name) => name.startsWith('restore') || name.endsWith('.restoring')),
    ).toEqual([]);
  });

  it('an unknown step, or one outside a test, does nothing', async () => {
    const root = tempWorkshop();
    const quiet = await runChild(['postSome', root, '1'], {
      KNIFEWRIGHT_FAILPOINT: 'command.worked',
      NODE_ENV: 'production',
    });
    expect([quiet.code, quiet.said]).toMatchObject([0, [{ ok: true }, 'closed']]);
  });
});
