import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Reply } from '../../electron/api/errors.ts';
import { askAhead } from '../../renderer/lib/ahead.ts';
import { firstKnives, firstQuestions } from '../../renderer/lib/first-questions.ts';
import type { Transport } from '../../renderer/lib/transport.ts';

/** Answers every call with its count, at the journal position the test has set. */
const counting = () => {
  const books = { seq: 7, down: false };
  const calls: string[] = [];
  const transport: Transport = {
    invoke: (endpoint) => {
      calls.push(endpoint);
      const reply: Reply = books.down
        ? { ok: false, fault: { kind: 'storage', message: 'It has stopped.' } }
        : { ok: true, value: calls.length, seq: endpoint.startsWith('host.') ? 0 : books.seq };
      return Promise.resolve(reply);
    },
  };
  return { books, calls, transport };
};

describe('questions asked ahead', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('go out at once, and each answer is given out once', async () => {
    const { calls, transport } = counting();
    const ahead = askAhead(transport, firstQuestions('#/builds'));
    const asked = ['workshop.state', 'host.info', 'hours.clock', 'builds.list', 'builds.models'];
    expect(calls).toEqual(asked);
    expect(await ahead.invoke('builds.list', { ...firstKnives })).toMatchObject({ value: 4 });
    expect(calls).toEqual(asked);
    expect(await ahead.invoke('builds.list', { ...firstKnives })).toMatchObject({ value: 6 });
  });

  it('answer nothing that was asked with another input', async () => {
    const { calls, transport } = counting();
    const ahead = askAhead(transport, [['builds.list', firstKnives]]);
    expect(await ahead.invoke('builds.list', { ...firstKnives, text: 'W01' })).toMatchObject({ value: 2 });
    expect(calls).toHaveLength(2);
  });

  it('are asked anew when the books have moved on meanwhile', async () => {
    const { books, transport } = counting();
    const ahead = askAhead(transport, [
      ['builds.models', {}],
      ['host.info', {}],
    ]);
    books.seq = 8;
    expect(await ahead.invoke('stock.suppliers', {})).toMatchObject({ seq: 8 });
    expect(await ahead.invoke('builds.models', {})).toMatchObject({ value: 4, seq: 8 });
    // What the host says of itself has no place in the journal.
    expect(await ahead.invoke('host.info', {})).toMatchObject({ value: 2 });
  });

  it('are asked anew when nobody fetched the answer soon, or when it was a fault', async () => {
    const { books, transport } = counting();
    const late = askAhead(transport, [['builds.models', {}]]);
    await vi.advanceTimersByTimeAsync(3000);
    expect(await late.invoke('builds.models', {})).toMatchObject({ value: 2 });
    books.down = true;
    const failed = askAhead(transport, [['builds.models', {}]]);
    books.down = false;
    expect(await failed.invoke('builds.models', {})).toMatchObject({ ok: true, value: 4 });
  });

  it('know the list of knives only at its own address', () => {
    const names = (fragment: string) => firstQuestions(fragment).map(([name]) => name);
    expect(names('#/builds')).toContain('builds.list');
    expect(names('#/builds/models')).not.toContain('builds.list');
    expect(names('')).toEqual(['workshop.state', 'host.info', 'hours.clock']);
  });
});
