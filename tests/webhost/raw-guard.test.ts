import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageHeaders } from '../../electron/hosting/page-policy.ts';
import { createFakePort } from './support/fake-port.ts';
import { requestText, speak } from './support/raw.ts';
import { startRunning } from './support/running.ts';
import type { Running } from './support/running.ts';

const supplier = JSON.stringify({ endpoint: 'stock.saveSupplier', input: { name: 'Greyfen Bar & Strip' } });

describe('the loopback host on a bare socket', () => {
  const workshop = createFakePort();
  let running: Running;
  let secret: string;

  beforeAll(async () => {
    running = await startRunning({
      port: workshop,
      limits: { bodyBytes: 20_000, headerBytes: 8192, headersMs: 1000, requestMs: 1500 },
    });
    secret = await running.secret();
  });
  afterAll(() => running[Symbol.asyncDispose]());

  /** Sends a changing call that is right but for the headers given, and tells the status. */
  const statusWith = async (changed: Readonly<Record<string, string | undefined>>): Promise<number> =>
    (await running.send({ headers: running.headers(secret, changed), body: supplier })).status;

  it('answers a call that is right in every way', async () => {
    const before = workshop.changes.length;
    const reply = await running.call(secret, 'stock.suppliers');
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.body)).toEqual({
      ok: true,
      value: { endpoint: 'stock.suppliers', input: {} },
      seq: before,
    });
  });

  it('W1 refuses every Host that is not exactly ours before anything else', async () => {
    const before = workshop.changes.length;
    const hosts = [
      '127.0.0.1.evil.test',
      `127.0.0.1.evil.test:${running.port}`,
      'localhost.',
      `localhost.:${running.port}`,
      `localhost:${running.port}`,
      `127.0.0.1:${running.port}`,
      running.authority.replace(/\d+$/, '1'),
      running.authority.toUpperCase(),
      `x.${running.authority}`,
      'evil.test',
      '',
    ];
    for (const host of hosts) expect([host, await statusWith({ Host: host })]).toEqual([host, 421]);
    const page = await running.send({ method: 'GET', target: '/', headers: [['Host', 'evil.test']] });
    expect(page.status).toBe(421);
    expect(page.body).not.toContain('<title>');
    const withTwo = [['Host', 'evil.test'] as const, ...running.headers(secret)];
    expect((await running.send({ headers: withTwo, body: supplier })).status).toBeGreaterThanOrEqual(400);
    const twoRight = [['Host', running.authority] as const, ...running.headers(secret)];
    expect((await running.send({ headers: twoRight, body: supplier })).status).toBeGreaterThanOrEqual(400);
    expect(await statusWith({ Host: undefined })).toBe(421);
    const absolute = await running.send({
      target: `http://${running.authority}/rpc`,
      headers: running.headers(secret),
      body: supplier,
    });
    expect(absolute.status).toBe(400);
    expect(workshop.changes.length).toBe(before);
  });

  it('W2 refuses a missing, empty, foreign or other-port Origin', async () => {
    const before = workshop.changes.length;
    const origins = [
      undefined,
      'null',
      'http://evil.test',
      `https://${running.authority}`,
      running.origin.replace(/\d+$/, String(running.port + 1)),
      `http://127.0.0.1:${running.port}`,
      `${running.origin}.evil.test`,
    ];
    for (const origin of origins)
      expect([origin, await statusWith({ Origin: origin })]).toEqual([origin, 403]);
    expect(workshop.changes.length).toBe(before);
  });

  it('W3 refuses calls that are not marked as coming from the same origin', async () => {
    for (const site of [undefined, 'same-site', 'cross-site', 'none']) {
      expect([site, await statusWith({ 'Sec-Fetch-Site': site })]).toEqual([site, 403]);
    }
  });

  it('W4 answers a missing, old or wrong key always with the same 401', async () => {
    await using other = await startRunning();
    const keys = [
      undefined,
      '',
      'Knifewright',
      'Knifewright ',
      `Knifewright ${await other.secret()}`,
      `Knifewright ${secret.slice(0, -1)}`,
      `Knifewright ${secret}x`,
      `Bearer ${secret}`,
      secret,
    ];
    const bodies = new Set<string>();
    for (const key of keys) {
      const headers = running.headers(secret, { Authorization: key });
      const reply = await running.send({ headers, body: supplier });
      expect([key, reply.status]).toEqual([key, 401]);
      bodies.add(reply.body);
    }
    expect(bodies.size).toBe(1);
    expect([...bodies][0]).toContain('has lost its key');
  });

  it('W6 refuses other content types and JSON smuggled in as text', async () => {
    const before = workshop.changes.length;
    for (const type of [
      'text/plain',
      'text/plain;charset=application/json',
      'application/x-www-form-urlencoded',
      undefined,
    ]) {
      expect([type, await statusWith({ 'Content-Type': type })]).toEqual([type, 415]);
    }
    expect(await statusWith({ 'Content-Encoding': 'gzip' })).toBe(415);
    expect(workshop.changes.length).toBe(before);
  });

  it('W6 refuses a body that is announced as too long without reading it', async () => {
    const text = requestText({ headers: [...running.headers(secret), ['Content-Length', '20001']] });
    const reply = await speak(running.port, { parts: [text] });
    expect([reply.status, reply.closed]).toEqual([413, true]);
  });

  it('W6 refuses a body that turns out too long while it comes in, and hangs up', async () => {
    const text = requestText({ headers: [...running.headers(secret), ['Transfer-Encoding', 'chunked']] });
    const chunk = `1000\r\n${'a'.repeat(0x1000)}\r\n`;
    const reply = await speak(running.port, {
      parts: [text, chunk, chunk, chunk, chunk, chunk, chunk],
      pauseMs: 20,
    });
    expect([reply.status, reply.closed]).toEqual([413, true]);
  });

  it('W6 refuses a head that is too long', async () => {
    const headers = [...running.headers(secret), ['X-Long', 'a'.repeat(9000)] as const];
    const reply = await running.send({ headers, body: supplier });
    expect([reply.status, reply.closed]).toEqual([431, true]);
  });

  it('W6 does not wait for a head or a body that comes in drops', async () => {
    const slowHead = await speak(running.port, {
      parts: ['POST /rpc HTTP/1.1\r\nHost: x\r\n'],
      timeoutMs: 7000,
    });
    expect([slowHead.status, slowHead.closed]).toEqual([408, true]);
    const text = requestText({ headers: [...running.headers(secret), ['Content-Length', '1000']] });
    const slowBody = await speak(running.port, { parts: [`${text}{"endpoint":`], timeoutMs: 7000 });
    expect([slowBody.status, slowBody.closed]).toEqual([408, true]);
  });

  it('W6 refuses what is not JSON, not UTF-8 or not HTTP', async () => {
    const bodies = [
      '',
      '{',
      'null',
      '[]',
      '"x"',
      '{"endpoint":"stock.suppliers"}',
      '{"endpoint":1,"input":{}}',
    ];
    for (const body of bodies) {
      const reply = await running.send({ headers: running.headers(secret), body });
      expect([body, reply.status]).toEqual([body, 400]);
    }
    const text = requestText({ headers: [...running.headers(secret), ['Content-Length', '2']] });
    const broken = await speak(running.port, { parts: [text, Uint8Array.from([0xff, 0xfe])] });
    expect(broken.status).toBe(400);
    expect((await speak(running.port, { parts: ['\u0016\u0003\u0001 hello\r\n\r\n'] })).status).toBe(400);
    const invited = [...running.headers(secret), ['Expect', '100-continue'] as const];
    expect((await running.send({ headers: invited, body: supplier })).status).toBe(417);
  });

  it('W7 never sends an Access-Control header and refuses OPTIONS', async () => {
    const preflight = [
      ['Host', running.authority],
      ['Origin', 'http://evil.test'],
      ['Access-Control-Request-Method', 'POST'],
      ['Access-Control-Request-Headers', 'authorization,content-type'],
    ] as const;
    const replies = [
      await running.send({ method: 'OPTIONS', headers: preflight }),
      await running.send({ method: 'OPTIONS', headers: running.headers(secret) }),
      await running.call(secret, 'stock.suppliers'),
      await running.send({ method: 'GET', target: '/', headers: preflight.slice(0, 2) }),
      await running.send({ headers: running.headers('wrong'), body: supplier }),
    ];
    expect(replies.map((reply) => reply.status)).toEqual([403, 403, 200, 200, 401]);
    for (const reply of replies) expect(reply.text.toLowerCase()).not.toContain('access-control-');
  });

  it('W8 refuses to switch to a web socket or to be used as a proxy', async () => {
    const upgrade = [
      ...running.headers(secret),
      ['Upgrade', 'websocket'] as const,
      ['Sec-WebSocket-Key', 'dGhlIHNhbXBsZSBub25jZQ=='] as const,
      ['Sec-WebSocket-Version', '13'] as const,
    ];
    const text = requestText({ method: 'GET', target: '/', headers: upgrade }).replace(
      'Connection: close',
      'Connection: Upgrade',
    );
    const reply = await speak(running.port, { parts: [text] });
    expect([reply.status, reply.closed]).toEqual([403, true]);
    const proxy = await speak(running.port, {
      parts: [`CONNECT evil.test:443 HTTP/1.1\r\nHost: ${running.authority}\r\n\r\n`],
    });
    expect([proxy.status, proxy.closed]).toEqual([403, true]);
  });

  it('W10 sends the protective headers with every reply, refusals and broken requests included', async () => {
    const get = (target: string) =>
      running.send({ method: 'GET', target, headers: [['Host', running.authority]] });
    const replies = [
      await get('/'),
      await get('/assets/page.js'),
      await get('/nothing.js'),
      await get('/rpc'),
      await running.send({ method: 'HEAD', target: '/', headers: [['Host', running.authority]] }),
      await running.call(secret, 'stock.suppliers'),
      await running.call('wrong', 'stock.suppliers'),
      await running.send({ method: 'OPTIONS', headers: running.headers(secret) }),
      await running.send({ method: 'GET', headers: [['Host', 'evil.test']] }),
      await running.send({ method: 'GET', headers: [] }),
      await running.send({
        headers: [...running.headers(secret), ['X-Long', 'a'.repeat(9000)]],
        body: supplier,
      }),
      await speak(running.port, { parts: ['nonsense\r\n\r\n'] }),
    ];
    const wanted = Object.entries(pageHeaders).map(([name, value]) => [name.toLowerCase(), value]);
    expect(replies.map((reply) => reply.status)).toEqual([
      200, 200, 404, 405, 200, 200, 401, 403, 421, 421, 431, 400,
    ]);
    for (const reply of replies) {
      expect(wanted.map(([name = '']) => [name, reply.headers[name]])).toEqual(wanted);
      expect(reply.headers['set-cookie']).toBeUndefined();
    }
    expect(pageHeaders['Content-Security-Policy']).toBe(
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; object-src 'none'; require-trusted-types-for 'script'",
    );
    expect(pageHeaders['Content-Security-Policy']).not.toMatch(/unsafe|\*/);
  });
});
