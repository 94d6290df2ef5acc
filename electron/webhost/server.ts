/** The loopback server: guard first, then session, then the call. It listens on 127.0.0.1 and nowhere else. */
import { createServer } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { FaultError } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';
import { readJson } from './body.ts';
import {
  checkCaller,
  checkHost,
  checkJson,
  checkProgram,
  checkSentFile,
  checkVisitor,
  credentialOf,
  routeOf,
} from './guard.ts';
import type { RequestHead, RouteName } from './guard.ts';
import type { Presence } from './presence.ts';
import type { Outgoing } from './reply.ts';
import { jsonReply, noKeyReply, refusalReply, send, sendFile, sendRaw } from './reply.ts';
import { presenceReply, rpcReply, sessionReply } from './rpc.ts';
import { sameSecret } from './session.ts';
import type { Session } from './session.ts';
import { staticReply } from './static.ts';
import type { Offered, Tickets } from './tickets.ts';

export interface ServerLimits {
  /** Bytes of one call; pictures travel inside. */
  readonly bodyBytes: number;
  readonly headerBytes: number;
  /** Time a caller has for its headers, and for the whole request. */
  readonly headersMs: number;
  readonly requestMs: number;
}

/** Limits generous for one person, tight for anything else. */
export const usualLimits: ServerLimits = {
  bodyBytes: 48 * 1024 * 1024,
  headerBytes: 16 * 1024,
  headersMs: 10_000,
  // An archive that is brought in may be gigabytes.
  requestMs: 900_000,
};

export interface ServerParts {
  readonly port: WorkshopPort;
  readonly session: Session;
  readonly presence: Presence;
  readonly rendererRoot: string;
  /** What a second start of the program has to show to get a fresh code. */
  readonly handoverKey: string;
  readonly limits: ServerLimits;
  /** Files that may be fetched once. */
  readonly tickets: Tickets;
  /** Takes a file in among the archives of the open workshop. @returns the name it got */
  takeIn(name: string, from: IncomingMessage, bytes: number): Promise<string>;
  /** A line for the terminal; it never holds anything of the request. */
  log(line: string): void;
}

/** What a request is judged against: known once the port is. */
interface Address {
  readonly authority: string;
  readonly origin: string;
}

const smallBody = 4096;

type PostRoute = Exclude<RouteName, 'page' | 'archive'>;

const refusalOf = (
  parts: ServerParts,
  address: Address,
  head: RequestHead,
  route: PostRoute,
): Outgoing | undefined => {
  const from = route === 'handover' ? checkProgram(head) : checkCaller(head, address.origin);
  const refusal = from ?? checkJson(head, route === 'rpc' ? parts.limits.bodyBytes : smallBody);
  if (refusal !== undefined) return refusalReply(refusal.status, refusal.message);
  // The key comes before the body: nobody without it makes us read one.
  if (route === 'session') return undefined;
  const known =
    route === 'handover'
      ? sameSecret(credentialOf(head, 'Handover') ?? '', parts.handoverKey)
      : parts.session.knows(credentialOf(head, 'Knifewright'));
  return known ? undefined : noKeyReply;
};

const answerBody = async (parts: ServerParts, route: PostRoute, body: unknown): Promise<Outgoing> => {
  switch (route) {
    case 'session':
      return sessionReply(parts.session, body);
    case 'rpc':
      return rpcReply(parts.port, body);
    case 'handover':
      return jsonReply({ code: parts.session.issueCode() });
    case 'alive':
    case 'goodbye':
      return presenceReply(parts.presence, route, body);
  }
};

/** Takes a sent file in: our own page with its key, and nothing else, may send one. */
const receive = async (parts: ServerParts, address: Address, head: RequestHead, req: IncomingMessage) => {
  const foreign = checkCaller(head, address.origin);
  if (foreign !== undefined) return refusalReply(foreign.status, foreign.message);
  if (!parts.session.knows(credentialOf(head, 'Knifewright'))) return noKeyReply;
  const sent = checkSentFile(head);
  if ('status' in sent) return refusalReply(sent.status, sent.message);
  try {
    const name = await parts.takeIn(sent.name, req, sent.bytes);
    return jsonReply({ ok: true, value: { name }, seq: 0 });
  } catch (error) {
    if (!(error instanceof FaultError)) throw error;
    return { ...jsonReply({ ok: false, fault: error.fault }), close: true };
  }
};

