/** Writes replies; every one of them carries the protective headers. */
import { createReadStream, statSync } from 'node:fs';
import type { ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import { pipeline } from 'node:stream';
import type { FaultKind } from '../api/errors.ts';
import { pageHeaders } from '../hosting/page-policy.ts';

export interface Outgoing {
  readonly status: number;
  readonly type: string;
  readonly body: string | Uint8Array;
  /** Ends the connection after this reply. */
  readonly close?: boolean;
}

/** A refusal in the same form in which the core reports faults. */
export const refusalReply = (status: number, message: string, kind: FaultKind = 'forbidden'): Outgoing => ({
  status,
  type: 'application/json',
  body: JSON.stringify({ ok: false, fault: { kind, message } }),
  close: true,
});

/** A reply with a value as JSON. */
export const jsonReply = (value: unknown): Outgoing => ({
  status: 200,
  type: 'application/json',
  body: JSON.stringify(value),
});

/** The one and only answer to a wrong, old, used or missing key, so that nothing can be told apart. */
export const noKeyReply = refusalReply(
  401,
  'This page has lost its key. Close this tab and start the program again to open the workshop.',
);

/** @param bare true for HEAD: headers only */
export const send = (res: ServerResponse, out: Outgoing, bare = false): void => {
  const body = typeof out.body === 'string' ? Buffer.from(out.body) : out.body;
  const headers = { ...pageHeaders, 'Content-Type': out.type, 'Content-Length': String(body.byteLength) };
  res.writeHead(out.status, out.close === true ? { ...headers, Connection: 'close' } : headers);
  res.end(bare ? undefined : body);
};

const reasons: Readonly<Record<number, string>> = {
  400: 'Bad Request',
  403: 'Forbidden',
  408: 'Request Timeout',
  413: 'Content Too Large',
  431: 'Request Header Fields Too Large',
};

/** Answers on a bare socket, where the request could not even be read, and hangs up. */
export const sendRaw = (socket: Duplex, status: number, message: string): void => {
  if (!socket.writable) {
    socket.destroy();
    return;
  }
  const body = JSON.stringify({ ok: false, fault: { kind: 'forbidden', message } });
  const headers = {
    ...pageHeaders,
    'Content-Type': 'application/json',
    'Content-Length': String(Buffer.byteLength(body)),
    Connection: 'close',
  };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}`);
  socket.end(`HTTP/1.1 ${status} ${reasons[status] ?? 'Refused'}\r\n${lines.join('\r\n')}\r\n\r\n${body}`);
  // A caller that keeps sending is not waited for.
  setTimeout(() => socket.destroy(), 500).unref();
};

/** Sends a file as a download, piece by piece. */
export const sendFile = (
  res: ServerResponse,
  file: { readonly path: string; readonly name: string },
): void => {
  const plain = file.name.replaceAll(/[^ -~]|["\\]/g, '_');
  res.writeHead(200, {
    ...pageHeaders,
    'Content-Type': 'application/zip',
    'Content-Length': String(statSync(file.path).size),
    'Content-Disposition': `attachment; filename="${plain}"; filename*=UTF-8''${encodeURIComponent(file.name)}`,
  });
  // A browser that hangs up has changed its mind; there is nobody left to tell.
  pipeline(createReadStream(file.path), res, () => undefined);
};
