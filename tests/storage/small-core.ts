/** A core on a contract of two endpoints, so that the engine room is tested without the use-cases. */
import { z } from 'zod';
import { migrations } from '../../migrations/index.ts';
import { command, query } from '../../electron/api/endpoint.ts';
import { refused } from '../../electron/api/errors.ts';
import type { Clock, CommandHandler, QueryHandler } from '../../electron/workshop/context.ts';
import { type Core, createCore, type CoreOptions } from '../../electron/workshop/core.ts';
import { countingIds } from '../../electron/workshop/core-ids.ts';
import type { Migration } from '../../electron/storage/migrate.ts';
import { noPress } from '../workshop/no-press.ts';

const notes: Migration = {
  number: (migrations.at(-1)?.number ?? 0) + 10,
  name: 'notes',
  sql: `CREATE TABLE notes (id TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT;
        CREATE TABLE note_words (note_id TEXT NOT NULL REFERENCES notes (id), word TEXT NOT NULL) STRICT;`,
};

export const smallMigrations: readonly Migration[] = [...migrations, notes];

const smallContract = {
  'notes.add': command(
    z.strictObject({
      text: z.string().min(1, 'Write something.').max(2_000_000),
      count: z.int().min(1).max(9).default(1),
      lines: z.array(z.strictObject({ qty: z.number() })).default([]),
    }),
  )<{ id: string }>(),
  'notes.refuse': command(
    z.strictObject({ how: z.enum(['refused', 'crash', 'constraint', 'async', 'early']) }),
  )<null>(),
  'notes.slow': command(z.strictObject({ ms: z.int() }))<{ id: string }>(),
  'papers.keep': command(z.strictObject({ name: z.string(), text: z.string() }))<{ id: string }>(),
  'papers.read': query(z.strictObject({}))<readonly { id: string; text: string }[]>(),
  'notes.all': query(z.strictObject({}))<readonly { id: string; text: string }[]>(),
  'notes.writeInQuery': query(z.strictObject({}))<null>(),
  'notes.unanswered': query(z.strictObject({}))<null>(),
  'notes.limitPages': query(z.strictObject({ pages: z.int() }))<null>(),
  'notes.house': query(z.strictObject({}))<unknown>(),
  'workshop.copyNow': command(z.strictObject({}))<unknown>(),
};

/** Statements on tables the real schema does not know. */
const raw = (sql: string, parameters: readonly unknown[] = []) => ({
  compile: () => ({
    sql,
    parameters,
    query: { kind: 'RawNode' as const, sqlFragments: [sql], parameters: [] },
    queryId: { queryId: sql },
  }),
});

const add: CommandHandler<{ text: string }, { id: string }> = {
  run(ctx, { text }) {
    const id = ctx.newId();
    ctx.db.run(raw('INSERT INTO notes (id, text) VALUES (?, ?)', [id, text]));
    for (const word of text.slice(0, 200).split(' '))
      ctx.db.run(raw('INSERT INTO note_words VALUES (?, ?)', [id, word]));
    return { id };
  },
};

const refuse: CommandHandler<{ how: string }, unknown> = {
  async prepare(ctx, { how }) {
    if (how === 'early') ctx.db.run(raw(`INSERT INTO notes VALUES ('early', 'x')`));
    return Promise.resolve();
  },
  run(ctx, { how }) {
    ctx.db.run(raw('INSERT INTO notes (id, text) VALUES (?, ?)', [`half-${how}`, 'half done']));
    if (how === 'refused') throw refused('The note is not wanted here. Put it elsewhere.');
    if (how === 'constraint') ctx.db.run(raw(`INSERT INTO note_words VALUES ('nowhere', 'x')`));
    if (how === 'async') return Promise.resolve(null);
    throw new Error('a mistake of ours');
  },
};

/** A paper and the note that names it, in one transaction. */
const keepPaper: CommandHandler<{ name: string; text: string }, { id: string }> = {
  run(ctx, { name, text }) {
    const stored = ctx.files.keep(ctx.db, name, new TextEncoder().encode(text));
    const id = ctx.newId();
    ctx.db.run(raw('INSERT INTO notes (id, text) VALUES (?, ?)', [id, JSON.stringify(stored)]));
    return { id };
  },
};

/** Every paper a note names, read back and held against its hash. */
const readPapers: QueryHandler<unknown, readonly { id: string; text: string }[]> = (ctx) =>
  ctx.db
    .all<{ id: string; text: string }>(raw(`SELECT id, text FROM notes WHERE text LIKE '{%' ORDER BY rowid`))
    .map(({ id, text }) => {
      const stored = JSON.parse(text) as { path: string; sha256: string };
      return { id, text: new TextDecoder().decode(ctx.files.get(stored.path, stored.sha256)) };
    });

const slow: CommandHandler<{ ms: number }, { id: string }> = {
  prepare: async (_ctx, { ms }) => new Promise((resolve) => setTimeout(resolve, ms)),
  run: (ctx, { ms }) => {
    ctx.db.run(raw('INSERT INTO notes (id, text) VALUES (?, ?)', [`slow-${ms}`, 'slow']));
    return { id: `slow-${ms}` };
  },
};

const copyNow: CommandHandler<unknown, unknown> = {
  prepare: (ctx) => ctx.house.copyNow(),
  run: (_ctx, _input, copy) => copy,
};

const smallHandlers: CoreOptions['handlers'] = {
  'notes.add': add,
  'notes.refuse': refuse,
  'notes.slow': slow,
  'papers.keep': keepPaper,
  'papers.read': readPapers,
  'notes.all': (ctx) => ctx.db.all(raw('SELECT id, text FROM notes ORDER BY rowid')),
  'notes.writeInQuery': (ctx) => ctx.db.all(raw(`INSERT INTO notes VALUES ('sly', 'x') RETURNING id`)),
  'notes.limitPages': (ctx, { pages }: { pages: number }) =>
    ctx.db.one(raw(`PRAGMA max_page_count = ${pages}`)),
  'notes.house': (ctx) => ({ demo: ctx.house.demo, copies: ctx.house.copies() }),
  'workshop.copyNow': copyNow,
};

/** A clock a test can turn. */
export function handClock(start = '2024-07-06T09:30:00.000Z'): Clock & { set(instant: string): void } {
  let now = start;
  return {
    now: () => now,
    today: () => now.slice(0, 10),
    localDay: (instant) => instant.slice(0, 10),
    localTime: (instant) => instant.slice(11, 16),
    set(instant) {
      now = instant;
    },
  };
}

const noPapers = noPress('this core draws no papers');

/** Opens the small core on a folder, making it when needed. */
export const smallCore = (folder: string, more: Partial<CoreOptions> = {}): Promise<Core> =>
  createCore({
    folder,
    create: true,
    clock: handClock(),
    newId: countingIds('n'),
    renderer: noPapers,
    holderName: 'Test bench',
    handlers: smallHandlers,
    contract: smallContract,
    migrations: smallMigrations,
    ...more,
  });
