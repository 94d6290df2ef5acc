/** Runs the application on loopback: opens the workshop, listens, shows the way in, and stops cleanly. */
import { randomBytes } from 'node:crypto';
import { lookup } from 'node:dns/promises';
import type { HostFlags } from '../hosting/flags.ts';
import type { WorkshopFolders } from '../hosting/folders.ts';
import { receiveArchive } from '../hosting/archive-files.ts';
import { openSwitch } from '../hosting/workshop-switch.ts';
import type { WorkshopKind } from '../hosting/workshop-switch.ts';
import type { WorkshopPort } from '../api/port.ts';
import { openInBrowser } from './browser.ts';
import type { OpenedBrowser } from './browser.ts';
import { askForCode, leaveNote, readNote, removeNote } from './handover.ts';
import { createPresence } from './presence.ts';
import { startServer, usualLimits } from './server.ts';
import type { LoopbackServer, ServerLimits, ServerParts } from './server.ts';
import { codeLifeMs, createSession } from './session.ts';
import { createTickets } from './tickets.ts';

export interface LoopbackOptions {
  readonly flags: HostFlags;
  readonly folders: WorkshopFolders;
  readonly rendererRoot: string;
  readonly version: string;
  readonly platform: string;
  openWorkshop(which: WorkshopKind, goBackTo?: string): Promise<WorkshopPort>;
  readonly print: (line: string) => void;
  /** Told how to stop the host before anything shows that it runs, so that an early signal finds ears. */
  readonly onRunning?: (stop: () => Promise<void>) => void;
  readonly limits?: ServerLimits;
}

export interface RunningLoopback {
  readonly origin: string;
  /** Stops listening, finishes what is under way and releases the workshop. */
  readonly stop: () => Promise<void>;
  /** Settles when the host has stopped, for whatever reason. */
  readonly stopped: Promise<void>;
}

/** Milliseconds that never jump, unlike the time of day. */
const steadyNow = (): number => performance.now();

/**
 * A name of this run's own, so that no cookie of another loopback page is ever sent to us and no other page shares
 * our storage. Browsers resolve it themselves; macOS leaves it to the system, which may not know it.
 */
const pickHostName = async (platform: string): Promise<string> => {
  const name = `w-${randomBytes(6).toString('hex')}.localhost`;
  if (platform !== 'darwin') return name;
  const known = await lookup(name).then(
    (found) => found.address === '127.0.0.1' || found.address === '::1',
    () => false,
  );
  return known ? name : '127.0.0.1';
};

/** Shows the way in: on the terminal when asked to, else in the system browser. */
const showWayIn = async (
  options: LoopbackOptions,
  origin: string,
  code: string,
): Promise<OpenedBrowser | undefined> => {
  const { flags, print, platform } = options;
  if (flags.noOpen) {
    print(`Knifewright is open at ${origin}/#code=${code}`);
    print('The address works once and for half a minute; start again for a fresh one. Ctrl+C stops.');
    return undefined;
  }
  print(`Knifewright is open at ${origin}/`);
  const browser = await openInBrowser(`${origin}/#code=${code}`, platform);
  print(
    browser.asked
      ? 'Ctrl+C stops.'
      : 'No browser could be opened; start with --no-open to get an address to paste.',
  );
  return browser;
};

/** Hands over to a host that already has this workshop open. @returns true when it answered */
const joinRunning = async (options: LoopbackOptions, folder: string): Promise<boolean> => {
  const note = readNote(folder);
  const code = note === undefined ? undefined : await askForCode(note);
  if (note === undefined || code === undefined) return false;
  const browser = await showWayIn(options, `http://${note.authority}`, code);
  if (browser?.asked === true) await new Promise((resolve) => setTimeout(resolve, 10_000));
  browser?.forget();
  return true;
};

const tickMs = 1000;
const silentMs = 8 * 60 * 60 * 1000;

