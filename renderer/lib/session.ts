/**
 * How a page gets its key: the address it was opened with carries a one-time code behind the `#`, which is exchanged
 * once for the secret of this run. The secret stays in this tab's session storage and goes with the tab.
 */
import { callHeaders, createDesktopTransport, createLoopbackTransport } from './transport.ts';
import type { Transport } from './transport.ts';

export type SessionResult =
  { readonly ok: true; readonly transport: Transport } | { readonly ok: false; readonly message: string };

const storageName = 'knifewright.key';
const heartbeatMs = 20_000;

/** The code in an address, e.g. `#code=Ab3…`; nothing for any other fragment. */
export const codeInFragment = (fragment: string): string | undefined =>
  /^#code=([A-Za-z0-9_-]{20,100})$/.exec(fragment)?.[1];

const locked =
  'The workshop is already open in another tab. Go back to that tab, or start the program again to get a new one.';
const codeRefused =
  'This address has been used or is too old. Start the program again; it opens a fresh one in a moment.';
const stopped = 'The workshop program has stopped; start it again.';

const secretIn = (value: unknown): string | undefined =>
  typeof value === 'object' && value !== null && 'secret' in value && typeof value.secret === 'string'
    ? value.secret
    : undefined;

type Exchange = { readonly secret: string } | { readonly message: string };

const exchange = async (code: string): Promise<Exchange> => {
  try {
    const response = await fetch('/session', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ code }),
      credentials: 'omit',
    });
    const secret = response.ok ? secretIn(await response.json()) : undefined;
    return secret === undefined ? { message: codeRefused } : { secret };
  } catch {
    return { message: stopped };
  }
};

/** Tells the host that this tab is open, and when it is closed, so that the program can stop by itself. */
const startHeartbeat = (secret: string): void => {
  // Made anew on every load and never stored: a duplicated tab must count as a tab of its own.
  const tab = crypto.randomUUID();
  const tell = (path: string): void => {
    const request = {
      method: 'POST',
      headers: callHeaders(secret),
      body: JSON.stringify({ tab }),
      keepalive: true,
    };
    void fetch(path, { ...request, credentials: 'omit' }).catch(() => undefined);
  };
  const beat = (): void => tell('/alive');
  // After the first questions: a browser keeps few lines open to one address, and nobody looks for the tab that soon.
  setTimeout(beat, 0);
  setInterval(beat, heartbeatMs);
  window.addEventListener('pagehide', () => tell('/goodbye'));
  window.addEventListener('pageshow', beat);
};

const openLoopback = async (): Promise<SessionResult> => {
  const code = codeInFragment(location.hash);
  let secret = sessionStorage.getItem(storageName) ?? undefined;
  if (code !== undefined) {
    // Taken out of the address first, so that neither history nor a copied address ever holds it for long.
    history.replaceState(history.state, '', location.pathname);
    const result = await exchange(code);
    if ('message' in result && secret === undefined) return { ok: false, message: result.message };
    if ('secret' in result) secret = result.secret;
  }
  if (secret === undefined) return { ok: false, message: locked };
  sessionStorage.setItem(storageName, secret);
  startHeartbeat(secret);
  return { ok: true, transport: createLoopbackTransport({ secret }) };
};

/** Finds out where the page runs and gets it ready to call the workshop. Call it once, before anything else. */
export const openSession = async (): Promise<SessionResult> => {
  const bridge = window.knifewright;
  return bridge === undefined ? openLoopback() : { ok: true, transport: createDesktopTransport(bridge) };
};
