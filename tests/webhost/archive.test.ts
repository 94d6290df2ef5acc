import fs from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTickets } from '../../electron/webhost/tickets.ts';
import { type Running, startRunning } from './support/running.ts';

describe('archives over the loopback address', () => {
  let running: Running;
  let secret: string;
  let place: string;
  beforeAll(async () => {
    running = await startRunning({ limits: { bodyBytes: 20_000 } });
    secret = await running.secret();
    place = join(running.folder, 'own', 'archives');
  });
  afterAll(() => running[Symbol.asyncDispose]());

  const body = 'PK and so on';
  const send = (changed: Readonly<Record<string, string | undefined>>, sent = body) =>
    running.send({
      target: '/archive',
      headers: running.headers(secret, {
        'Content-Type': 'application/octet-stream',
        'X-Archive-Name': encodeURIComponent('Книга 🔪.zip'),
        ...changed,
      }),
      ...(sent === '' ? {} : { body: sent }),
    });
  const there = (): readonly string[] => (fs.existsSync(place) ? fs.readdirSync(place) : []);

  it('takes one in from its own page with its key, under a name that is safe and free', async () => {
    const first = await send({});
    expect(JSON.parse(first.body)).toMatchObject({ ok: true, value: { name: 'Книга.zip' } });
    const second = await send({});
    expect(JSON.parse(second.body)).toMatchObject({ value: { name: 'Книга (2).zip' } });
    const outside = await send({ 'X-Archive-Name': encodeURIComponent('../../evil/..zip') });
    expect(JSON.parse(outside.body)).toMatchObject({ value: { name: 'Archive.zip' } });
    expect(fs.readFileSync(join(place, 'Книга.zip'), 'utf8')).toBe(body);
  });

  it.each([
    [{ Authorization: undefined }, 401],
    [{ Authorization: 'Knifewright guessed' }, 401],
    [{ Origin: 'http://evil.test' }, 403],
    [{ 'Sec-Fetch-Site': 'cross-site' }, 403],
    [{ Host: 'evil.test' }, 421],
    [{ 'Content-Type': 'application/json' }, 415],
    [{ 'Content-Encoding': 'gzip' }, 415],
    [{ 'X-Archive-Name': undefined }, 400],
    [{ 'X-Archive-Name': '%FF' }, 400],
    [{ 'X-Archive-Name': 'a b' }, 400],
  ] as const)('refuses %j with %s and keeps nothing of it', async (changed, status) => {
    const before = there();
    expect((await send(changed)).status).toBe(status);
    expect(there()).toEqual(before);
  });

  it('keeps nothing of one that is larger than the disk', async () => {
    const before = there();
    const huge = await send({ 'Content-Length': '900000000000000' }, '');
    expect(JSON.parse(huge.body)).toMatchObject({ ok: false, fault: { kind: 'storage' } });
    expect(there()).toEqual(before);
  });

  it('hands one out under an address that works once, and no other file', async () => {
    const asked = await running.call(secret, 'host.handOutArchive', { name: 'Книга.zip' });
    const { address } = (JSON.parse(asked.body) as { value: { address: string } }).value;
    const fetched = () =>
      running.send({ method: 'GET', target: address, headers: [['Host', running.authority]] });
    const got = await fetched();
    expect([got.status, got.body, got.headers['content-disposition']]).toEqual([
      200,
      body,
      expect.stringContaining(`filename*=UTF-8''${encodeURIComponent('Книга.zip')}`),
    ]);
    expect((await fetched()).status).toBe(404);
    for (const name of ['../workshop.db', 'missing.zip', '..zip']) {
      const reply = await running.call(secret, 'host.handOutArchive', { name });
      expect(JSON.parse(reply.body)).toMatchObject({ ok: false, fault: { kind: 'missing' } });
    }
  });

  it('lets an address grow old', () => {
    let now = 0;
    const tickets = createTickets(() => now);
    const file = { path: '/x', name: 'x.zip' };
    const [early, late] = [tickets.issue(file), tickets.issue(file)];
    now = 60_000;
    expect(tickets.redeem(early)).toEqual(file);
    now = 60_001;
    expect(tickets.redeem(late)).toBeUndefined();
    expect(tickets.redeem('/archive/guessed')).toBeUndefined();
  });
});
