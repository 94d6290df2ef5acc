import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Reply } from '../../electron/api/errors.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { asTrouble } from '../../electron/storage/trouble.ts';
import { CHILD_TIMEOUT_MS, contentsOf, runChild, tempFolder, tempWorkshop, type Wrapper } from './support.ts';
import { smallCore } from './small-core.ts';

const full = {
  ok: false,
  fault: { kind: 'storage', message: expect.stringContaining('The disk is full') as string },
};
const isOk = (line: unknown): boolean => (line as Partial<Reply>).ok === true;

async function countNotes(root: string): Promise<number> {
  const core = await smallCore(root);
  const reply = await core.call('notes.all', {});
  expect(core.books.checkJournal()).toMatchObject({ sound: true, checked: core.books.seq() });
  await core.close();
  return reply.ok ? (reply.value as unknown[]).length : -1;
}

describe('a full disk', () => {
  it('is said in plain words, loses nothing, and the same command works when there is room again', async () => {
    const core = await smallCore(tempWorkshop());
    await core.call('notes.add', { text: 'first' });
    await core.call('notes.limitPages', { pages: 1 });
    const long = { text: 'long '.repeat(200_000) };
    expect(await core.call('notes.add', long)).toEqual(full);
    expect(await core.call('notes.all', {})).toMatchObject({ value: [{ text: 'first' }], seq: 1 });
    await core.call('notes.limitPages', { pages: 1_000_000 });
    expect(await core.call('notes.add', long)).toMatchObject({ ok: true, seq: 2 });
    expect(core.books.checkJournal()).toMatchObject({ sound: true, checked: 2 });
    await core.close();
  });

  it(
    'leaves no half state, however far the disk lets the work go',
    { timeout: CHILD_TIMEOUT_MS },
    async () => {
      const root = tempWorkshop();
      await (await smallCore(root)).close();
      const size = Math.ceil(fs.statSync(workshopFolder(root).books).size / 1024);
      const outcomes: string[] = [];
      let posted = 0;
      for (const limit of [4, 24, 48, 72, size - 8, size + 8, size + 60, size + 4000]) {
        const limited: Wrapper = ['bash', '-c', `ulimit -f ${limit}; exec "$@"`, 'bash'];
        const { said } = await runChild(['postSome', root, '12'], {}, limited);
        const acknowledged = said.filter(isOk).length;
        const refused = said.filter((line) => typeof line === 'object' && !isOk(line));
        for (const line of refused)
          expect(JSON.stringify(line)).toMatch(/The disk is full|did not take or give/);
        posted += acknowledged;
        outcomes.push(acknowledged === 12 ? 'all' : acknowledged === 0 ? 'none' : 'some');
        expect([limit, await countNotes(root)]).toEqual([limit, posted]);
      }
      expect([outcomes.includes('none'), outcomes.includes('some'), outcomes.at(-1)]).toEqual([
        true,
        true,
        'all',
      ]);
    },
  );
});

/** As root, permissions do not bind; without this capability they bind root too. */
const bound: Wrapper | undefined =
  process.getuid?.() === 0
    ? ['setpriv', '--bounding-set', '-dac_override', '--inh-caps', '-dac_override']
    : undefined;

describe('a folder that cannot be written to', { timeout: CHILD_TIMEOUT_MS }, () => {
  it('is refused with a sentence and stays as it is', async () => {
    const root = tempWorkshop();
    await (await smallCore(root)).close();
    const before = contentsOf(root);
    fs.chmodSync(root, 0o500);
    const { said } = await runChild(['openAndClose', root], {}, bound);
    fs.chmodSync(root, 0o700);
    expect(said).toEqual([
      { refused: { kind: 'storage', message: expect.stringContaining('cannot be written to') as string } },
    ]);
    expect(contentsOf(root)).toEqual(before);
  });

  it('is refused for a new workshop too', async () => {
    const place = tempFolder();
    fs.chmodSync(place, 0o500);
    const { said } = await runChild(['openAndClose', path.join(place, 'new')], {}, bound);
    fs.chmodSync(place, 0o700);
    expect(said).toEqual([
      { refused: { kind: 'storage', message: expect.stringContaining('cannot be written to') as string } },
    ]);
    expect(fs.readdirSync(place)).toEqual([]);
  });

  it('says so when only the books themselves are write-protected', async () => {
    const root = tempWorkshop();
    await (await smallCore(root)).close();
    fs.chmodSync(workshopFolder(root).books, 0o400);
    const { said } = await runChild(['postSome', root, '1'], {}, bound);
    expect(JSON.stringify(said)).toContain('cannot be written to');
  });
});

describe('the table of disk errors', () => {
  it.each([
    ['SQLITE_FULL', 'full'],
    ['SQLITE_IOERR_WRITE', 'full'],
    ['SQLITE_IOERR_FSYNC', 'disk'],
    ['SQLITE_BUSY', 'busy'],
    ['SQLITE_BUSY_SNAPSHOT', 'busy'],
    ['SQLITE_READONLY_DBMOVED', 'unwritable'],
    ['SQLITE_CORRUPT_INDEX', 'damaged'],
    ['SQLITE_NOTADB', 'damaged'],
    ['SQLITE_CANTOPEN', 'unwritable'],
    ['ENOSPC', 'full'],
    ['EROFS', 'unwritable'],
    ['SQLITE_CONSTRAINT_UNIQUE', undefined],
    ['ENOENT', undefined],
  ])('reads %s as %s', (code, why) => {
    expect(asTrouble(Object.assign(new Error('x'), { code }))?.why).toBe(why);
  });
});

const canTrace = spawnSync('strace', ['-o', '/dev/null', 'true']).status === 0;

describe('what reaches the disk', () => {
  // A paper's file is flushed too, when the books let go of its bytes; its folder once for all of them.
  it.runIf(canTrace).each(['postSome', 'keepSome'])(
    'is flushed at least once and at most twice per acknowledged command, papers and folders counted (%s, strace)',
    { timeout: CHILD_TIMEOUT_MS },
    async (task) => {
      const flushes = async (commands: number): Promise<number> => {
        const root = tempWorkshop();
        const log = path.join(tempFolder(), 'trace');
        const { said, err } = await runChild([task, root, String(commands)], {}, [
          'strace',
          '-f',
          '-qq',
          '-e',
          'trace=fsync,fdatasync',
          '-o',
          log,
        ]);
        expect([said.filter(isOk).length, err]).toEqual([commands, '']);
        return (fs.readFileSync(log, 'utf8').match(/(fsync|fdatasync)\(/g) ?? []).length;
      };
      const perCommand = ((await flushes(60)) - (await flushes(10))) / 50;
      expect(perCommand).toBeGreaterThanOrEqual(1);
      expect(perCommand).toBeLessThanOrEqual(2);
    },
  );
});
