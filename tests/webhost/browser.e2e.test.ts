import { createServer } from 'node:http';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from './support/chromium.ts';
import { createFakePort } from './support/fake-port.ts';
import { startRunning } from './support/running.ts';
import type { Running, RunningOptions } from './support/running.ts';

const bundlePage = async (): Promise<Record<string, string>> => {
  const entryPoints = [fileURLToPath(new URL('support/page.ts', import.meta.url))];
  const built = await build({ entryPoints, bundle: true, format: 'esm', write: false, target: 'es2022' });
  const html =
    '<!doctype html><html lang="en"><title>Workshop</title><script type="module" src="/assets/page.js"></script><body></body></html>';
  return { 'index.html': html, 'assets/page.js': built.outputFiles[0]?.text ?? '' };
};

interface Foreign {
  readonly port: number;
  readonly server: Server;
  /** Every path it was ever asked for. */
  readonly asked: readonly string[];
}

/** A page of somebody else, on another port of this machine. */
const startForeign = async (): Promise<Foreign> => {
  const asked: string[] = [];
  const server = createServer((req, res) => {
    asked.push(req.url ?? '');
    res.writeHead(200, { 'Content-Type': 'text/html' });
    res.end('<!doctype html><title>Somebody else</title><body></body>');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return { port: (server.address() as AddressInfo).port, server, asked };
};

/** What a hostile page can try against an address, and what it gets to see. Runs in that page. */
const attack = async ({ address, rpc }: { address: string; rpc: string }): Promise<readonly string[]> => {
  const seen: string[] = [];
  const attempt = async (what: string, init: RequestInit, path = '/rpc'): Promise<void> => {
    try {
      const response = await fetch(`${address}${path}`, { credentials: 'include', ...init });
      seen.push(`${what}: ${response.type} ${(await response.text()).length}`);
    } catch {
      seen.push(`${what}: refused`);
    }
  };
  const json = { 'Content-Type': 'application/json' };
  await attempt('json', { method: 'POST', headers: json, body: rpc });
  await attempt('text', { method: 'POST', body: rpc });
  await attempt('no-cors', { method: 'POST', mode: 'no-cors', body: rpc });
  await attempt('key', { method: 'POST', headers: { ...json, Authorization: 'Knifewright x' }, body: rpc });
  await attempt('page', {}, '/');
  await attempt('no-cors page', { mode: 'no-cors' }, '/assets/page.js');
  seen.push(
    await new Promise<string>((resolve) => {
      const socket = new WebSocket(address.replace('http', 'ws'));
      socket.onopen = () => resolve('socket: open');
      socket.onerror = () => resolve('socket: refused');
    }),
  );
  seen.push(
    await new Promise<string>((resolve) => {
      const script = document.createElement('script');
      script.src = `${address}/assets/page.js`;
      script.onload = () => resolve('script: loaded');
      script.onerror = () => resolve('script: refused');
      document.body.append(script);
    }),
  );
  return seen;
};

const nothingSeen = [
  'json: refused',
  'text: refused',
  'no-cors: refused',
  'key: refused',
  'page: refused',
  'no-cors page: refused',
  'socket: refused',
  'script: refused',
];

const rpc = JSON.stringify({ endpoint: 'stock.saveSupplier', input: { name: 'Evil' } });

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('the loopback host in Chromium', () => {
  let browser: Browser;
  let page: Record<string, string>;
  let foreign: Foreign;
  let context: BrowserContext;
  const workshop = createFakePort();
  let running: Running;

  beforeAll(async () => {
    browser = await sharedChromium();
    page = await bundlePage();
    foreign = await startForeign();
  });
  afterAll(() => {
    foreign.server.close();
  });
  beforeEach(async () => {
    context = await browser.newContext();
    running = await start({ port: createFakePort() });
  });
  afterEach(async () => {
    await context.close();
    await running[Symbol.asyncDispose]();
  });

  const start = (options: RunningOptions): Promise<Running> => startRunning({ ...options, page });
  const opened = async (address: string): Promise<Page> => {
    const tab = await context.newPage();
    await tab.goto(address);
    await tab.waitForSelector('body[data-ready]');
    return tab;
  };
  const textOf = (tab: Page): Promise<string> => tab.innerText('body');

  it('W13 lets the page in and leaves neither code nor secret in address, history, title or lasting storage', async () => {
    const tab = await opened(running.address);
    expect(await textOf(tab)).toBe(`open: ${running.folder}/own`);
    expect([tab.url(), await tab.title()]).toEqual([`${running.origin}/`, 'Workshop']);
    const kept = await tab.evaluate(() => ({
      local: localStorage.length,
      session: sessionStorage.length,
      cookies: document.cookie,
      history: JSON.stringify(history.state),
    }));
    expect(kept).toEqual({ local: 0, session: 1, cookies: '', history: 'null' });
    await tab.reload();
    await tab.waitForSelector('body[data-ready]');
    expect(await textOf(tab)).toBe(`open: ${running.folder}/own`);
    await tab.goto('about:blank');
    await tab.goBack();
    expect(tab.url()).toBe(`${running.origin}/`);
  });

  it('W15 tells a second tab without a key plainly that the workshop is already open', async () => {
    await opened(running.address);
    const plain = await opened(running.origin);
    expect(await textOf(plain)).toBe(
      'closed: The workshop is already open in another tab. Go back to that tab, or start the program again to get a new one.',
    );
    const pasted = await opened(running.address);
    expect(await textOf(pasted)).toBe(
      'closed: This address has been used or is too old. Start the program again; it opens a fresh one in a moment.',
    );
  });

  it.each([
    ['W2 a foreign site', 'http://evil.test'],
    ['W3 another port of this machine', 'http://127.0.0.1'],
    ['W3 another port under a name of the same site', 'http://w-000000000000.localhost'],
  ])('%s reads nothing and changes nothing, whatever it tries', async (_who, site) => {
    const port = createFakePort();
    await using target = await start({ port });
    const owner = await opened(target.address);
    const tab = await context.newPage();
    await tab.goto(`${site}:${foreign.port}/`);
    expect(await tab.evaluate(attack, { address: target.origin, rpc })).toEqual(nothingSeen);
    expect(port.changes).toEqual([]);
    expect(await textOf(owner)).toContain('open:');
  });

  it('W6 a form of another site changes nothing', async () => {
    const port = createFakePort();
    await using target = await start({ port });
    await opened(target.address);
    const tab = await context.newPage();
    await tab.goto(`http://evil.test:${foreign.port}/`);
    await tab.evaluate(
      ({ address, text }) => {
        const form = document.createElement('form');
        form.method = 'post';
        form.enctype = 'text/plain';
        form.action = `${address}/rpc`;
        const field = document.createElement('input');
        field.name = text.slice(0, -1);
        field.value = '}';
        form.append(field);
        document.body.append(form);
        form.submit();
      },
      { address: target.origin, text: rpc },
    );
    await tab.waitForURL(`${target.origin}/rpc`);
    expect(await textOf(tab)).toContain('Only the workshop’s own page may ask this.');
    expect(port.changes).toEqual([]);
  });

  it('W9 a name that has been led to this machine reads nothing at all', async () => {
    const port = createFakePort();
    await using target = await start({ port });
    const tab = await context.newPage();
    const answer = await tab.goto(`http://rebind.test:${target.port}/`);
    expect([answer?.status(), await tab.title()]).toEqual([421, '']);
    const seen = await tab.evaluate(
      async ({ text, code }) => {
        const ask = async (path: string, body?: string): Promise<string> => {
          const init = { method: 'POST', headers: { 'Content-Type': 'application/json' } };
          try {
            const response = await fetch(path, body === undefined ? {} : { ...init, body });
            return `${response.status}`;
          } catch {
            return 'refused';
          }
        };
        const paths = ['/', '/assets/page.js', '/rpc', '/nothing'];
        const pages = await Promise.all(paths.map((path) => ask(path)));
        return [...pages, await ask('/session', JSON.stringify({ code })), await ask('/rpc', text)];
      },
      { text: rpc, code: target.code },
    );
    // The error page's own policy already forbids some of these; what gets through is refused by the host.
    expect(seen.every((status) => status === '421' || status === 'refused')).toBe(true);
    expect(port.changes).toEqual([]);
    expect((await target.redeem()).status).toBe(200);
  });

  it('W10 the page cannot be framed by another page', async () => {
    const tab = await context.newPage();
    await tab.goto(`http://evil.test:${foreign.port}/`);
    await tab.evaluate((address) => {
      const frame = document.createElement('iframe');
      frame.src = address;
      document.body.append(frame);
      return new Promise<void>((resolve) => {
        frame.onload = () => resolve();
      });
    }, running.address);
    const framed = tab.frames().find((frame) => frame !== tab.mainFrame());
    expect(await framed?.content()).not.toContain('page.js');
    expect((await running.redeem()).status).toBe(200);
  });

  it('W10 injected markup runs nothing and calls nobody', async () => {
    const tab = await opened(running.address);
    const outcome = await tab.evaluate(async (elsewhere) => {
      // A debugger's own call may evaluate text in spite of the policy; a later turn of the page may not.
      await new Promise((resolve) => setTimeout(resolve, 0));
      const violations: string[] = [];
      document.addEventListener('securitypolicyviolation', (event) =>
        violations.push(event.effectiveDirective),
      );
      const tried: string[] = [];
      const attempt = (what: string, action: () => unknown): void => {
        try {
          action();
          tried.push(`${what} done`);
        } catch {
          tried.push(`${what} stopped`);
        }
      };
      attempt('markup', () => {
        Reflect.set(document.body, 'innerHTML', '<img src=x onerror="window.hurt=1">');
      });
      attempt('evaluation', () => (Reflect.get(window, 'eval') as (text: string) => void)('window.hurt=1'));
      attempt('function', () => (Reflect.construct(Function, ['window.hurt=1']) as () => void)());
      const script = document.createElement('script');
      attempt('script text', () => {
        script.textContent = 'window.hurt=1';
      });
      document.body.append(script);
      const image = document.createElement('img');
      image.setAttribute('src', `${elsewhere}/spy.png`);
      document.body.append(image);
      const link = document.createElement('a');
      attempt('handler', () => link.setAttribute('onclick', 'window.hurt=1'));
      link.click();
      await fetch(`${elsewhere}/spy`).catch(() => undefined);
      await new Promise((resolve) => setTimeout(resolve, 300));
      return { hurt: 'hurt' in window, tried, violations: [...new Set(violations)].sort() };
    }, `http://evil.test:${foreign.port}`);
    expect(outcome.hurt).toBe(false);
    expect(outcome.tried.filter((line) => line.endsWith('done'))).toEqual([]);
    expect(outcome.violations).toEqual(
      expect.arrayContaining(['connect-src', 'img-src', 'require-trusted-types-for']),
    );
    expect(foreign.asked.filter((path) => path.includes('spy'))).toEqual([]);
  });

  it('W16 stops after the last tab has been closed, and not before', async () => {
    await using target = await start({ port: workshop, flags: { stopWhenIdle: true, idleSeconds: 2 } });
    const tab = await opened(target.address);
    await tab.reload();
    await tab.waitForSelector('body[data-ready]');
    await new Promise((resolve) => setTimeout(resolve, 3500));
    expect(workshop.closed()).toBe(false);
    await tab.close();
    await target.host.stopped;
    expect(workshop.closed()).toBe(true);
  });

  it('tells the page in plain words when the program has stopped or the key is lost', async () => {
    const tab = await opened(running.address);
    const invoke = () => tab.evaluate(() => window.tried?.transport.invoke('host.info', {}));
    expect(await invoke()).toMatchObject({ ok: true });
    await tab.route('**/rpc', (route) => route.fulfill({ status: 401, body: '{}' }));
    expect(await invoke()).toEqual({
      ok: false,
      fault: {
        kind: 'forbidden',
        message:
          'This page has lost its key. Close this tab and start the program again; what you saved is safe in the workshop.',
      },
    });
    await tab.unroute('**/rpc');
    await running.host.stop();
    expect(await invoke()).toEqual({
      ok: false,
      fault: {
        kind: 'storage',
        message: 'The workshop program has stopped; start it again. What you typed is still here.',
      },
    });
  });

  it('saves a file through the browser’s own downloads', async () => {
    const tab = await opened(running.address);
    const waiting = tab.waitForEvent('download');
    const base64 = Buffer.from('a cost sheet').toString('base64');
    const reply = await tab.evaluate((file) => window.tried?.transport.invoke('host.saveFile', file), {
      name: 'W01 cost sheet.pdf',
      base64,
    });
    const download = await waiting;
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    expect([reply, download.suggestedFilename(), Buffer.concat(chunks).toString()]).toEqual([
      { ok: true, value: { saved: true }, seq: 0 },
      'W01 cost sheet.pdf',
      'a cost sheet',
    ]);
  });
});
