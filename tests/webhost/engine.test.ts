import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { endpoints } from '../../electron/api/contract.ts';
import type { Reply } from '../../electron/api/errors.ts';
import type { SafetyCopy } from '../../electron/api/workshop.ts';
import { startEngine } from '../../electron/workshop/engine.ts';
import { post, redeemAt, startChild, wayIn } from './support/child.ts';
import type { Child, Way } from './support/child.ts';

const mainFile = fileURLToPath(new URL('../../electron/webhost/main.ts', import.meta.url));
/** An invented workshop, as a person would set it up. */
const workshop = {
  name: 'Sedgewarren Edge Shop',
  maker: 'Jorun Sedgewarren',
  address: '1 Bench Row',
  country: 'US',
  currency: 'USD',
  lengthHabit: 'inch',
  weightHabit: 'oz',
  paper: 'Letter',
  invoicePattern: '{YYYY}-{NNNN}',
  invoiceTermsDays: 14,
  taxPlace: {
    name: 'Home',
    label: 'Sales tax',
    ratePpm: 65_000,
    onShipping: false,
    inclusive: false,
    rounding: 'invoice',
  },
  labourPerHourMicro: 35_000_000,
  labourFrom: '2024-01-01',
  overheadPerHourMicro: 4_000_000,
};

const isRoot = process.getuid?.() === 0;
const canBeAnother = isRoot && existsSync('/usr/sbin/runuser');

interface Open {
  readonly child: Child;
  readonly way: Way;
  call(endpoint: string, input?: unknown): Promise<Reply>;
}

/** The real host over real books. */
const openBooks = async (folder: string): Promise<Open> => {
  const child = startChild(['--no-open', '--data', folder], {}, mainFile);
  const way = await wayIn(child);
  const secret = await redeemAt(way);
  return {
    child,
    way,
    call: async (endpoint, input = {}) =>
      JSON.parse((await post(way, '/rpc', { endpoint, input }, secret)).body) as Reply,
  };
};

const stop = async (open: Open): Promise<number | null> => {
  open.child.process.kill('SIGTERM');
  return open.child.exit;
};

