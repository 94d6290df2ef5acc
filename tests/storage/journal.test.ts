import Database from 'better-sqlite3';
import fs from 'node:fs';
import path from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../electron/storage/canonical-json.ts';
import { examineFile } from '../../electron/storage/examine.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { checkChain } from '../../electron/storage/journal.ts';
import { sha256 } from '../../electron/storage/durable.ts';
import { makeSingleFile } from '../../electron/storage/backups.ts';
import { look, tempFolder, tempWorkshop } from './support.ts';
import { smallCore } from './small-core.ts';

/** Closed books with `count` notes; answers the file. */
async function booksWith(count: number): Promise<string> {
  const root = tempWorkshop();
  const core = await smallCore(root);
  for (let n = 0; n < count; n += 1) await core.call('notes.add', { text: `bar ${n} of CPM stock` });
  await core.close();
  return workshopFolder(root).books;
}

function tamper(file: string, sql: string): unknown {
  const db = new Database(file);
  db.exec(`DROP TRIGGER journal_no_update; DROP TRIGGER journal_no_delete; ${sql}`);
  const check = checkChain(db);
  db.close();
  return check;
}

describe('canonical JSON', () => {
  it('sorts keys, drops what is undefined and keeps the order of lists', () => {
    expect(canonicalJson({ b: [2, undefined, 1], a: { d: undefined, c: null }, é: 'x' })).toBe(
      '{"a":{"c":null},"b":[2,null,1],"é":"x"}',
    );
  });

  it('gives the same text whatever order the keys were written in', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
        const reversed = Object.fromEntries(Object.entries(value).reverse());
        expect(canonicalJson(reversed)).toBe(canonicalJson(value));
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it.each([[NaN], [Infinity], [1n], [() => 1]])('refuses %s, which JSON cannot say', (value) => {
    expect(() => canonicalJson({ value })).toThrow('no place in the journal');
  });
});

describe('the journal', () => {
  it('writes one sealed entry per command, each after the one before', async () => {
    const file = await booksWith(2);
    const rows = look(file, 'SELECT * FROM journal ORDER BY seq') as Record<string, unknown>[];
    const body = (n: number) => `{"count":1,"lines":[],"text":"bar ${n} of CPM stock"}`;
    const at = '2024-07-06T09:30:00.000Z';
    const first = sha256(`1|${at}|Test bench|notes.add|${body(0)}|${'0'.repeat(64)}`);
    const second = sha256(`2|${at}|Test bench|notes.add|${body(1)}|${first}`);
    expect(rows).toEqual([
      {
        seq: 1,
        at,
        who: 'Test bench',
        command: 'notes.add',
        body: body(0),
        prev_hash: '0'.repeat(64),
        hash: first,
      },
      { seq: 2, at, who: 'Test bench', command: 'notes.add', body: body(1), prev_hash: first, hash: second },
    ]);
  });

  it('is append-only by trigger', async () => {
    const db = new Database(await booksWith(1));
    expect(() => db.exec(`UPDATE journal SET who = 'someone else'`)).toThrow('append-only');
    expect(() => db.exec('DELETE FROM journal')).toThrow('append-only');
    db.close();
  });

  it.each([
    [
      'a changed word',
      `UPDATE journal SET body = replace(body, 'CPM', 'old') WHERE seq = 3`,
      3,
      'the entry was altered',
    ],
    [
      'a changed instant',
      `UPDATE journal SET at = '2023-01-01T00:00:00.000Z' WHERE seq = 4`,
      4,
      'the entry was altered',
    ],
    ['a removed entry', 'DELETE FROM journal WHERE seq = 2', 2, 'the entry is missing'],
    ['a removed beginning', 'DELETE FROM journal WHERE seq < 3', 1, 'the entry is missing'],
    [
      'two entries changed over',
      `UPDATE journal SET seq = -1 WHERE seq = 2; UPDATE journal SET seq = 2 WHERE seq = 3; UPDATE journal SET seq = 3 WHERE seq = -1`,
      2,
      'the entry does not follow the one before it',
    ],
  ])('finds %s', async (_what, sql, seq, problem) => {
    expect(tamper(await booksWith(5), sql)).toEqual({ sound: false, seq, problem });
  });

  it('keeps a long text by hash and length only', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    const text = 'p'.repeat(20_000);
    await core.call('notes.add', { text });
    await core.close();
    const [row] = look(workshopFolder(root).books, 'SELECT body FROM journal') as { body: string }[];
    expect(JSON.parse(row?.body ?? '')).toEqual({
      count: 1,
      lines: [],
      text: { longText: { sha256: sha256(text), length: 20_000 } },
    });
  });

  it('counts an empty journal as sound', async () => {
    const db = new Database(await booksWith(0));
    expect(checkChain(db)).toEqual({ sound: true, head: { seq: 0, hash: '0'.repeat(64) }, checked: 0 });
    db.close();
  });
});

describe('single flipped bits', () => {
  it('are all found where they change a journal entry', async () => {
    const file = await booksWith(60);
    makeSingleFile(file);
    const sound = fs.readFileSync(file);
    const rows = JSON.stringify(look(file, 'SELECT * FROM journal ORDER BY seq'));
    const copy = path.join(tempFolder(), 'flipped.db');
    const silent: number[] = [];
    let found = 0;
    let seed = 20_240_706;
    for (let round = 0; round < 400; round += 1) {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      const bit = seed % (sound.length * 8);
      const flipped = Buffer.from(sound);
      flipped.writeUInt8(flipped.readUInt8(bit >> 3) ^ (1 << (bit & 7)), bit >> 3);
      fs.writeFileSync(copy, flipped);
      if (!soundFile(copy)) found += 1;
      else if (JSON.stringify(look(copy, 'SELECT * FROM journal ORDER BY seq')) !== rows) silent.push(bit);
    }
    expect(silent).toEqual([]);
    expect(found).toBeGreaterThan(20);
  });
});

/** A file that cannot even be opened is found out too. */
function soundFile(file: string): boolean {
  try {
    return examineFile(file).sound;
  } catch {
    return false;
  }
}
