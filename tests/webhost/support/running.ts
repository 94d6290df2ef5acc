/** Starts a host for one test file and speaks to it the way its own page would. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { WorkshopPort } from '../../../electron/api/port.ts';
import type { HostFlags } from '../../../electron/hosting/flags.ts';
import { runLoopback } from '../../../electron/webhost/host.ts';
import type { RunningLoopback } from '../../../electron/webhost/host.ts';
import { usualLimits } from '../../../electron/webhost/server.ts';
import type { ServerLimits } from '../../../electron/webhost/server.ts';
import { createFakePort } from './fake-port.ts';
import { requestText, speak } from './raw.ts';
import type { RawOutcome, RawRequest } from './raw.ts';

const testFlags = {
  demo: false,
  noOpen: true,
  port: 0,
  stopWhenIdle: false,
  idleSeconds: 90,
} as const;

export interface Running extends AsyncDisposable {
  readonly host: RunningLoopback;
  readonly port: number;
  readonly authority: string;
  readonly origin: string;
  /** The address of the terminal line, with its one-time code. */
  readonly address: string;
  readonly code: string;
  /** Every line the host has printed. */
  readonly lines: readonly string[];
  readonly folder: string;
  /** The header list of a correct call; `changed` replaces or, with undefined, removes headers. */
  headers(secret: string, changed?: Readonly<Record<string, string | undefined>>): [string, string][];
  send(request: RawRequest): Promise<RawOutcome>;
  /** Exchanges the address's code. */
  redeem(code?: string): Promise<RawOutcome>;
  secret(): Promise<string>;
  call(secret: string, endpoint: string, input?: unknown): Promise<RawOutcome>;
}

export interface RunningOptions {
  readonly port?: WorkshopPort;
  readonly limits?: Partial<ServerLimits>;
  readonly page?: Readonly<Record<string, string>>;
  readonly flags?: Partial<HostFlags>;
}

const plainPage = { 'index.html': '<!doctype html><title>Workshop</title>', 'assets/page.js': 'export {};' };

const writePage = (root: string, page: Readonly<Record<string, string>>): void => {
  for (const [name, text] of Object.entries(page)) {
    mkdirSync(join(root, name, '..'), { recursive: true });
    writeFileSync(join(root, name), text);
  }
};

const secretIn = (outcome: RawOutcome): string => {
  const read = JSON.parse(outcome.body) as { secret?: string };
  if (read.secret === undefined) throw new Error(`no secret in ${outcome.text}`);
  return read.secret;
};

/** The parts of the printed address. */
export const partsOf = (address: string): { authority: string; port: number; code: string } => {
  const match = /^http:\/\/([^/:]+:(\d+))\/#code=([\w-]+)$/.exec(address);
  if (match === null) throw new Error(`not an address: ${address}`);
  return { authority: match[1] ?? '', port: Number(match[2]), code: match[3] ?? '' };
};

export const startRunning = async (options: RunningOptions = {}): Promise<Running> => {
  const folder = mkdtempSync(join(tmpdir(), 'kw-host-'));
  const rendererRoot = join(folder, 'page');
  mkdirSync(join(folder, 'own'), { mode: 0o700 });
  writePage(rendererRoot, options.page ?? plainPage);
  const lines: string[] = [];
  const workshop = options.port ?? createFakePort();
  const host = await runLoopback({
    flags: { ...testFlags, ...options.flags },
    folders: { own: join(folder, 'own'), demo: join(folder, 'demo') },
    rendererRoot,
    version: '0.0.0-test',
    platform: 'linux',
    openWorkshop: () => Promise.resolve(workshop),
    print: (line) => lines.push(line),
    limits: { ...usualLimits, ...options.limits },
  });
  if (host === undefined) throw new Error('another host answered');
  const address = /http\S+/.exec(lines[0] ?? '')?.[0] ?? '';
  const { authority, port, code } = partsOf(address);
  const headers: Running['headers'] = (secret, changed = {}) => {
    const usual: Record<string, string | undefined> = {
      Host: authority,
      Origin: host.origin,
      'Sec-Fetch-Site': 'same-origin',
      'Content-Type': 'application/json',
      Authorization: `Knifewright ${secret}`,
      ...changed,
    };
    return Object.entries(usual).filter((pair): pair is [string, string] => pair[1] !== undefined);
  };
  const send = (request: RawRequest): Promise<RawOutcome> => speak(port, { parts: [requestText(request)] });
  const redeem = (shown = code): Promise<RawOutcome> =>
    send({
      target: '/session',
      headers: headers('', { Authorization: undefined }),
      body: JSON.stringify({ code: shown }),
    });
  return {
    ...{ host, port, authority, origin: host.origin, address, code, lines, folder, headers, send, redeem },
    secret: async () => secretIn(await redeem()),
    call: (secret, endpoint, input = {}) =>
      send({ headers: headers(secret), body: JSON.stringify({ endpoint, input }) }),
    [Symbol.asyncDispose]: async () => {
      await host.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
