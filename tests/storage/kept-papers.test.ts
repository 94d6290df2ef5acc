/** Papers between the books and the disk: whatever a crash leaves in the folder, the books give back byte for byte. */
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { sha256 } from '../../electron/storage/durable.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { smallCore } from './small-core.ts';
import { CHILD_TIMEOUT_MS, hashOf, look, runChild, tempWorkshop } from './support.ts';
import { paperText } from './support-plain.ts';

const FILE = 'paper 0.pdf';
const waiting = (root: string): unknown[] =>
  look(workshopFolder(root).books, 'SELECT path, length(bytes) AS n FROM kept_bytes ORDER BY path');

async function papersIn(root: string, more: Parameters<typeof smallCore>[1] = {}): Promise<string[]> {
  const core = await smallCore(root, { create: false, ...more });
  const reply = await core.call('papers.read', {});
  await core.close();
  if (!reply.ok) throw new Error(reply.fault.message);
  return (reply.value as { text: string }[]).map(({ text }) => text);
}

/** What may lie at the place of a file that was not flushed: remains after a power cut, or somebody's own. */
const found: Readonly<Record<string, (file: string) => void>> = {
  whole: () => undefined,
  missing: (file) => fs.rmSync(file, { force: true }),
  empty: (file) => fs.truncateSync(file),
  'half of it': (file) => fs.truncateSync(file, 20_000),
  zeros: (file) => fs.writeFileSync(file, new Uint8Array(40_000)),
  'a scribble': (file) => fs.appendFileSync(file, 'paid!'),
};

describe.concurrent('a paper whose program ends', { timeout: CHILD_TIMEOUT_MS }, () => {
  it.each([
    ['command.worked', ['missing'], 0],
    ['command.committed', ['missing'], 1],
    ['papers.written', Object.keys(found), 1],
    ['papers.flushed', ['whole'], 1],
    ['papers.dropped', ['whole'], 1],
  ] as const)('at %s, its file %s, is there whole or not at all', async (step, lefts, papers) => {
    const killed = tempWorkshop();
    const ended = await runChild(['keepSome', killed, '1'], { KNIFEWRIGHT_FAILPOINT: step });
    expect([ended.signal, ended.err]).toEqual(['SIGKILL', '']);
    for (const left of lefts) {
      const root = `${killed} ${left}`;
      fs.cpSync(killed, root, { recursive: true });
      const { documents } = workshopFolder(root);
      const file = path.join(documents, FILE);
      if (papers === 1 || fs.existsSync(file)) found[left]?.(file);
      expect(await papersIn(root)).toEqual(papers === 1 ? [paperText(0)] : []);
      // Closed, the file alone has the paper, under the hash the books hold, and the books let go of it.
      // What lay at its place and was nothing of it is not thrown away.
      const names = [FILE, ...(left === 'a scribble' ? ['paper 0 (2).pdf'] : [])].sort();
      expect([left, fs.readdirSync(documents).sort()]).toEqual([left, papers === 1 ? names : []]);
      if (papers === 1) expect(hashOf(file)).toBe(sha256(paperText(0)));
      expect(waiting(root)).toEqual([]);
    }
  });
});

describe('papers in the books', () => {
  it('are readable before there is a file, keep a name of their own, and go with a safety copy and back', async () => {
    const root = tempWorkshop();
    const { documents } = workshopFolder(root);
    const core = await smallCore(root);
    const keep = async (text: string): Promise<void> => {
      expect(await core.call('papers.keep', { name: 'A.pdf', text })).toMatchObject({ ok: true });
    };
    await keep('one');
    // Nobody may have the folder's file in the way of what the books hold.
    fs.rmSync(path.join(documents, 'A.pdf'));
    await keep('two');
    await keep('one');
    expect(fs.readdirSync(documents).sort()).toEqual(['A (2).pdf', 'A.pdf']);
    fs.rmSync(documents, { recursive: true });
    expect(await core.call('papers.read', {})).toMatchObject({
      value: [{ text: 'one' }, { text: 'two' }, { text: 'one' }],
    });
    const { name } = await core.books.copyNow('2024-07-06T09:30:00.000Z', 'asked');
    await keep('three');
    await core.close();
    expect([fs.readdirSync(documents).sort(), waiting(root)]).toEqual([
      ['A (2).pdf', 'A (3).pdf', 'A.pdf'],
      [],
    ]);
    // The copy still holds the two papers itself: without any file beside it, it gives them back.
    fs.rmSync(documents, { recursive: true });
    expect(await papersIn(root, { goBackTo: name })).toEqual(['one', 'two', 'one']);
    expect(fs.readdirSync(documents).sort()).toEqual(['A (2).pdf', 'A.pdf']);
  });

  it('stay there while their files cannot be written, and no command is refused for it', async () => {
    const root = tempWorkshop();
    const { documents } = workshopFolder(root);
    const lines: string[] = [];
    const core = await smallCore(root, { log: (line) => lines.push(line) });
    fs.rmdirSync(documents);
    fs.writeFileSync(documents, 'in the way');
    expect(await core.call('papers.keep', { name: 'A.pdf', text: 'one' })).toMatchObject({ ok: true });
    expect(await core.call('papers.read', {})).toMatchObject({ value: [{ text: 'one' }] });
    await core.close();
    expect(waiting(root)).toEqual([{ path: 'documents/A.pdf', n: 3 }]);
    fs.rmSync(documents);
    expect(await papersIn(root)).toEqual(['one']);
    expect([fs.readFileSync(path.join(documents, 'A.pdf'), 'utf8'), waiting(root)]).toEqual(['one', []]);
  });
});
