/** A small workshop core in memory: it parses by the contract, counts commands and can be told to misbehave. */
import { endpoints } from '../../../electron/api/contract.ts';
import { isEndpointName } from '../../../electron/api/names.ts';
import type { Reply } from '../../../electron/api/errors.ts';
import type { WorkshopPort } from '../../../electron/api/port.ts';

export interface FakePort extends WorkshopPort {
  /** Everything a command has changed so far. */
  readonly changes: readonly string[];
  readonly closed: () => boolean;
}

export interface FakeBehaviour {
  /** Called before each answer; may wait or throw. */
  before?(endpoint: string): void | Promise<void>;
  /** What a query answers. */
  readonly data?: unknown;
}

export const createFakePort = (behaviour: FakeBehaviour = {}): FakePort => {
  const changes: string[] = [];
  let isClosed = false;
  return {
    changes,
    closed: () => isClosed,
    async call(endpoint, input): Promise<Reply> {
      await behaviour.before?.(endpoint);
      if (isClosed) return { ok: false, fault: { kind: 'storage', message: 'The workshop is closed.' } };
      if (!isEndpointName(endpoint))
        return { ok: false, fault: { kind: 'forbidden', message: 'Not known.' } };
      const { kind, input: schema } = endpoints[endpoint];
      const parsed = schema.safeParse(input);
      if (!parsed.success) return { ok: false, fault: { kind: 'invalid', message: 'Not right.' } };
      if (kind === 'command') changes.push(`${endpoint} ${JSON.stringify(parsed.data)}`);
      return { ok: true, value: behaviour.data ?? { endpoint, input: parsed.data }, seq: changes.length };
    },
    close: () => {
      isClosed = true;
      return Promise.resolve();
    },
  };
};
