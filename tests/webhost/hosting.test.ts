import { describe, expect, it } from 'vitest';
import { FaultError } from '../../electron/api/errors.ts';
import { parseFlags } from '../../electron/hosting/flags.ts';
import { workshopFolders } from '../../electron/hosting/folders.ts';
import { runtimeProblem } from '../../electron/hosting/runtime-check.ts';
import { openSwitch } from '../../electron/hosting/workshop-switch.ts';
import type { WorkshopKind } from '../../electron/hosting/workshop-switch.ts';
import { openCommand, redirectPage } from '../../electron/webhost/browser.ts';
import { createFakePort } from './support/fake-port.ts';
import type { FakePort } from './support/fake-port.ts';

describe('starting a host', () => {
  it('says in one sentence that an old Node.js will not do', () => {
    expect(runtimeProblem({ node: '24.21.0', napi: '10' })).toBeUndefined();
    expect(runtimeProblem({ node: '30.0.0', napi: '12' })).toBeUndefined();
    const sentence =
      'Knifewright needs Node.js 22.14 or newer and this is 20.20.2; start it with "npm start", which fetches a newer one, or install a newer Node.js.';
    expect(runtimeProblem({ node: '20.20.2', napi: '9' })).toBe(sentence);
    expect(runtimeProblem({ node: '20.20.2', napi: undefined })).toBe(sentence);
  });

  it.each([
    ['linux', {}, '/home/a/.local/share/knifewright/workshop', '/home/a/.local/share/knifewright/demo'],
    ['linux', { XDG_DATA_HOME: '/data' }, '/data/knifewright/workshop', '/data/knifewright/demo'],
    [
      'linux',
      { XDG_DATA_HOME: 'rel' },
      '/home/a/.local/share/knifewright/workshop',
      '/home/a/.local/share/knifewright/demo',
    ],
    [
      'darwin',
      { XDG_DATA_HOME: '/data' },
      '/home/a/Library/Application Support/Knifewright/workshop',
      '/home/a/Library/Application Support/Knifewright/demo',
    ],
    [
      'win32',
      { APPDATA: 'C:\\U\\Roaming' },
      'C:\\U\\Roaming\\Knifewright\\workshop',
      'C:\\U\\Roaming\\Knifewright\\demo',
    ],
  ])('keeps the workshop where %s with %j expects it', (platform, env, own, demo) => {
    expect(workshopFolders({ platform, env, home: '/home/a' })).toEqual({ own, demo });
  });

  it('keeps the demo beside a folder that was named, never in it', () => {
    const around = { platform: 'linux', env: {}, home: '/home/a' };
    expect(workshopFolders(around, '/books/')).toEqual({ own: '/books', demo: '/books-demo' });
  });

  it('reads the words of the command line', () => {
    expect(parseFlags([])).toEqual({
      ok: true,
      flags: { demo: false, noOpen: false, port: 0, stopWhenIdle: true, idleSeconds: 90 },
    });
    expect(parseFlags(['--data', 'x', '--demo', '--no-open', '--port', '4000', '--idle-seconds=5'])).toEqual({
      ok: true,
      flags: { data: 'x', demo: true, noOpen: true, port: 4000, stopWhenIdle: false, idleSeconds: 5 },
    });
  });

  it.each([
    [['--nope'], "Unknown option '--nope'. Known are"],
    [['extra'], 'Known are --data DIR'],
    [['--port', '-1'], 'Known are --data DIR'],
    [['--port', '70000'], '--port takes a whole number from 0 to 65535'],
    [['--port', '1e3'], '--port takes a whole number'],
    [['--idle-seconds', '0'], '--idle-seconds takes a whole number'],
    [['--data', ''], '--data takes the folder'],
    [['--data'], 'Known are --data DIR'],
  ])('refuses %j with a sentence', (argv, sentence) => {
    const read = parseFlags(argv);
    expect([read.ok, 'message' in read ? read.message : '']).toEqual([
      false,
      expect.stringContaining(sentence),
    ]);
  });

  it('names only a private file on the command line that opens the browser', () => {
    expect(openCommand('linux', '/tmp/a/open.html')).toEqual(['xdg-open', ['/tmp/a/open.html']]);
    expect(openCommand('darwin', '/tmp/a/open.html')).toEqual(['open', ['/tmp/a/open.html']]);
    expect(openCommand('win32', '/tmp/a/open.html')[0]).toBe('rundll32.exe');
  });

  it('writes no address into the leading page but one of its own', () => {
    expect(redirectPage('http://w-1.localhost:80/#code=a-_Z')).toContain(
      'content="0;url=http://w-1.localhost:80/#code=a-_Z"',
    );
    expect(() => redirectPage('http://w-1.localhost:80/#code="><script>')).toThrow();
    expect(() => redirectPage('javascript:alert(1)')).toThrow();
  });
});

