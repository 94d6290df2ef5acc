/**
 * What the first screen will ask is asked while the program of the page is still being read. Each answer is given out
 * once; one that is not fetched soon, or that later answers have overtaken, is thrown away and asked for anew.
 */
import type { EndpointName, Input } from '../../electron/api/contract.ts';
import type { Reply } from '../../electron/api/errors.ts';
import type { Transport } from './transport.ts';

/** A question by name and input. */
export type Question = { [N in EndpointName]: readonly [name: N, input: Input<N>] }[EndpointName];

/** How long an answer nobody has fetched is kept, in milliseconds. */
const keptMs = 3000;

/** Journal position of an answer about the books; the host's own answers say nothing about it. */
const positionOf = (endpoint: string, reply: Reply): number =>
  reply.ok && !endpoint.startsWith('host.') ? reply.seq : 0;

const keyOf = (endpoint: string, input: unknown): string => `${endpoint} ${JSON.stringify(input)}`;

/** Gives the answers to whoever asks first. */
export interface AheadTransport extends Transport {
  /** Settles once every question asked ahead has its answer. */
  readonly arrived: Promise<unknown>;
}

/**
 * Asks the questions at once.
 * @returns the same transport, which gives those answers to whoever asks first
 */
export const askAhead = (transport: Transport, questions: readonly Question[]): AheadTransport => {
  const calls = questions.map(([endpoint, input]) => ({ endpoint, input }));
  const together = transport.invokeAll?.(calls);
  const missing: Reply = { ok: false, fault: { kind: 'internal', message: '' } };
  const asked = new Map(
    calls.map(
      ({ endpoint, input }, at) =>
        [
          keyOf(endpoint, input),
          together?.then((replies) => replies[at] ?? missing) ?? transport.invoke(endpoint, input),
        ] as const,
    ),
  );
  const arrived = Promise.all(asked.values());
  let newest = 0;
  setTimeout(() => asked.clear(), keptMs);

  const ask = async (endpoint: string, input: unknown): Promise<Reply> => {
    const reply = await transport.invoke(endpoint, input);
    newest = Math.max(newest, positionOf(endpoint, reply));
    return reply;
  };
  return {
    arrived,
    async invoke(endpoint, input) {
      const key = keyOf(endpoint, input);
      const early = asked.get(key);
      asked.delete(key);
      const reply = await early;
      if (reply?.ok !== true) return ask(endpoint, input);
      const at = positionOf(endpoint, reply);
      if (at < newest && !endpoint.startsWith('host.')) return ask(endpoint, input);
      newest = Math.max(newest, at);
      return reply;
    },
  };
};
