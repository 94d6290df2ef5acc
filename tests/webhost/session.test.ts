import { describe, expect, it } from 'vitest';
import { codeLifeMs, createSession, sameSecret } from '../../electron/webhost/session.ts';
import { startRunning } from './support/running.ts';

describe('the session', () => {
  it('W5 exchanges a code once and only within half a minute', () => {
    let now = 0;
    const session = createSession(() => now);
    expect(session.redeem('')).toBeUndefined();
    const late = session.issueCode();
    now += codeLifeMs + 1;
    expect(session.redeem(late)).toBeUndefined();
    const code = session.issueCode();
    now += codeLifeMs;
    const secret = session.redeem(code);
    expect(session.knows(secret)).toBe(true);
    expect(session.redeem(code)).toBeUndefined();
    expect(codeLifeMs).toBe(30_000);
  });

  it('W5 lets an earlier code die when a fresh one is given out', () => {
    const session = createSession(() => 0);
    const first = session.issueCode();
    const second = session.issueCode();
    expect(session.redeem(first)).toBeUndefined();
    expect(session.redeem(second)).toBeDefined();
  });

  it('gives the same secret to every tab of one run, 256 bits long, and never the same in two runs', () => {
    const session = createSession(() => 0);
    const other = createSession(() => 0);
    const secret = session.redeem(session.issueCode());
    expect(secret).toMatch(/^[\w-]{43}$/);
    expect(session.redeem(session.issueCode())).toBe(secret);
    expect(other.knows(secret)).toBe(false);
    expect(session.knows(undefined)).toBe(false);
    expect(session.knows('')).toBe(false);
  });

  it('compares secrets of any two lengths', () => {
    expect([sameSecret('a', 'a'), sameSecret('a', 'b'), sameSecret('', 'a'), sameSecret('é', 'é')]).toEqual([
      true,
      false,
      false,
      true,
    ]);
  });

  it('W5 answers a used, unknown or misshapen code over the wire with one and the same 401', async () => {
    await using running = await startRunning();
    expect((await running.redeem()).status).toBe(200);
    const replies = [await running.redeem(), await running.redeem('x'.repeat(32)), await running.redeem('')];
    const misshapen = await running.send({
      target: '/session',
      headers: running.headers('', { Authorization: undefined }),
      body: '{"code":{"$ne":1}}',
    });
    const seen = [...replies, misshapen].map((reply) => `${reply.status} ${reply.body}`);
    expect(new Set(seen).size).toBe(1);
    expect(seen[0]).toMatch(/^401 /);
  });
});