describe('the door to the workshops', () => {
  type Refusal = (which: WorkshopKind, goBackTo?: string) => Error | undefined;
  const open = async (fail: Refusal = () => undefined) => {
    const ports: Record<WorkshopKind, FakePort[]> = { own: [], demo: [] };
    const wentBackTo: (string | undefined)[] = [];
    const door = await openSwitch({
      kind: 'loopback',
      version: '1',
      folders: { own: '/own', demo: '/demo' },
      start: 'own',
      openWorkshop: async (which, goBackTo) => {
        // Whoever opens must find the folder free.
        if (ports[which].some((port) => !port.closed())) throw new Error('it is open already');
        wentBackTo.push(goBackTo);
        await new Promise((resolve) => setTimeout(resolve, 5));
        const error = fail(which, goBackTo);
        if (error !== undefined) throw error;
        const port = createFakePort();
        ports[which].push(port);
        return port;
      },
    });
    return { door, ports, wentBackTo };
  };

  it('tells which workshop is open', async () => {
    const { door } = await open();
    const value = { kind: 'loopback', version: '1', folder: '/own', demo: false };
    expect(await door.call('host.info', {})).toEqual({ ok: true, value, seq: 0 });
  });

  it('changes to the demo and back, closing what it leaves', async () => {
    const { door, ports } = await open();
    await door.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
    expect(await door.call('host.openDemo', {})).toEqual({
      ok: true,
      value: { kind: 'loopback', version: '1', folder: '/demo', demo: true },
      seq: 0,
    });
    await door.call('host.openDemo', {});
    await door.call('stock.saveSupplier', { name: 'Other' });
    expect([ports.own.map((port) => port.closed()), ports.demo.length]).toEqual([[true], 1]);
    await Promise.all([
      door.call('host.openOwn', {}),
      door.call('host.openDemo', {}),
      door.call('host.openOwn', {}),
    ]);
    expect(door.info().demo).toBe(false);
    expect([...ports.own, ...ports.demo].filter((port) => !port.closed()).length).toBe(1);
    await door.close();
    expect([...ports.own, ...ports.demo].every((port) => port.closed())).toBe(true);
  });

  it('keeps the open workshop when the other one cannot be opened', async () => {
    const fault = { kind: 'storage', message: 'Another program has it open.' } as const;
    const { door, ports } = await open((which) => (which === 'demo' ? new FaultError(fault) : undefined));
    expect(await door.call('host.openDemo', {})).toEqual({ ok: false, fault });
    expect([door.info().demo, ports.own[0]?.closed()]).toEqual([false, false]);
    expect((await door.call('stock.suppliers', {})).ok).toBe(true);
  });

  it('goes back to a safety copy with the books closed, and lets calls made meanwhile wait', async () => {
    const { door, ports, wentBackTo } = await open();
    await door.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
    const [back, waited] = await Promise.all([
      door.call('host.goBackTo', { name: 'books-1.db' }),
      door.call('stock.suppliers', {}),
    ]);
    const value = { kind: 'loopback', version: '1', folder: '/own', demo: false };
    expect([back, waited.ok]).toEqual([{ ok: true, value, seq: 0 }, true]);
    expect([wentBackTo, ports.own.map((port) => port.closed())]).toEqual([
      [undefined, 'books-1.db'],
      [true, false],
    ]);
  });

  it('goes on with the present books when a copy cannot be had', async () => {
    const fault = { kind: 'storage', message: 'There is no such copy.' } as const;
    const { door, wentBackTo } = await open((_which, goBackTo) =>
      goBackTo === undefined ? undefined : new FaultError(fault),
    );
    expect(await door.call('host.goBackTo', { name: 'books-9.db' })).toEqual({ ok: false, fault });
    expect(await door.call('host.goBackTo', { name: '' })).toMatchObject({ fault: { kind: 'invalid' } });
    expect([wentBackTo, (await door.call('stock.suppliers', {})).ok]).toEqual([
      [undefined, 'books-9.db', undefined],
      true,
    ]);
  });

  it('refuses unknown names and badly formed requests to itself', async () => {
    const { door } = await open();
    expect(await door.call('toString', {})).toMatchObject({ ok: false, fault: { kind: 'forbidden' } });
    expect(await door.call('host.info', { more: 1 })).toMatchObject({
      ok: false,
      fault: { kind: 'invalid' },
    });
    const file = { name: 'a.pdf', base64: 'AAAA' };
    expect(await door.call('host.saveFile', file)).toMatchObject({ ok: false, fault: { kind: 'refused' } });
  });
});