const watchIdle = (flags: HostFlags, over: () => boolean, stop: () => void): (() => void) => {
  if (!flags.stopWhenIdle) return () => undefined;
  const timer = setInterval(() => {
    if (over()) stop();
  }, tickMs);
  return () => clearInterval(timer);
};

/** What has to be undone at the end, last thing first. */
const createStopper = (steps: readonly (() => unknown)[]): Pick<RunningLoopback, 'stop' | 'stopped'> => {
  let begin: () => void = () => undefined;
  const begun = new Promise<void>((resolve) => {
    begin = resolve;
  });
  const stopped = begun.then(async () => {
    for (const step of steps) await step();
  });
  // A failure belongs to whoever awaits `stop` or `stopped`; unheard it must not end the process.
  stopped.catch(() => undefined);
  return {
    stopped,
    stop: () => {
      begin();
      return stopped;
    },
  };
};

/**
 * Opens the workshop and meanwhile begins to listen; nobody knows the address yet, and an early call waits for the books.
 * Either both stand in the end, or neither.
 */
const openAndListen = async (
  options: LoopbackOptions,
  start: WorkshopKind,
  parts: Pick<ServerParts, 'session' | 'presence' | 'handoverKey'>,
): Promise<{ readonly port: WorkshopPort; readonly server: LoopbackServer }> => {
  const tickets = createTickets(steadyNow);
  const handOut = (path: string, name: string) =>
    Promise.resolve({ saved: false, address: tickets.issue({ path, name }) });
  const opening = openSwitch({ ...options, kind: 'loopback', start, handOut });
  const port: WorkshopPort = {
    call: async (endpoint, input) => (await opening).call(endpoint, input),
    close: async () => (await opening).close(),
  };
  const takeIn: ServerParts['takeIn'] = async (name, from, bytes) =>
    receiveArchive((await opening).info().folder, name, from, bytes);
  const limits = options.limits ?? usualLimits;
  const all = { ...parts, ...options, port, limits, tickets, takeIn, log: options.print };
  const listening = pickHostName(options.platform).then((name) => startServer(all, name, options.flags.port));
  const [opened, listens] = await Promise.allSettled([opening, listening]);
  if (opened.status === 'fulfilled' && listens.status === 'fulfilled') return { port, server: listens.value };
  if (listens.status === 'fulfilled') await listens.value.close();
  if (opened.status === 'fulfilled') await opened.value.close();
  // One of the two was refused; waiting for both again throws its reason.
  await Promise.all([opening, listening]);
  throw new Error('Neither the books nor the address were refused');
};

/**
 * Starts the host.
 * @returns the running host, or nothing when another one already has this workshop open and was pointed at
 */
export const runLoopback = async (options: LoopbackOptions): Promise<RunningLoopback | undefined> => {
  const { flags, folders } = options;
  const start: WorkshopKind = flags.demo ? 'demo' : 'own';
  if (await joinRunning(options, folders[start])) return undefined;
  let forgetWayIn: () => void = () => undefined;
  // The file that led the browser here has done its work once the code in it is used.
  const session = createSession(steadyNow, () => forgetWayIn());
  const presence = createPresence(steadyNow, { idleMs: flags.idleSeconds * 1000, silentMs }, tickMs);
  const handoverKey = randomBytes(32).toString('base64url');
  const { port, server } = await openAndListen(options, start, { session, presence, handoverKey });
  leaveNote(folders[start], {
    authority: server.origin.slice('http://'.length),
    port: server.port,
    key: handoverKey,
  });
  const stopper = createStopper([
    () => unwatch(),
    () => removeNote(folders[start], handoverKey),
    () => forgetWayIn(),
    () => server.close(),
    () => port.close(),
  ]);
  const unwatch = watchIdle(flags, presence.isOver, () => void stopper.stop());
  options.onRunning?.(stopper.stop);
  const browser = await showWayIn(options, server.origin, session.issueCode());
  if (browser !== undefined) forgetWayIn = browser.forget;
  setTimeout(() => forgetWayIn(), codeLifeMs).unref();
  return { origin: server.origin, ...stopper };
};
