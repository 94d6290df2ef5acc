/** Runs a host as a process of its own and listens to what it prints. */
import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { partsOf } from './running.ts';
import { requestText, speak } from './raw.ts';
import type { RawOutcome } from './raw.ts';

const fakeHostFile = fileURLToPath(new URL('fake-host.ts', import.meta.url));

export interface Child extends AsyncDisposable {
  readonly process: ChildProcess;
  /** Everything it has written so far, to either stream. */
  output(): string;
  /** Waits until the output matches, and answers the match. */
  until(pattern: RegExp): Promise<RegExpExecArray>;
  /** Settles with the exit code. */
  readonly exit: Promise<number | null>;
}

const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

export const startChild = (
  args: readonly string[],
  env: Readonly<Record<string, string | undefined>> = {},
  file = fakeHostFile,
): Child => {
  const child = spawn(process.execPath, [file, ...args], { env: { ...process.env, ...env }, stdio: 'pipe' });
  let text = '';
  child.stdout.on('data', (part: Buffer) => {
    text += part.toString();
  });
  child.stderr.on('data', (part: Buffer) => {
    text += part.toString();
  });
  const exit = new Promise<number | null>((resolve) => child.once('close', resolve));
  return {
    process: child,
    output: () => text,
    exit,
    async until(pattern) {
      for (let i = 0; i < 1000; i += 1) {
        const match = pattern.exec(text);
        if (match !== null) return match;
        await wait(20);
      }
      throw new Error(`${pattern.source} never came; the host said: ${text}`);
    },
    [Symbol.asyncDispose]: async () => {
      child.kill('SIGKILL');
      await exit;
    },
  };
};

export interface Way {
  readonly authority: string;
  readonly port: number;
  readonly code: string;
}

/** The way in as printed by `--no-open`. */
export const wayIn = async (child: Child): Promise<Way> => {
  const [, address = ''] = await child.until(/is open at (http:\S+#code=\S+)\n/);
  return partsOf(address);
};

/** Posts as the page would. */
export const post = (way: Way, target: string, body: unknown, secret?: string): Promise<RawOutcome> => {
  const headers: [string, string][] = [
    ['Host', way.authority],
    ['Origin', `http://${way.authority}`],
    ['Sec-Fetch-Site', 'same-origin'],
    ['Content-Type', 'application/json'],
  ];
  if (secret !== undefined) headers.push(['Authorization', `Knifewright ${secret}`]);
  const parts = [requestText({ target, headers, body: JSON.stringify(body) })];
  // The first call waits until every use-case is loaded, which takes long where other tests run beside it.
  return speak(way.port, { parts, timeoutMs: 25_000 });
};

export const redeemAt = async (way: Way): Promise<string> => {
  const reply = await post(way, '/session', { code: way.code });
  const { secret } = JSON.parse(reply.body) as { secret?: string };
  if (secret === undefined) throw new Error(reply.text);
  return secret;
};
