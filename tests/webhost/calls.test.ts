import { Agent, request } from 'node:http';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endpoints } from '../../electron/api/contract.ts';
import type { Reply } from '../../electron/api/errors.ts';
import { createFakePort } from './support/fake-port.ts';
import { requestText, speak } from './support/raw.ts';
import { startRunning } from './support/running.ts';
import type { Running } from './support/running.ts';

const sendOne = (
  running: Running,
  headers: Record<string, string>,
  agent: Agent,
  body: string,
): Promise<number> =>
  new Promise((resolve, reject) => {
    const to = { host: '127.0.0.1', port: running.port, path: '/rpc', method: 'POST', agent };
    const length = String(Buffer.byteLength(body));
    const req = request({ ...to, headers: { ...headers, 'Content-Length': length } }, (res) => {
      res.resume();
      res.on('end', () => resolve(res.statusCode ?? 0));
    });
    req.on('error', reject);
    req.end(body);
  });

/** Sends every body as a call of the page, a few at a time, and tells the statuses. */
const sendAll = async (
  running: Running,
  secret: string,
  bodies: readonly string[],
): Promise<readonly number[]> => {
  const agent = new Agent({ keepAlive: true, maxSockets: 8 });
  const headers = Object.fromEntries(running.headers(secret));
  const statuses: number[] = [];
  for (let start = 0; start < bodies.length; start += 200) {
    const batch = bodies.slice(start, start + 200).map((body) => sendOne(running, headers, agent, body));
    statuses.push(...(await Promise.all(batch)));
  }
  agent.destroy();
  return statuses;
};

const replyIn = (body: string): Reply => JSON.parse(body) as Reply;

