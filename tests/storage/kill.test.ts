import { describe, expect, it } from 'vitest';
import type { Reply } from '../../electron/api/errors.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { CHILD_TIMEOUT_MS, ended, look, seeded, startChild, tempWorkshop } from './support.ts';
import { smallCore } from './small-core.ts';

const ROUNDS = 26;
/** Long enough after the start to reach the first commands on a slow machine. */
const LONGEST_LIFE_MS = 350;

const isReply = (line: unknown): line is Reply => typeof line === 'object' && line !== null && 'ok' in line;

/** Lets a child post commands and kills it at a random moment; answers the ids it acknowledged. */
async function round(root: string, random: () => number): Promise<string[]> {
  const child = startChild(['post', root]);
  const gone = ended(child);
  const life = Math.floor(random() * LONGEST_LIFE_MS);
  // One round in six is killed while it is still opening, which is a kill during recovery.
  if (random() < 1 / 6) setTimeout(() => child.kill('SIGKILL'), life);
  else child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), life));
  const { signal, said, err } = await gone;
  expect([signal, err]).toEqual(['SIGKILL', '']);
  return said.filter(isReply).map((reply) => {
    if (!reply.ok) throw new Error(reply.fault.message);
    return (reply.value as { id: string }).id;
  });
}

/** Opens the books as the next start would and checks everything acknowledged so far. */
async function verify(root: string, acknowledged: ReadonlySet<string>): Promise<void> {
  const core = await smallCore(root);
  const reply = await core.call('notes.all', {});
  const ids = reply.ok ? (reply.value as { id: string }[]).map(({ id }) => id) : [];
  const there = new Set(ids);
  const lost = [...acknowledged].filter((id) => !there.has(id));
  // Every paper of the books can be read back, byte for byte: from its file or out of the books.
  expect(await core.call('papers.read', {})).toMatchObject({ ok: true });
  const check = core.books.checkJournal();
  // Each entry belongs to exactly one note: nothing half applied, nothing twice.
  expect({ lost, sound: check.sound, entries: core.books.seq() }).toEqual({
    lost: [],
    sound: true,
    entries: ids.length,
  });
  await core.close();
  expect(look(workshopFolder(root).books, 'SELECT count(*) AS n FROM kept_bytes')).toEqual([{ n: 0 }]);
}

async function lane(seed: number): Promise<number> {
  const root = tempWorkshop();
  const random = seeded(seed);
  const acknowledged = new Set<string>();
  for (let n = 1; n <= ROUNDS; n += 1) {
    for (const id of await round(root, random)) acknowledged.add(id);
    // Every other round leaves the log as the kill left it, for the next child to recover.
    if (n % 2 === 0) await verify(root, acknowledged);
  }
  return acknowledged.size;
}

describe('a program killed at any moment', () => {
  it(
    'loses no acknowledged command in twice 26 rounds of kill -9',
    { timeout: CHILD_TIMEOUT_MS },
    async () => {
      const seed = Number(process.env['KNIFEWRIGHT_SEED'] ?? 1);
      const counts = await Promise.all([lane(seed), lane(seed + 7)]);
      expect(Math.min(...counts)).toBeGreaterThan(100);
    },
  );
});
