import { describe, expect, it } from 'vitest';
import { FaultError } from '../../electron/api/errors.ts';
import type { Reply } from '../../electron/api/errors.ts';
import { createClient } from '../../renderer/lib/client.ts';
import { codeInFragment } from '../../renderer/lib/session.ts';
import { createDesktopTransport, createLoopbackTransport } from '../../renderer/lib/transport.ts';
import type { Transport } from '../../renderer/lib/transport.ts';

/** Answers known calls in order and refuses, by name, every call it was not told of. */
const scripted = (script: Readonly<Record<string, readonly Reply[]>>): Transport => {
  const left = new Map(Object.entries(script).map(([name, replies]) => [name, [...replies]]));
  return {
    invoke(endpoint) {
      const reply = left.get(endpoint)?.shift();
      const message = `The test knows no call named ${endpoint}.`;
      return Promise.resolve(reply ?? { ok: false, fault: { kind: 'internal', message } });
    },
  };
};

const good = (seq: number, value: unknown = []): Reply => ({ ok: true, value, seq });

describe('the typed client', () => {
  it('answers the value of a call', async () => {
    const api = createClient(scripted({ 'stock.suppliers': [good(1, [{ id: 's1' }])] }));
    expect(await api.call('stock.suppliers', {})).toEqual([{ id: 's1' }]);
  });

  it('throws the fault of a call with its sentence and field', async () => {
    const fault = { kind: 'invalid', message: 'This cannot be empty.', field: 'name' } as const;
    const api = createClient(scripted({ 'stock.saveSupplier': [{ ok: false, fault }] }));
    const failed = await api.call('stock.saveSupplier', { name: '' }).catch((error: unknown) => error);
    expect(failed).toBeInstanceOf(FaultError);
    expect(failed instanceof FaultError ? failed.fault : undefined).toEqual(fault);
  });

  it('names a call the transport does not know', async () => {
    const api = createClient(scripted({}));
    await expect(api.call('stock.suppliers', {})).rejects.toThrow(
      'The test knows no call named stock.suppliers.',
    );
  });

  it('tells its listeners only when the books have moved on', async () => {
    const replies = [good(4), good(4), good(5), good(3), good(9)];
    const api = createClient(scripted({ 'stock.suppliers': replies, 'host.info': [good(0)] }));
    const heard: number[] = [];
    const stop = api.onSeq((seq) => heard.push(seq));
    expect(api.lastSeq()).toBeUndefined();
    for (let i = 0; i < 4; i += 1) await api.call('stock.suppliers', {});
    await api.call('host.info', {});
    expect([heard, api.lastSeq()]).toEqual([[5], 5]);
    stop();
    await api.call('stock.suppliers', {});
    expect([heard, api.lastSeq()]).toEqual([[5], 9]);
  });

  it.each([
    ['host.openDemo', {}],
    ['host.goBackTo', { name: 'books-1.db' }],
  ] as const)('tells its listeners of other books after %s, and starts to count anew', async (way, input) => {
    const info = { kind: 'loopback', version: '1', folder: '/demo', demo: true };
    const api = createClient(
      scripted({ 'stock.suppliers': [good(50), good(2), good(3)], [way]: [good(0, info)] }),
    );
    const heard: number[] = [];
    api.onSeq((seq) => heard.push(seq));
    await api.call('stock.suppliers', {});
    await api.call(way, input);
    await api.call('stock.suppliers', {});
    await api.call('stock.suppliers', {});
    expect(heard).toEqual([0, 3]);
  });
});

describe('the transports', () => {
  it('sends a call with its key in a header and no cookie', async () => {
    const sent: unknown[] = [];
    const transport = createLoopbackTransport({
      secret: 's3cret',
      fetch: (url, init) => {
        sent.push([url, init]);
        return Promise.resolve(Response.json(good(1)));
      },
    });
    expect(await transport.invoke('stock.suppliers', {})).toEqual(good(1));
    expect(sent).toEqual([
      [
        '/rpc',
        {
          method: 'POST',
          headers: { Authorization: 'Knifewright s3cret', 'Content-Type': 'application/json' },
          body: '{"endpoint":"stock.suppliers","input":{}}',
          credentials: 'omit',
        },
      ],
    ]);
  });

  it('sends several calls in one request and answers each in its place', async () => {
    const bodies: unknown[] = [];
    const transport = createLoopbackTransport({
      secret: 's',
      fetch: (_url, init) => {
        bodies.push(init?.body);
        return Promise.resolve(Response.json([good(1), 'no answer']));
      },
    });
    const calls = ['a.b', 'c.d', 'e.f'].map((endpoint) => ({ endpoint, input: {} }));
    const [first, ...others] = (await transport.invokeAll?.(calls)) ?? [];
    expect(bodies).toEqual([JSON.stringify({ calls })]);
    expect(first).toEqual(good(1));
    expect(others.map((reply) => (reply.ok ? 'ok' : reply.fault.kind))).toEqual(['internal', 'internal']);
    const gone = createLoopbackTransport({ secret: 's', fetch: () => Promise.reject(new Error('gone')) });
    expect(await gone.invokeAll?.(calls)).toMatchObject(calls.map(() => ({ fault: { kind: 'storage' } })));
  });

  it.each([
    ['no JSON', new Response('<html>')],
    ['an empty answer', new Response('')],
    ['another shape', Response.json({ hello: 1 })],
    ['a value without a position', Response.json({ ok: true, value: 1 })],
  ])('makes a plain fault of %s', async (_what, response) => {
    const transport = createLoopbackTransport({ secret: 's', fetch: () => Promise.resolve(response) });
    expect(await transport.invoke('stock.suppliers', {})).toEqual({
      ok: false,
      fault: {
        kind: 'internal',
        message: 'The workshop program gave an answer this page cannot read. Reload the page.',
      },
    });
  });

  it('passes calls to the desktop bridge and never rejects', async () => {
    const replies: (() => Promise<Reply>)[] = [
      () => Promise.resolve(good(2)),
      () => Promise.reject(new Error('gone')),
    ];
    const transport = createDesktopTransport({
      call: () => (replies.shift() ?? (() => Promise.resolve(good(0))))(),
    });
    expect(await transport.invoke('stock.suppliers', {})).toEqual(good(2));
    expect(await transport.invoke('stock.suppliers', {})).toMatchObject({
      ok: false,
      fault: { kind: 'storage' },
    });
  });

  it.each([
    ['#code=abcdefghijklmnopqrstuvwxyz', 'abcdefghijklmnopqrstuvwxyz'],
    ['#code=short', undefined],
    ['#stock', undefined],
    ['', undefined],
    ['#code=abcdefghijklmnopqrstu"><x', undefined],
  ])('reads the code in the fragment %j as %s', (fragment, code) => {
    expect(codeInFragment(fragment)).toBe(code);
  });
});
