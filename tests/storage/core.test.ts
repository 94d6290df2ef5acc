import { describe, expect, it } from 'vitest';
import type { Reply } from '../../electron/api/errors.ts';
import { tempWorkshop } from './support.ts';
import { handClock, smallCore } from './small-core.ts';

const texts = (reply: Reply): unknown =>
  reply.ok ? (reply.value as { text: string }[]).map(({ text }) => text) : reply.fault;

describe('the core', () => {
  it('answers a command with its value and the journal position, and a query with the same position', async () => {
    const core = await smallCore(tempWorkshop());
    expect(await core.call('notes.add', { text: 'bar' })).toEqual({
      ok: true,
      value: { id: `n${'1'.padStart(19, '0')}` },
      seq: 1,
    });
    expect(await core.call('notes.all', {})).toEqual({
      ok: true,
      value: [{ id: `n${'1'.padStart(19, '0')}`, text: 'bar' }],
      seq: 1,
    });
    await core.close();
  });

  it.each([
    ['nothing at all', undefined, { message: 'This is missing. Fill it in.' }],
    ['a bare text', 'bar', { message: 'Fill this part in.' }],
    ['a missing field', {}, { field: 'text', message: 'This is missing. Fill it in.' }],
    ['an empty text', { text: '' }, { field: 'text', message: 'Write something.' }],
    ['a number for a text', { text: 7 }, { field: 'text', message: 'Write some text here.' }],
    [
      'too large a count',
      { text: 'x', count: 10 },
      { field: 'count', message: 'Write a number of at most 9.' },
    ],
    ['a broken count', { text: 'x', count: 1.5 }, { field: 'count', message: 'Write a whole number here.' }],
    [
      'a wrong line',
      { text: 'x', lines: [{ qty: 1 }, { qty: 'two' }] },
      { field: 'lines.1.qty', message: 'Write a number here.' },
    ],
    [
      'something unknown',
      { text: 'x', extra: 1 },
      { message: 'This is not known here: extra. Leave it out.' },
    ],
  ])('refuses %s with a sentence and its field, and changes nothing', async (_what, input, fault) => {
    const core = await smallCore(tempWorkshop());
    expect(await core.call('notes.add', input)).toEqual({ ok: false, fault: { kind: 'invalid', ...fault } });
    expect(core.books.seq()).toBe(0);
    await core.close();
  });

  it.each(['toString', '__proto__', 'host.info', 'notes.nothing', ''])(
    'forbids the unknown request %j',
    async (name) => {
      const core = await smallCore(tempWorkshop());
      expect(await core.call(name, {})).toEqual({
        ok: false,
        fault: { kind: 'forbidden', message: 'The workshop does not know this request. Reload the page.' },
      });
      await core.close();
    },
  );

  it('rolls everything back when a command throws, and tells only mistakes of ours to the log', async () => {
    const logged: string[] = [];
    const core = await smallCore(tempWorkshop(), { log: (line) => logged.push(line.split('\n')[0] ?? '') });
    const faults = [];
    for (const how of ['refused', 'crash', 'constraint', 'async', 'early'])
      faults.push(await core.call('notes.refuse', { how }));
    const internal = {
      ok: false,
      fault: { kind: 'internal', message: expect.stringContaining('nothing was changed') as string },
    };
    expect(faults).toEqual([
      { ok: false, fault: { kind: 'refused', message: 'The note is not wanted here. Put it elsewhere.' } },
      internal,
      internal,
      internal,
      internal,
    ]);
    expect([await core.call('notes.all', {}), core.books.checkJournal()]).toMatchObject([
      { value: [] },
      { sound: true, checked: 0 },
    ]);
    expect(logged).toEqual([
      'notes.refuse: Error: a mistake of ours',
      'notes.refuse: SqliteError: FOREIGN KEY constraint failed',
      'notes.refuse: Error: notes.refuse must write in one go, without waiting',
      'notes.refuse: Error: A command tried to write before its transaction',
    ]);
    await core.close();
  });

  it('lets no query write', async () => {
    const core = await smallCore(tempWorkshop(), { log: () => undefined });
    expect(await core.call('notes.writeInQuery', {})).toMatchObject({
      ok: false,
      fault: { kind: 'internal' },
    });
    expect(texts(await core.call('notes.all', {}))).toEqual([]);
    await core.close();
  });

  it('answers an endpoint nobody handles as a mistake of ours', async () => {
    const core = await smallCore(tempWorkshop(), { log: () => undefined });
    expect(await core.call('notes.unanswered', {})).toMatchObject({ ok: false, fault: { kind: 'internal' } });
    await core.close();
  });

  it('runs commands one after another in the order they came, while queries go ahead', async () => {
    const core = await smallCore(tempWorkshop());
    const order: string[] = [];
    const note = (what: string) => (reply: Reply) => order.push(`${what} ${reply.ok ? reply.seq : 'failed'}`);
    await Promise.all([
      core.call('notes.slow', { ms: 60 }).then(note('slow')),
      core.call('notes.add', { text: 'quick' }).then(note('quick')),
      core.call('notes.all', {}).then(note('query')),
    ]);
    expect(order).toEqual(['query 0', 'slow 1', 'quick 2']);
    await core.close();
  });

  it('finishes what is under way before it closes, and answers later calls with a fault', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    const pending = core.call('notes.slow', { ms: 40 });
    const closing = core.close();
    expect(await core.call('notes.all', {})).toMatchObject({ ok: false, fault: { kind: 'storage' } });
    expect(await pending).toMatchObject({ ok: true, seq: 1 });
    await closing;
    const again = await smallCore(root);
    expect(again.books.seq()).toBe(1);
    await again.close();
  });

  it('keeps its order by number when the clock is set back a year', async () => {
    const root = tempWorkshop();
    const clock = handClock();
    const core = await smallCore(root, { clock });
    await core.call('notes.add', { text: 'first' });
    clock.set('2023-07-06T09:30:00.000Z');
    expect(await core.call('notes.add', { text: 'second' })).toMatchObject({ seq: 2 });
    expect([texts(await core.call('notes.all', {})), core.books.checkJournal()]).toMatchObject([
      ['first', 'second'],
      { sound: true, checked: 2 },
    ]);
    await core.close();
  });

  it('tells use-cases about the demo and the safety copies', async () => {
    const core = await smallCore(tempWorkshop(), { demo: true });
    await core.call('workshop.copyNow', {});
    expect(await core.call('notes.house', {})).toMatchObject({
      value: { demo: true, copies: [{ at: '2024-07-06T09:30:00.000Z', verified: true }] },
    });
    await core.close();
  });

  it('folds a grown log into the books between commands', async () => {
    const core = await smallCore(tempWorkshop());
    const { statSync } = await import('node:fs');
    const log = () => statSync(`${core.books.folder.books}-wal`).size;
    for (let n = 0; n < 4; n += 1) await core.call('notes.add', { text: 'w'.repeat(1_500_000) });
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(log()).toBeLessThan(4 << 20);
    expect(texts(await core.call('notes.all', {}))).toHaveLength(4);
    await core.close();
  });
});