describe('calls to the loopback host', () => {
  it('W15 survives requests that crash inside and goes on answering', async () => {
    let broken = true;
    const workshop = createFakePort({
      before: (endpoint) => {
        if (endpoint === 'stock.items' && broken) throw new TypeError('secret detail of the crash');
      },
    });
    await using running = await startRunning({ port: workshop });
    const secret = await running.secret();
    const crashed = await running.call(secret, 'stock.items');
    expect([crashed.status, replyIn(crashed.body)]).toEqual([
      200,
      {
        ok: false,
        fault: {
          kind: 'internal',
          message: 'Something went wrong inside the program. Nothing was changed; please try again.',
        },
      },
    ]);
    broken = false;
    expect(replyIn((await running.call(secret, 'stock.items')).body).ok).toBe(true);
  });

  it('W15 survives an answer that cannot be written out, with a plain 500 and no detail', async () => {
    const round: { self?: unknown } = {};
    round.self = round;
    await using running = await startRunning({ port: createFakePort({ data: round }) });
    const secret = await running.secret();
    const reply = await running.call(secret, 'stock.items');
    expect(reply.status).toBe(500);
    expect(reply.body).toBe(
      '{"ok":false,"fault":{"kind":"internal","message":"Something went wrong inside the program. Please try again."}}',
    );
    expect(running.lines.at(-1)).toBe('A request could not be answered (TypeError).');
    expect((await running.call(secret, 'host.info')).status).toBe(200);
  });

  it('W15 survives callers that hang up in the middle of a request or before the answer', async () => {
    const workshop = createFakePort({ before: () => new Promise((resolve) => setTimeout(resolve, 50)) });
    await using running = await startRunning({ port: workshop });
    const secret = await running.secret();
    const head = requestText({ headers: [...running.headers(secret), ['Content-Length', '5000']] });
    const whole = requestText({
      headers: running.headers(secret),
      body: JSON.stringify({ endpoint: 'stock.items', input: {} }),
    });
    const outcomes = Array.from({ length: 20 }, (_, i) =>
      speak(running.port, { parts: [i % 2 === 0 ? `${head}{` : whole], timeoutMs: 5 + i * 4 }),
    );
    await Promise.all(outcomes);
    expect((await running.call(secret, 'stock.items')).status).toBe(200);
    expect(running.lines.filter((line) => line.includes('could not be answered'))).toEqual([]);
  });

  it('W15 gives a stray second tab the same session, and both work', async () => {
    await using running = await startRunning();
    const secret = await running.secret();
    const replies = await Promise.all([running.call(secret, 'host.info'), running.call(secret, 'host.info')]);
    expect(replies.map((reply) => reply.status)).toEqual([200, 200]);
  });

  it.each([
    ['an unknown name', 'stock.everything', {}],
    ['an inherited name', 'toString', {}],
    ['a prototype name', '__proto__', {}],
    ['another prototype name', 'constructor', {}],
    ['an empty name', '', {}],
  ])('W17 refuses %s', async (_what, endpoint, input) => {
    const workshop = createFakePort();
    await using running = await startRunning({ port: workshop });
    const reply = await running.call(await running.secret(), endpoint, input);
    expect([reply.status, replyIn(reply.body)]).toMatchObject([
      200,
      { ok: false, fault: { kind: 'forbidden' } },
    ]);
    expect(workshop.changes).toEqual([]);
  });

  it.each([
    '{"endpoint":"stock.saveSupplier","input":{"name":"A","__proto__":{"id":"x"}}}',
    '{"endpoint":"stock.saveSupplier","input":{"name":"A","\\u005f_proto__":{"id":"x"}}}',
    '{"endpoint":"stock.saveSupplier","input":{"name":"A"},"__proto__":{}}',
    '{"endpoint":"stock.saveSupplier","input":{"name":"A"},"extra":1}',
    '{"endpoint":"stock.saveSupplier","input":[]}',
    '{"endpoint":"stock.saveSupplier","input":"name"}',
    '{"endpoint":["stock.saveSupplier"],"input":{"name":"A"}}',
    '[{"endpoint":"stock.saveSupplier","input":{"name":"A"}}]',
  ])('W17 refuses the body %s', async (body) => {
    const workshop = createFakePort();
    await using running = await startRunning({ port: workshop });
    const reply = await running.send({ headers: running.headers(await running.secret()), body });
    expect(reply.status).toBe(400);
    expect(workshop.changes).toEqual([]);
  });

  it('answers a list of calls in its order, each by itself', async () => {
    const workshop = createFakePort();
    await using running = await startRunning({ port: workshop });
    const secret = await running.secret();
    const call = (endpoint: string) => ({ endpoint, input: {} });
    const send = (calls: readonly unknown[]) =>
      running.send({ headers: running.headers(secret), body: JSON.stringify({ calls }) });
    const reply = await send(['stock.items', 'no.such', 'stock.suppliers'].map(call));
    const answers = JSON.parse(reply.body) as readonly Reply[];
    expect(answers.map((one) => (one.ok ? one.value : one.fault.kind))).toMatchObject([
      { endpoint: 'stock.items' },
      'forbidden',
      { endpoint: 'stock.suppliers' },
    ]);
    const refused = [[], [call('stock.items'), 'x'], Array.from({ length: 17 }, () => call('stock.items'))];
    for (const calls of refused) expect((await send(calls)).status).toBe(400);
  });

  it('W17 takes the words __proto__ in a text for what they are', async () => {
    const workshop = createFakePort();
    await using running = await startRunning({ port: workshop });
    const reply = await running.call(await running.secret(), 'stock.saveSupplier', {
      name: '__proto__ \u00e9',
    });
    expect(replyIn(reply.body).ok).toBe(true);
    expect(workshop.changes.length).toBe(1);
  });

  it('W17 answers 10 000 random calls without an error of its own and without a change', async () => {
    const workshop = createFakePort();
    await using running = await startRunning({ port: workshop });
    const secret = await running.secret();
    const names = [
      ...Object.keys(endpoints).filter((name) => !name.startsWith('host.open')),
      '__proto__',
      'x.y',
    ];
    // The odd key makes every strict schema refuse the input, whatever else it holds.
    const input = fc.dictionary(fc.string(), fc.jsonValue()).map((each) => ({ ...each, oddKey: 1 }));
    const calls = fc.sample(
      fc.record({ endpoint: fc.oneof(fc.constantFrom(...names), fc.string()), input }),
      10_000,
    );
    const statuses = await sendAll(
      running,
      secret,
      calls.map((call) => JSON.stringify(call)),
    );
    expect(statuses.length).toBe(calls.length);
    expect(statuses.filter((status) => status !== 200 && status !== 400)).toEqual([]);
    expect(statuses.filter((status) => status === 200).length).toBeGreaterThan(5000);
    expect(workshop.changes).toEqual([]);
  }, 90_000);
});
