/** The calls a page may make, once the guard has let them through. */
import type { WorkshopPort } from '../api/port.ts';
import { textLike, withKeys } from '../hosting/plain.ts';
import type { Presence } from './presence.ts';
import type { Outgoing } from './reply.ts';
import { jsonReply, noKeyReply, refusalReply } from './reply.ts';
import type { Session } from './session.ts';

const endpointText = /^[\s\S]{0,80}$/;
const tabText = /^[A-Za-z0-9_-]{8,64}$/;
const codeText = /^[\s\S]{0,200}$/;

const malformed = refusalReply(400, 'That request was not put together correctly.');

/** As many calls as may come in one request. */
const mostAtOnce = 16;

interface Call {
  readonly endpoint: string;
  readonly input: object;
}

const callIn = (value: unknown): Call | undefined => {
  const parts = withKeys(value, ['endpoint', 'input']);
  const endpoint = textLike(parts?.endpoint, endpointText);
  const input = parts?.input;
  if (endpoint === undefined || typeof input !== 'object' || input === null || Array.isArray(input))
    return undefined;
  return { endpoint, input };
};

/** What a page asks first comes as a list: every request costs the browser and the host more than its answer does. */
const manyReplies = async (port: WorkshopPort, list: readonly unknown[]): Promise<Outgoing> => {
  const calls = list.map(callIn).filter((call) => call !== undefined);
  if (calls.length === 0 || calls.length !== list.length || calls.length > mostAtOnce) return malformed;
  return jsonReply(await Promise.all(calls.map(({ endpoint, input }) => port.call(endpoint, input))));
};

/**
 * Forwards a call, or `calls`, a list of them that is answered as a list in the same order; a fault of the workshop is an
 * ordinary answer (200), never an HTTP error.
 */
export const rpcReply = async (port: WorkshopPort, body: unknown): Promise<Outgoing> => {
  const list = withKeys(body, ['calls'])?.calls;
  if (Array.isArray(list)) return manyReplies(port, list);
  const call = callIn(body);
  return call === undefined ? malformed : jsonReply(await port.call(call.endpoint, call.input));
};

/** Exchanges the one-time code for the secret of this run. */
export const sessionReply = (session: Session, body: unknown): Outgoing => {
  const code = textLike(withKeys(body, ['code'])?.code, codeText);
  const secret = code === undefined ? undefined : session.redeem(code);
  return secret === undefined ? noKeyReply : jsonReply({ secret });
};

/** Notes that a tab is still open, or has just been closed. */
export const presenceReply = (presence: Presence, what: 'alive' | 'goodbye', body: unknown): Outgoing => {
  const tab = textLike(withKeys(body, ['tab'])?.tab, tabText);
  if (tab === undefined) return malformed;
  presence[what](tab);
  return jsonReply({ ok: true });
};
