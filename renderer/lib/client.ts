/** The typed way from a screen to the workshop: one call per endpoint of the contract. */
import type { EndpointName, Input, Output } from '../../electron/api/contract.ts';
import { FaultError } from '../../electron/api/errors.ts';
import type { Transport } from './transport.ts';

/** What a page knows of the state of the books: their journal position, and whether other books were opened. */
export interface Moved {
  readonly seq: number;
  readonly otherBooks: boolean;
}
/** Hears that the books have moved on, so that what is shown can be asked for again. */
export type SeqListener = (seq: number, moved: Moved) => void;

export interface ApiClient {
  /** Calls an endpoint. Throws a `FaultError` with a sentence for the person when it fails. */
  call<N extends EndpointName>(endpoint: N, input: Input<N>): Promise<Output<N>>;
  /** Calls `listener` each time a reply shows a new state of the books; answers a function that ends this. */
  onSeq(listener: SeqListener): () => void;
  /** Takes over what another page of the same program has seen; its listeners hear of it like of a reply. */
  hear(moved: Moved): void;
  /** Journal position of the newest reply so far; nothing before the first. */
  lastSeq(): number | undefined;
}

/** Other books start a new count; everything shown is out of date then. */
const changesWorkshop = (endpoint: string): boolean =>
  endpoint === 'host.openDemo' || endpoint === 'host.openOwn' || endpoint === 'host.goBackTo';

/** Builds the client over a transport; a test passes one of its own. */
export const createClient = (transport: Transport): ApiClient => {
  const listeners = new Set<SeqListener>();
  let last: number | undefined;

  const take = (moved: Moved): void => {
    const before = last;
    const { seq, otherBooks } = moved;
    if (!otherBooks && before !== undefined && seq <= before) return;
    // After a change of books the next reply sets the new starting point.
    last = otherBooks ? undefined : seq;
    if (otherBooks || before !== undefined) for (const listener of [...listeners]) listener(seq, moved);
  };
  const note = (endpoint: string, seq: number): void => {
    const otherBooks = changesWorkshop(endpoint);
    // Answers the host gives by itself say nothing about the books.
    if (otherBooks || !endpoint.startsWith('host.')) take({ seq, otherBooks });
  };

  return {
    async call<N extends EndpointName>(endpoint: N, input: Input<N>): Promise<Output<N>> {
      const reply = await transport.invoke(endpoint, input);
      if (!reply.ok) throw new FaultError(reply.fault);
      note(endpoint, reply.seq);
      // The contract ties the name to its output; the wire itself carries no types.
      return reply.value as Output<N>;
    },
    onSeq(listener) {
      listeners.add(listener);
      return () => {
        listeners.delete(listener);
      };
    },
    hear: take,
    lastSeq: () => last,
  };
};
