/** The built loopback host as a process of its own, on a folder of its own, with its way in for a browser. */
import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, existsSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { madeDemo } from '../../demo/made.ts';
import { quickFolder } from '../../folders.ts';

const program = fileURLToPath(new URL('../../../.out/host/main.js', import.meta.url));
const movedClock = new URL('moved-clock.mjs', import.meta.url).href;
const slowestStartMs = 90_000;

export interface House extends AsyncDisposable {
  /** The way in of this start: works once. */
  readonly address: string;
  readonly folder: string;
  /** What it has said on the terminal so far. */
  readonly said: () => string;
  /** Ends the program at once, as a crash would, and leaves the folder. */
  kill(): Promise<void>;
  /** Lets time pass for the host, not for the browser: its clock is from now on so much ahead of the machine's. */
  ahead(milliseconds: number): void;
}

/** A folder for a workshop that a test makes and removes. */
export const newFolder = (): string => quickFolder('knifewright-e2e-');

/** A folder beside which the demo workshop lies already made. */
export const demoFolder = async (): Promise<string> => {
  const folder = newFolder();
  cpSync(await madeDemo(), join(folder, 'shop-demo'), { recursive: true });
  return folder;
};

/** Listens to a host, and hears when it names its address. */
const listen = (child: ChildProcess): { readonly said: () => string; readonly address: Promise<string> } => {
  let said = '';
  const address = new Promise<string>((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new Error(`The host never opened; it said: ${said}`)),
      slowestStartMs,
    );
    const hear = (part: Buffer): void => {
      said += part.toString();
      const [, found] = /is open at (http:\S+#code=\S+)/.exec(said) ?? [];
      if (found === undefined) return;
      clearTimeout(timer);
      resolve(found);
    };
    child.stdout?.on('data', hear);
    child.stderr?.on('data', hear);
    child.once('exit', (code) => reject(new Error(`The host ended with ${String(code)}; it said: ${said}`)));
  });
  return { said: () => said, address };
};

const ended = (child: ChildProcess, signal: NodeJS.Signals): Promise<void> =>
  new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) {
      resolve();
      return;
    }
    child.once('exit', () => resolve());
    child.kill(signal);
  });

export interface HouseOptions {
  /** An existing folder to open again; a fresh one otherwise. */
  readonly folder?: string;
  /** Open the invented workshop. */
  readonly demo?: boolean;
}

/** Starts the host as `npm start -- --no-open` does. Disposing ends it and removes the folder. */
export const startHouse = async ({
  folder = newFolder(),
  demo = false,
}: HouseOptions = {}): Promise<House> => {
  if (!existsSync(program)) throw new Error('The host is not built; “npm test” builds it first.');
  const words = [program, '--no-open', '--data', join(folder, 'shop'), ...(demo ? ['--demo'] : [])];
  const clockFile = join(folder, 'ahead');
  const ahead = (milliseconds: number): void => {
    // Whole at any moment it is read.
    writeFileSync(`${clockFile}.new`, String(milliseconds));
    renameSync(`${clockFile}.new`, clockFile);
  };
  ahead(0);
  const child = spawn(process.execPath, words, {
    stdio: 'pipe',
    env: {
      ...process.env,
      NODE_ENV: 'production',
      NODE_OPTIONS: `--import=${movedClock}`,
      KNIFEWRIGHT_TEST_CLOCK: clockFile,
    },
  });
  const { said, address } = listen(child);
  return {
    address: await address,
    folder,
    said,
    ahead,
    kill: () => ended(child, 'SIGKILL'),
    [Symbol.asyncDispose]: async () => {
      await ended(child, 'SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
