import { Buffer } from 'node:buffer';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import Papa from 'papaparse';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ArchiveWork } from '../../electron/api/archive.ts';
import { tableWords } from '../../electron/workshop/archive/table-words.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { makeParing, openShop, saleOf, type Shop } from './shop.ts';
import {
  type Contents,
  contentsOf,
  manifestIn,
  putArchive,
  relist,
  renamed,
  sayOtherSize,
  textIn,
  zipOf,
} from './zips.ts';

/** A field of a table's JSON. */
type Value = string | number | null | { readonly base64: string };

/** Waits for the work on archives to end. */
const ended = async (rig: Rig): Promise<ArchiveWork> => {
  for (;;) {
    const { work } = await rig.call('archive.state', {});
    if (work !== null && work.state !== 'running') return work;
    await setTimeout(5);
  }
};
const filesUnder = (folder: string): readonly string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile())
    .map((each) => path.relative(folder, path.join(each.parentPath, each.name)))
    .sort();
/** Pictures and papers of a workshop folder with what is in them. */
const besideBooks = (folder: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    filesUnder(folder)
      .filter((name) => /^(?:attachments|documents)\//.test(name))
      .map((name) => [name, fs.readFileSync(path.join(folder, name)).toString('base64')]),
  );

const png = Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), Buffer.alloc(300_000, 'blade')]);
const odd = 'שלום 🔪 "quoted", line\nbreak';

let shop: Shop;
let file: string;
let contents: Contents;
/** Takes in nothing of what is tried on it, so that all may try. */
let empty: Rig;
beforeAll(async () => {
  shop = await openShop();
  const knife = await makeParing(shop, 'W01');
  await shop.call('selling.saveBuyer', { name: odd, country: 'IL', note: '=1+1' });
  await shop.call('selling.sell', saleOf(shop, knife));
  const picture = {
    ownerKind: 'build' as const,
    ownerId: knife,
    role: 'photo' as const,
    name: 'תמונה 🔪.png',
  };
  await shop.call('files.attach', { ...picture, base64: png.toString('base64') });
  shop.clock.set('2025-01-20');
  const span = { from: '2024-01-01', to: '2024-12-31' };
  const { checks } = await shop.call('seals.outlook', span);
  await shop.call('seals.close', { ...span, accepted: checks.map((check) => check.key) });
  await shop.call('archive.take', {});
  const work = await ended(shop);
  expect(work).toMatchObject({ state: 'done', outcome: { head: { missing: [] } } });
  file = path.join(shop.folder, 'archives', work.name);
  contents = await contentsOf(file);
  empty = await openRig({ bare: true });
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
  await empty.close();
});

/** Spoils a copy of the archive and says why an empty workshop does not take it; nothing of it may be left there. */
async function refusal(spoil: (all: Contents) => void, spoilBytes: (zip: Buffer) => Buffer = (zip) => zip) {
  const all: Contents = new Map(contents);
  spoil(all);
  const rig = empty;
  putArchive(rig.folder, 'bad.zip', spoilBytes(await zipOf(all)));
  const before = [filesUnder(rig.folder), wholeBooks(rig.db)];
  await rig.call('archive.bring', { name: 'bad.zip' });
  const { state, problem } = await ended(rig);
  expect([filesUnder(rig.folder), wholeBooks(rig.db), state]).toEqual([...before, 'failed']);
  return problem;
}

