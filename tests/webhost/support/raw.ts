/** Speaks to the host over a bare socket, so that a test decides every byte. */
import { connect } from 'node:net';

export interface RawReply {
  /** 0 when the connection ended without an answer. */
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
  readonly text: string;
}

const parseRaw = (text: string): RawReply => {
  const [head = '', ...rest] = text.split('\r\n\r\n');
  const [first = '', ...lines] = head.split('\r\n');
  const pairs = lines.map((line): [string, string] => {
    const at = line.indexOf(':');
    return [line.slice(0, at).toLowerCase(), line.slice(at + 1).trim()];
  });
  const status = Number(/^HTTP\/1\.1 (\d{3})/.exec(first)?.[1] ?? 0);
  return { status, headers: Object.fromEntries(pairs), body: rest.join('\r\n\r\n'), text };
};

export interface RawOptions {
  /** Written one after another, with this pause in between. */
  readonly parts: readonly (string | Uint8Array)[];
  readonly pauseMs?: number;
  readonly timeoutMs?: number;
  readonly host?: string;
}

export interface RawOutcome extends RawReply {
  /** True when the host ended the connection by itself. */
  readonly closed: boolean;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Sends the parts and gathers what comes back until the host closes, or until `timeoutMs` have gone by. */
export const speak = (port: number, options: RawOptions): Promise<RawOutcome> =>
  new Promise((resolve) => {
    const socket = connect({ host: options.host ?? '127.0.0.1', port });
    const heard: Buffer[] = [];
    const finish = (closed: boolean): void => {
      clearTimeout(timer);
      socket.destroy();
      resolve({ ...parseRaw(Buffer.concat(heard).toString('utf8')), closed });
    };
    const timer = setTimeout(() => finish(false), options.timeoutMs ?? 8000);
    socket.on('data', (part) => heard.push(part));
    socket.on('error', () => finish(true));
    socket.on('close', () => finish(true));
    const write = async (): Promise<void> => {
      for (const part of options.parts) {
        if (socket.destroyed) return;
        socket.write(part);
        if (options.pauseMs !== undefined) await pause(options.pauseMs);
      }
    };
    void write();
  });

export interface RawRequest {
  readonly method?: string;
  readonly target?: string;
  /** Sent as given, in order, duplicates included. */
  readonly headers: readonly (readonly [string, string])[];
  readonly body?: string;
}

/** The bytes of a request; `Connection: close` makes the host hang up after its answer. */
export const requestText = ({ method = 'POST', target = '/rpc', headers, body }: RawRequest): string => {
  const lines = headers.map(([name, value]) => `${name}: ${value}`);
  const length = body === undefined ? [] : [`Content-Length: ${Buffer.byteLength(body)}`];
  return [`${method} ${target} HTTP/1.1`, ...lines, ...length, 'Connection: close', '', body ?? ''].join(
    '\r\n',
  );
};