describe('the loopback host over real books', () => {
  let folder: string;
  let books: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'kw-engine-'));
    // Others may come as far as the books; what keeps them out has to be the books' own folder.
    chmodSync(folder, 0o755);
    books = join(folder, 'books');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('W16 writes what it has acknowledged, stops with everything in one file, and finds it again', async () => {
    const first = await openBooks(books);
    await using _first = first.child;
    expect(await first.call('workshop.setUp', workshop)).toMatchObject({ ok: true });
    const saved = await first.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
    expect(saved).toMatchObject({ ok: true, value: { name: 'Greyfen Bar & Strip' } });
    expect(await stop(first)).toBe(0);
    expect(readdirSync(books).filter((name) => /-wal$|-shm$|loopback\.json/.test(name))).toEqual([]);
    const second = await openBooks(books);
    await using _second = second.child;
    expect(await second.call('stock.suppliers')).toMatchObject({
      ok: true,
      value: [{ name: 'Greyfen Bar & Strip' }],
    });
    expect(await second.call('host.info')).toMatchObject({
      ok: true,
      value: { kind: 'loopback', folder: books, demo: false },
    });
    expect(await stop(second)).toBe(0);
  });

  it('W12 keeps the books and the way in to this person alone', async () => {
    const open = await openBooks(books);
    await using _open = open.child;
    const modes = readdirSync(books, { withFileTypes: true }).map((entry) => {
      const mode = statSync(join(books, entry.name)).mode & 0o777;
      return [entry.name, mode === (entry.isDirectory() ? 0o700 : 0o600)];
    });
    expect(modes.filter(([, right]) => right === false)).toEqual([]);
    expect(modes.map(([name]) => name)).toContain('loopback.json');
    expect(statSync(books).mode & 0o777).toBe(0o700);
  });

  it.runIf(canBeAnother)(
    'W12 lets another user of the machine read nothing (as root only: becomes “nobody”)',
    async () => {
      const open = await openBooks(books);
      await using _open = open.child;
      const other = (command: string) =>
        spawnSync('/usr/sbin/runuser', ['-u', 'nobody', '--', 'sh', '-c', command], { encoding: 'utf8' });
      expect(other('id -un').stdout.trim()).toBe('nobody');
      for (const name of ['loopback.json', 'workshop.db', 'holder.lock']) {
        expect([name, other(`cat '${join(books, name)}'`).stdout]).toEqual([name, '']);
      }
      expect(other(`ls '${books}'`).stdout).toBe('');
      expect(other(`cat /proc/${open.child.process.pid}/environ`).stdout).toBe('');
      const argv = other(`tr '\\0' ' ' < /proc/${open.child.process.pid}/cmdline`).stdout;
      expect([argv.includes('--no-open'), argv.includes(open.way.code)]).toEqual([true, false]);
    },
  );

  it('W17 answers random and hostile calls with faults and changes nothing in the books', async () => {
    const open = await openBooks(books);
    await using _open = open.child;
    const before = await open.call('stock.suppliers');
    const names = Object.keys(endpoints).filter((name) => !name.startsWith('host.'));
    const input = fc.dictionary(fc.string(), fc.jsonValue()).map((each) => ({ ...each, oddKey: 1 }));
    const calls = fc.sample(
      fc.record({ endpoint: fc.oneof(fc.constantFrom(...names), fc.string()), input }),
      1000,
    );
    const kinds = new Set<string>();
    for (const { endpoint, input: given } of calls) {
      const reply = await open.call(endpoint, given);
      kinds.add(reply.ok ? `answered ${endpoint}` : reply.fault.kind);
    }
    expect([...kinds].filter((kind) => kind !== 'forbidden' && kind !== 'invalid')).toEqual([]);
    expect(await open.call('stock.suppliers')).toEqual(before);
  }, 60_000);

  it('goes back to a safety copy, keeps the books replaced, and goes forward to them again', async () => {
    const open = await openBooks(books);
    await using _open = open.child;
    const names = async (): Promise<readonly string[]> => {
      const reply = await open.call('stock.suppliers');
      return reply.ok ? (reply.value as readonly { name: string }[]).map((row) => row.name).sort() : [];
    };
    const before = await names();
    const copied = await open.call('workshop.copyNow');
    const copy = copied.ok ? (copied.value as SafetyCopy) : undefined;
    expect(copy).toMatchObject({ verified: true, reason: 'asked' });
    await open.call('stock.saveSupplier', { name: 'Pellwick Grit House' });
    expect(await open.call('host.goBackTo', { name: copy?.name })).toMatchObject({ ok: true });
    expect(await names()).toEqual(before);
    const copies = await open.call('workshop.copies');
    const kept = (copies.ok ? (copies.value as SafetyCopy[]) : []).filter(
      (each) => each.reason === 'replaced',
    );
    expect(kept.map((each) => each.verified)).toEqual([true]);
    expect(await open.call('host.goBackTo', { name: 'books-none.db' })).toMatchObject({
      ok: false,
      fault: { kind: 'storage', message: expect.stringContaining('no verified safety copy') as string },
    });
    expect(await names()).toEqual(before);
    await open.call('host.goBackTo', { name: kept[0]?.name });
    expect(await names()).toEqual([...before, 'Pellwick Grit House'].sort());
  });

  it('tells a second program in words who holds the books', async () => {
    const open = await openBooks(books);
    await using _open = open.child;
    // Without the note the second start cannot be handed over and has to face the lock itself.
    rmSync(join(books, 'loopback.json'));
    await using second = startChild(['--no-open', '--data', books], {}, mainFile);
    expect(await second.exit).toBe(1);
    expect(second.output()).toContain('Knifewright in the browser');
    expect(second.output()).not.toContain('is open at');
  });

  it('lets go of the books when the port it was told to take is another program’s', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const { port } = other.address() as AddressInfo;
    try {
      await using child = startChild(['--no-open', '--data', books, '--port', String(port)], {}, mainFile);
      expect(await child.exit).toBe(1);
      expect(child.output()).toContain('That port is taken by another program');
      expect(child.output()).not.toContain('is open at');
      // Both were begun at once; neither may stay: no note, no holder, nothing left to fold in.
      expect(readdirSync(books).filter((name) => /-wal$|-shm$|\.json$/.test(name))).toEqual([]);
    } finally {
      other.close();
    }
    const after = await openBooks(books);
    await using _after = after.child;
    expect(await after.call('stock.suppliers')).toMatchObject({ ok: true });
  });

  it('neither waits nor says it is open where the books are refused, and leaves no way in', async () => {
    const strange = join(folder, 'strange');
    mkdirSync(strange, { mode: 0o700 });
    writeFileSync(join(strange, 'workshop.db'), 'not a book at all');
    await using child = startChild(['--no-open', '--data', strange], {}, mainFile);
    expect(await child.exit).toBe(1);
    expect(child.output()).toContain('was not made by Knifewright');
    expect(child.output()).not.toContain('is open at');
    expect(readdirSync(strange)).toEqual(['workshop.db']);
    expect(readFileSync(join(strange, 'workshop.db'), 'utf8')).toBe('not a book at all');
  });

  it('opens again after a host that was killed left its note behind', async () => {
    const killed = await openBooks(books);
    killed.child.process.kill('SIGKILL');
    await killed.child.exit;
    expect(existsSync(join(books, 'loopback.json'))).toBe(true);
    const after = await openBooks(books);
    await using _after = after.child;
    expect(await after.call('stock.suppliers')).toMatchObject({ ok: true });
  });

  it('answers calls with a fault when the thread fails after it said that it is open', async () => {
    const engine = await startEngine(
      { folder: books, create: false, holderName: 'a test' },
      new URL('./support/early-worker.ts', import.meta.url),
    );
    expect(await engine.call('stock.suppliers', {})).toMatchObject({ ok: false, fault: { kind: 'storage' } });
    await engine.close();
  });

  it.each([
    [['--nothing'], 2, "Unknown option '--nothing'"],
    [['--port', 'x'], 2, '--port takes a whole number'],
  ])('ends with a sentence when started with %j', async (args, code, sentence) => {
    await using child = startChild(args, {}, mainFile);
    expect([await child.exit, child.output()]).toEqual([code, expect.stringContaining(sentence)]);
  });
});
