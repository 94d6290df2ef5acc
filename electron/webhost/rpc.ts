/** The calls a page may make, once the guard has let them through. */
import { z } from 'zod';
import type { WorkshopPort } from '../api/port.ts';
import type { Presence } from './presence.ts';
import type { Outgoing } from './reply.ts';
import { jsonReply, noKeyReply, refusalReply } from './reply.ts';
import type { Session } from './session.ts';

const rpcBody = z.strictObject({ endpoint: z.string().max(80), input: z.record(z.string(), z.unknown()) });
const tabBody = z.strictObject({ tab: z.string().regex(/^[A-Za-z0-9_-]{8,64}$/) });
const sessionBody = z.strictObject({ code: z.string().max(200) });

const malformed = refusalReply(400, 'That request was not put together correctly.');

/** Forwards a call; a fault of the workshop is an ordinary answer (200), never an HTTP error. */
export const rpcReply = async (port: WorkshopPort, body: unknown): Promise<Outgoing> => {
  const parsed = rpcBody.safeParse(body);
  if (!parsed.success) return malformed;
  return jsonReply(await port.call(parsed.data.endpoint, parsed.data.input));
};

/** Exchanges the one-time code for the secret of this run. */
export const sessionReply = (session: Session, body: unknown): Outgoing => {
  const parsed = sessionBody.safeParse(body);
  const secret = parsed.success ? session.redeem(parsed.data.code) : undefined;
  return secret === undefined ? noKeyReply : jsonReply({ secret });
};

/** Notes that a tab is still open, or has just been closed. */
export const presenceReply = (presence: Presence, what: 'alive' | 'goodbye', body: unknown): Outgoing => {
  const parsed = tabBody.safeParse(body);
  if (!parsed.success) return malformed;
  presence[what](parsed.data.tab);
  return jsonReply({ ok: true });
};
