import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  readlinkSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { post, redeemAt, startChild, wayIn } from './support/child.ts';
import { speak } from './support/raw.ts';

const onLinux = process.platform === 'linux';
const onPosix = process.platform !== 'win32';

/** Addresses, in the kernel's own hexadecimal, on which a process listens. */
const listeningAddresses = (pid: number): readonly string[] => {
  const inodes = new Set(
    readdirSync(`/proc/${pid}/fd`).map((fd) => {
      try {
        return /^socket:\[(\d+)\]$/.exec(readlinkSync(`/proc/${pid}/fd/${fd}`))?.[1];
      } catch {
        return undefined;
      }
    }),
  );
  const rows = ['tcp', 'tcp6'].flatMap((table) =>
    readFileSync(`/proc/${pid}/net/${table}`, 'utf8').split('\n').slice(1),
  );
  return rows
    .map((row) => row.trim().split(/\s+/))
    .filter((fields) => fields[3] === '0A' && inodes.has(fields[9]))
    .map((fields) => fields[1]?.split(':')[0] ?? '');
};

describe('the host as a process', () => {
  let folder: string;
  let count = 0;
  const data = (): string => join(folder, `workshop-${(count += 1)}`);
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'kw-process-'));
    mkdirSync(join(folder, 'page'));
    writeFileSync(join(folder, 'page', 'index.html'), '<!doctype html><title>Workshop</title>');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.runIf(onLinux)('W11 listens on 127.0.0.1 and nowhere else (Linux: read from the kernel)', async () => {
    await using child = startChild(['--no-open', '--data', data()]);
    const way = await wayIn(child);
    expect(listeningAddresses(child.process.pid ?? 0)).toEqual(['0100007F']);
    const outside = Object.values(networkInterfaces())
      .flatMap((each) => each ?? [])
      .filter((each) => !each.internal && each.family === 'IPv4');
    for (const { address } of outside) {
      const reply = await speak(way.port, { parts: ['x\r\n\r\n'], host: address });
      expect([reply.status, reply.text]).toEqual([0, '']);
    }
    expect((await speak(way.port, { parts: ['x\r\n\r\n'] })).status).toBe(400);
  });

  it.runIf(onPosix)(
    'W13 shows code and secret in no argument, environment, terminal line or readable file',
    async () => {
      const bin = join(folder, 'bin');
      const seen = join(folder, 'seen');
      mkdirSync(bin);
      mkdirSync(seen);
      // Stands in for the system's opener: notes what it was given and what the file looks like.
      const opener = `#!/bin/sh\nprintf '%s\\n' "$@" > "${seen}/argv"\nenv > "${seen}/env"\ncp "$1" "${seen}/page"\nls -ldn "$1" > "${seen}/modes"\nls -ldn "$(dirname "$1")" >> "${seen}/modes"\ntouch "${seen}/done"\n`;
      writeFileSync(join(bin, 'xdg-open'), opener);
      chmodSync(join(bin, 'xdg-open'), 0o755);
      const own = data();
      const child = startChild(['--data', own], { PATH: `${bin}:${process.env['PATH'] ?? ''}` });
      await using _ending = child;
      await child.until(/Ctrl\+C stops/);
      const page = readFileSync(join(seen, 'page'), 'utf8');
      const [, authority = '', port = '', code = ''] =
        /http:\/\/([^/]+:(\d+))\/#code=([\w-]+)/.exec(page) ?? [];
      const way = { authority, port: Number(port), code };
      expect(existsSync(readFileSync(join(seen, 'argv'), 'utf8').trim())).toBe(true);
      const secret = await redeemAt(way);
      expect(existsSync(readFileSync(join(seen, 'argv'), 'utf8').trim())).toBe(false);
      expect((await post(way, '/rpc', { endpoint: 'stock.suppliers', input: {} }, secret)).status).toBe(200);
      expect((await post(way, '/rpc', { endpoint: 'nothing.here', input: {} }, secret)).status).toBe(200);
      expect((await post(way, '/rpc', { endpoint: 'x' }, secret)).status).toBe(400);
      const file = readFileSync(join(seen, 'argv'), 'utf8').trim();
      const modes = readFileSync(join(seen, 'modes'), 'utf8')
        .split('\n')
        .map((line) => line.slice(0, 10));
      expect(modes).toEqual(['-rw-------', 'drwx------', '']);
      const open = [
        file,
        readFileSync(join(seen, 'env'), 'utf8'),
        child.output(),
        ...(onLinux
          ? [`/proc/${child.process.pid}/cmdline`, `/proc/${child.process.pid}/environ`].map((each) =>
              readFileSync(each, 'utf8'),
            )
          : []),
      ];
      for (const text of open) {
        expect(text).not.toContain(code);
        expect(text).not.toContain(secret);
      }
      const note = readFileSync(join(own, 'loopback.json'), 'utf8');
      expect([
        statSync(join(own, 'loopback.json')).mode & 0o777,
        note.includes(code),
        note.includes(secret),
      ]).toEqual([0o600, false, false]);
      child.process.kill('SIGTERM');
      expect(await child.exit).toBe(0);
      expect([existsSync(file), existsSync(join(own, 'loopback.json'))]).toEqual([false, false]);
    },
  );

  it('W13 prints the code on exactly one line and only when asked not to open a browser', async () => {
    await using child = startChild(['--no-open', '--data', data()]);
    const way = await wayIn(child);
    await redeemAt(way);
    expect(child.output().split(way.code).length - 1).toBe(1);
    expect(child.output()).toMatch(
      /^Knifewright is open at http:\/\/w-[0-9a-f]{12}\.localhost:\d+\/#code=[\w-]+\n/,
    );
  });

  it('W16 stops by itself, with the workshop closed, once the last tab has said goodbye', async () => {
    await using child = startChild([
      '--no-open',
      '--stop-when-idle',
      '--idle-seconds',
      '2',
      '--data',
      data(),
    ]);
    const way = await wayIn(child);
    const secret = await redeemAt(way);
    const tab = 'tab-of-this-test';
    expect((await post(way, '/alive', { tab }, 'wrong')).status).toBe(401);
    expect((await post(way, '/alive', { tab: 'no spaces' }, secret)).status).toBe(400);
    expect((await post(way, '/alive', { tab }, secret)).status).toBe(200);
    expect((await post(way, '/goodbye', { tab }, secret)).status).toBe(200);
    expect(await child.exit).toBe(0);
    expect(child.output()).toContain('workshop closed\n');
  });

  it.each(['SIGTERM', 'SIGINT'] as const)(
    'W16 finishes what is under way before it stops on %s',
    async (signal) => {
      await using child = startChild(['--no-open', '--data', data()]);
      const way = await wayIn(child);
      const secret = await redeemAt(way);
      const under = post(
        way,
        '/rpc',
        { endpoint: 'stock.saveSupplier', input: { name: 'Greyfen Bar & Strip' } },
        secret,
      );
      await child.until(/call begins/);
      child.process.kill(signal);
      expect((await under).status).toBe(200);
      expect(await child.exit).toBe(0);
      expect(child.output()).toMatch(/call begins\ncall ends\nworkshop closed\n$/);
    },
  );

  it('W16 stays, without --stop-when-idle, when only an address was asked for', async () => {
    await using child = startChild(['--no-open', '--idle-seconds', '1', '--data', data()]);
    const way = await wayIn(child);
    const secret = await redeemAt(way);
    await post(way, '/alive', { tab: 'tab-of-this-test' }, secret);
    await post(way, '/goodbye', { tab: 'tab-of-this-test' }, secret);
    await new Promise((resolve) => setTimeout(resolve, 3500));
    expect(child.process.exitCode).toBeNull();
    expect((await post(way, '/rpc', { endpoint: 'host.info', input: {} }, secret)).status).toBe(200);
  });

  it('W5 lets a second start fetch a fresh code from the running host', async () => {
    const own = data();
    await using first = startChild(['--no-open', '--data', own]);
    const way = await wayIn(first);
    const secret = await redeemAt(way);
    await using second = startChild(['--no-open', '--data', own]);
    const again = await wayIn(second);
    expect(await second.exit).toBe(0);
    expect([again.authority, again.code === way.code]).toEqual([way.authority, false]);
    expect(await redeemAt(again)).toBe(secret);
  });

  it('W5 gives no code to anyone without the key of the private file', async () => {
    const own = data();
    await using child = startChild(['--no-open', '--data', own]);
    const way = await wayIn(child);
    const { key } = JSON.parse(readFileSync(join(own, 'loopback.json'), 'utf8')) as { key: string };
    const ask = (extra: string, shown: string) =>
      speak(way.port, {
        parts: [
          `POST /handover HTTP/1.1\r\nHost: ${way.authority}\r\n${extra}Authorization: Handover ${shown}\r\nContent-Type: application/json\r\nContent-Length: 2\r\nConnection: close\r\n\r\n{}`,
        ],
      });
    expect((await ask('', `${key}x`)).status).toBe(401);
    expect((await ask('', '')).status).toBe(401);
    expect((await ask(`Origin: http://${way.authority}\r\n`, key)).status).toBe(403);
    expect((await ask('Sec-Fetch-Site: same-origin\r\n', key)).status).toBe(403);
    expect((await ask('', key)).status).toBe(200);
  });

  it('starts in spite of a note left behind by a host that was killed', async () => {
    const own = data();
    const first = startChild(['--no-open', '--data', own]);
    const way = await wayIn(first);
    first.process.kill('SIGKILL');
    await first.exit;
    expect(existsSync(join(own, 'loopback.json'))).toBe(true);
    await using second = startChild(['--no-open', '--data', own]);
    const again = await wayIn(second);
    expect(again.authority).not.toBe(way.authority);
    expect(await redeemAt(again)).toMatch(/^[\w-]{43}$/);
  });
});
