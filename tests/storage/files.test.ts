import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { WriteDb } from '../../electron/storage/db.ts';
import { openFiles } from '../../electron/storage/files.ts';
import { makeFolders, workshopFolder } from '../../electron/storage/folder.ts';
import type { KeptPapers } from '../../electron/storage/kept-papers.ts';
import { sha256 } from '../../electron/storage/durable.ts';
import { tempWorkshop } from './support.ts';

const noBooks = {} as WriteDb;
const bytes = (text: string) => new TextEncoder().encode(text);

/** No paper waits in any books; one that is kept is written at once, so that names can be tested without them. */
function store() {
  const folder = workshopFolder(tempWorkshop());
  makeFolders(folder);
  const none: KeptPapers = {
    add: (_db, { path: relative, bytes: content }) => {
      fs.writeFileSync(path.join(folder.root, relative), content);
    },
    hashOf: () => undefined,
    find: () => undefined,
    writeOut: () => undefined,
    settle: () => undefined,
  };
  const files = openFiles(folder, none);
  return { folder, files, keep: (name: string, text: string) => files.keep(noBooks, name, bytes(text)) };
}

describe('the file store', () => {
  it('names pictures by their content, once', () => {
    const { folder, files } = store();
    const hash = sha256('a blade');
    const expected = { sha256: hash, path: `attachments/${hash.slice(0, 2)}/${hash}.jpg` };
    expect([files.put('Blade.JPG', bytes('a blade')), files.put('other.jpg', bytes('a blade'))]).toEqual([
      expected,
      expected,
    ]);
    expect(fs.readdirSync(folder.attachments, { recursive: true })).toHaveLength(2);
    expect(fs.statSync(path.join(folder.root, expected.path)).mode & 0o777).toBe(0o600);
    expect(new TextDecoder().decode(files.get(expected.path, hash))).toBe('a blade');
  });

  it('gives papers their own name and never overwrites one', () => {
    const { files, keep } = store();
    const first = keep('2024-0001.pdf', 'one');
    const again = keep('2024-0001.pdf', 'one');
    const other = keep('2024-0001.pdf', 'two');
    expect([first.path, again.path, other.path]).toEqual([
      'documents/2024-0001.pdf',
      'documents/2024-0001.pdf',
      'documents/2024-0001 (2).pdf',
    ]);
    expect(new TextDecoder().decode(files.get(first.path, first.sha256))).toBe('one');
  });

  it('finds out a changed and a missing file', () => {
    const { folder, files, keep } = store();
    const paper = keep('sheet.pdf', 'one');
    fs.writeFileSync(path.join(folder.root, paper.path), 'One');
    expect(() => files.get(paper.path, paper.sha256)).toThrow('has changed since it was stored');
    fs.rmSync(path.join(folder.root, paper.path));
    expect(() => files.get(paper.path, paper.sha256)).toThrow('no longer in the workshop folder');
  });

  it.each([
    ['../workshop.db'],
    ['workshop.db'],
    ['documents/../workshop.db'],
    ['/etc/hostname'],
    ['documents'],
    ['documents\\..\\workshop.db'],
    [''],
  ])('reads nothing at %j', (relative) => {
    expect(() => store().files.get(relative, sha256(''))).toThrow('outside the workshop folder');
  });

  it.each([
    ['../x.pdf'],
    ['a/b.pdf'],
    ['a\\b.pdf'],
    [''],
    ['.'],
    ['.hidden'],
    ['con.pdf'],
    ['x\u0000.pdf'],
    ['x.'],
    ['x '],
    ['a'.repeat(201)],
    ['c:x'],
  ])('writes nothing called %j', (name) => {
    expect(() => store().keep(name, 'x')).toThrow('cannot be a file name');
  });

  it.each(['Rechnung Nº 7 – Müller.pdf', '請求書 1.pdf', '2024-0001.pdf'])(
    'writes a paper called %s',
    (name) => {
      expect(store().keep(name, 'x').path).toBe(`documents/${name}`);
    },
  );
});