const answer = async (
  parts: ServerParts,
  address: Address,
  req: IncomingMessage,
): Promise<Outgoing | Offered> => {
  const head: RequestHead = { method: req.method ?? '', target: req.url ?? '', rawHeaders: req.rawHeaders };
  const foreign = checkHost(head, address.authority);
  if (foreign !== undefined) return refusalReply(foreign.status, foreign.message);
  const verdict = routeOf(head);
  if ('refusal' in verdict) return refusalReply(verdict.refusal.status, verdict.refusal.message);
  if (verdict.route === 'page') {
    const unwanted = checkVisitor(head);
    if (unwanted !== undefined) return refusalReply(unwanted.status, unwanted.message);
    const offered = head.method === 'GET' ? parts.tickets.redeem(head.target) : undefined;
    return offered ?? staticReply(parts.rendererRoot, head.target);
  }
  if (verdict.route === 'archive') return receive(parts, address, head, req);
  const refused = refusalOf(parts, address, head, verdict.route);
  if (refused !== undefined) return refused;
  const body = await readJson(req, verdict.route === 'rpc' ? parts.limits.bodyBytes : smallBody);
  return body.ok ? answerBody(parts, verdict.route, body.value) : refusalReply(body.status, body.message);
};

/** Lets a caller that is still sending hear the refusal, then hangs up on it. */
const hangUpAfter = (req: IncomingMessage): void => {
  if (req.complete) return;
  req.resume();
  setTimeout(() => req.socket.destroy(), 500).unref();
};

const handle = async (
  parts: ServerParts,
  address: Address,
  req: IncomingMessage,
  res: ServerResponse,
): Promise<void> => {
  let out: Outgoing | Offered;
  try {
    out = await answer(parts, address, req);
  } catch (error) {
    if (res.destroyed || req.errored) return;
    parts.log(`A request could not be answered (${error instanceof Error ? error.name : 'unknown'}).`);
    out = refusalReply(500, 'Something went wrong inside the program. Please try again.', 'internal');
  }
  if ('path' in out) sendFile(res, out);
  else send(res, out, req.method === 'HEAD');
  hangUpAfter(req);
};

const rawRefusal = (code: string | undefined): readonly [number, string] => {
  if (code === 'HPE_HEADER_OVERFLOW') return [431, 'The head of that request is too long.'];
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT') return [408, 'That request took too long to arrive.'];
  return [400, 'That request was not put together correctly.'];
};

const wire = (server: Server, parts: ServerParts, address: () => Address): void => {
  const serve = (req: IncomingMessage, res: ServerResponse): void => {
    void handle(parts, address(), req, res).catch(() => req.socket.destroy());
  };
  server.on('request', serve);
  // `Expect` is never sent by a page; without an answer of our own Node would invite the body unseen.
  server.on('checkContinue', (req, res) => {
    send(res, refusalReply(417, 'That request was not put together correctly.'));
    hangUpAfter(req);
  });
  server.on('checkExpectation', (req, res) => {
    send(res, refusalReply(417, 'That request was not put together correctly.'));
    hangUpAfter(req);
  });
  server.on('upgrade', (_req, socket) => sendRaw(socket, 403, 'Only plain requests are answered here.'));
  server.on('connect', (_req, socket) => sendRaw(socket, 403, 'Only plain requests are answered here.'));
  server.on('clientError', (error: NodeJS.ErrnoException, socket) => {
    const [status, message] = rawRefusal(error.code);
    sendRaw(socket, status, message);
  });
};

export interface LoopbackServer {
  readonly port: number;
  readonly origin: string;
  close(): Promise<void>;
}

/**
 * Starts listening.
 * @param hostName name by which the page is reached; only requests that carry it are answered
 * @param wanted port, or 0 for any free one
 */
export const startServer = async (
  parts: ServerParts,
  hostName: string,
  wanted: number,
): Promise<LoopbackServer> => {
  const { limits } = parts;
  const server = createServer({
    maxHeaderSize: limits.headerBytes,
    headersTimeout: limits.headersMs,
    requestTimeout: limits.requestMs,
    connectionsCheckingInterval: Math.min(1000, limits.headersMs),
    keepAliveTimeout: 5000,
    // The guard refuses a missing Host itself, so that this reply carries the protective headers too.
    requireHostHeader: false,
  });
  server.maxConnections = 128;
  let address: Address = { authority: '', origin: '' };
  wire(server, parts, () => address);
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen({ host: '127.0.0.1', port: wanted }, resolve);
  });
  const { port } = server.address() as AddressInfo;
  const authority = `${hostName}:${port}`;
  address = { authority, origin: `http://${authority}` };
  return {
    port,
    origin: address.origin,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeIdleConnections();
        // A request under way gets a moment to hear its answer; the core has finished it by then or will.
        setTimeout(() => server.closeAllConnections(), 1000).unref();
      }),
  };
};
