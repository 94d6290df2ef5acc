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

/** Forwards a call; a fault of the workshop is an ordinary answer (200), never an HTTP error. */
export const rpcReply = async (port: WorkshopPort, body: unknown): Promise<Outgoing> => {
  const parts = withKeys(body, ['endpoint', 'input']);
  const endpoint = textLike(parts?.endpoint, endpointText);
  const input = parts?.input;
  if (endpoint === undefined || typeof input !== 'object' || input === null || Array.isArray(input))
    return malformed;
  return jsonReply(await port.call(endpoint, input));
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