describe('an archive', () => {
  it('makes the same books of an empty workshop: every row, every file, the history and the seal', async () => {
    const rig = await openRig({ bare: true });
    putArchive(rig.folder, 'all.zip', fs.readFileSync(file));
    await rig.call('archive.check', { name: 'all.zip' });
    const { outcome } = await ended(rig);
    expect(outcome).toMatchObject({ seals: [{ holds: true, differing: 0 }] });
    await rig.call('archive.bring', { name: 'all.zip' });
    const copy = (await ended(rig)).outcome?.copy ?? '';
    await rig.close({ keep: true });
    const same = await openRig({ folder: rig.folder, goBackTo: copy, now: '2025-01-20' });
    expect(wholeBooks(same.db)).toEqual(wholeBooks(shop.db));
    expect(besideBooks(same.folder)).toEqual(besideBooks(shop.folder));
    expect(same.core.books.checkJournal()).toEqual(shop.core.books.checkJournal());
    const { seals } = await same.call('seals.list', {});
    expect(seals).toEqual((await shop.call('seals.list', {})).seals);
    // A workshop with entries takes no other one in.
    expect(await same.fault('archive.bring', { name: 'all.zip' })).toMatchObject({ kind: 'refused' });
    // Its immutable rows are immutable again.
    expect(
      await same.fault('hours.book', {
        on: '2024-06-01',
        minutes: 5,
        stageCode: null,
        workKind: 'cleaning',
        shares: [],
      }),
    ).toMatchObject({ field: 'on' });
    expect([same.log, rig.log]).toEqual([[], []]);
    await same.close();
  });

  it('is explained by its README and says the same as CSV and as JSON', () => {
    const readme = textIn(contents, 'README.txt').replaceAll(/\s+/g, ' ');
    const { tables } = manifestIn(contents);
    expect(Object.keys(tableWords).sort()).toEqual(tables.map((table) => table.name).sort());
    for (const { name, columns, rows } of tables) {
      const json = JSON.parse(textIn(contents, `tables/${name}.json`)) as Record<string, Value>[];
      const csv = Papa.parse<string[]>(textIn(contents, `tables/${name}.csv`).replace('\uFEFF', ''), {
        skipEmptyLines: 'greedy',
      }).data;
      expect([name, csv[0], json.length]).toEqual([name, [...columns], rows]);
      const cell = (value: Value | undefined): string => {
        if (value === null || value === undefined) return '';
        if (typeof value === 'number') return String(value);
        if (typeof value === 'object') return value.base64;
        return value.replace(/^(?=[=+@\t\r]|-(?!\d+([.,]\d+)*$))/, "'");
      };
      expect(csv.slice(1)).toEqual(json.map((row) => columns.map((column) => cell(row[column]))));
      for (const column of columns)
        expect(readme).toMatch(new RegExp(`${name}, .*? ${column} \\([^)]*\\): [A-Z0-9]`));
    }
    expect(textIn(contents, 'tables/buyers.csv')).toContain(`"${odd.replaceAll('"', '""')}"`);
  });

  it('names a picture that was missing, and holds everything else', async () => {
    const rig = await openShop();
    const owner = { ownerKind: 'build' as const, ownerId: rig.knives['W01'] ?? '', role: 'photo' as const };
    await rig.call('files.attach', {
      ...owner,
      name: 'a.png',
      base64: png.subarray(0, 900).toString('base64'),
    });
    for (const name of filesUnder(path.join(rig.folder, 'attachments')))
      fs.appendFileSync(path.join(rig.folder, 'attachments', name), '!');
    await rig.call('archive.take', {});
    const missing = (await ended(rig)).outcome?.head.missing ?? [];
    expect(missing).toMatchObject([expect.stringMatching(/^attachments\//)]);
    await rig.close();
  });

  it('leaves nothing half when it is cancelled, or when a second one is asked for meanwhile', async () => {
    const before = filesUnder(path.join(shop.folder, 'archives'));
    await shop.call('archive.take', {});
    expect(await shop.fault('archive.take', {})).toMatchObject({ kind: 'storage' });
    expect((await shop.call('archive.cancel', {})).work?.state).toBe('cancelled');
    expect(filesUnder(path.join(shop.folder, 'archives'))).toEqual(before);
    for (const name of ['../x.zip', 'x', '.zip', 'a/b.zip'])
      expect(await shop.fault('archive.check', { name })).toMatchObject({ kind: 'storage' });
  });
});

describe('a hostile or damaged archive', () => {
  const paper = (): string => [...contents.keys()].find((name) => name.startsWith('documents/')) ?? '';
  const movements = 'tables/movements.json';
  const altered = (all: Contents): void => {
    const text = textIn(all, movements);
    all.set(movements, Buffer.from(text.replace(/"value_micro":(-?)\d/, '"value_micro":$17')));
  };

  it('may not write outside the folder', async () => {
    const evil = (name: string) => '../../'.padEnd(name.length, 'x');
    expect(
      await refusal(
        () => undefined,
        (zip) => renamed(zip, paper(), evil(paper())),
      ),
    ).toContain('outside itself');
    expect(
      await refusal(
        () => undefined,
        (zip) => renamed(zip, paper(), '/'.padEnd(paper().length, 'e')),
      ),
    ).toContain('outside itself');
    expect(await refusal((all) => all.set('tables/..csv', Buffer.from('x')))).toContain('does not belong');
  });

  it('is told by the file that has changed, is missing or was put in', async () => {
    expect(await refusal(altered)).toContain(`${movements} has changed`);
    expect(await refusal((all) => all.delete(paper()))).toContain(`${paper()} is missing`);
    expect(await refusal((all) => all.set('documents/more.pdf', Buffer.from('x')))).toContain(
      'documents/more.pdf is not in the list',
    );
    expect(
      await refusal((all) => all.set(paper(), Buffer.from('x'.repeat(all.get(paper())?.length ?? 0)))),
    ).toContain(`${paper()} has changed`);
  });

  it('is found out by its own totals when the hashes were made to fit', async () => {
    expect(
      await refusal((all) => {
        altered(all);
        relist(all);
      }),
    ).toContain('control total movements.value_micro');
    const journal = 'tables/journal.json';
    expect(
      await refusal((all) => {
        all.set(
          journal,
          Buffer.from(textIn(all, journal).replace('"command":"stock.buy"', '"command":"stock.bux"')),
        );
        relist(all);
      }),
    ).toMatch(/Entry \d+ of the journal does not fit/);
    expect(
      await refusal((all) => {
        all.set('tables/people.json', Buffer.from('[\n{"id":"a"}\n]\n'));
        relist(all);
      }),
    ).toContain('people.json holds a row without');
  });

  it('is not a whole file, packs more than it says, or is of a newer program', async () => {
    expect(
      await refusal(
        () => undefined,
        (zip) => zip.subarray(0, zip.length - 200),
      ),
    ).toContain('not a whole archive');
    expect(
      await refusal(
        () => undefined,
        () => Buffer.from('PK'),
      ),
    ).toContain('not a whole archive');
    const bomb = 'README.txt';
    const said = contents.get(bomb)?.length ?? 0;
    const packed = await refusal(
      (all) => all.set(bomb, Buffer.alloc(4_000_000)),
      (zip) => sayOtherSize(zip, bomb, said),
    );
    expect(packed).toContain(`${bomb} is damaged`);
    expect(await refusal((all) => relist(all, { version: 2 }))).toContain('newer Knifewright');
    expect(await refusal((all) => relist(all, { shape: 990 }))).toContain('newer Knifewright');
    expect(await refusal((all) => all.delete('manifest.json'))).toContain('not an archive of a workshop');
  });
});
