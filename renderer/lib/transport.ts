/** The two ways a call leaves the page: through the desktop window's bridge, or to the loopback address. */
import type { Fault, Reply } from '../../electron/api/errors.ts';

/** Carries one call to the workshop and never rejects. */
export interface Transport {
  invoke(endpoint: string, input: unknown): Promise<Reply>;
  /** Carries several calls at once, where that is cheaper; answers in their order. */
  invokeAll?(calls: readonly Call[]): Promise<readonly Reply[]>;
}

/** A call by name and input. */
export interface Call {
  readonly endpoint: string;
  readonly input: unknown;
}

/** What the desktop window's preload puts on `window`. */
export interface DesktopBridge {
  call(endpoint: string, input: unknown): Promise<Reply>;
}

declare global {
  interface Window {
    readonly knifewright?: DesktopBridge;
  }
}

const fail = (fault: Fault): Reply => ({ ok: false, fault });

const stopped = fail({
  kind: 'storage',
  message: 'The workshop program has stopped; start it again. What you typed is still here.',
});

const keyLost = fail({
  kind: 'forbidden',
  message:
    'This page has lost its key. Close this tab and start the program again; what you saved is safe in the workshop.',
});

const unreadable = fail({
  kind: 'internal',
  message: 'The workshop program gave an answer this page cannot read. Reload the page.',
});

const isReply = (value: unknown): value is Reply => {
  if (typeof value !== 'object' || value === null || !('ok' in value)) return false;
  if (value.ok === true) return 'value' in value && 'seq' in value && typeof value.seq === 'number';
  if (value.ok !== false || !('fault' in value)) return false;
  const { fault } = value;
  return typeof fault === 'object' && fault !== null && 'kind' in fault && 'message' in fault;
};

/** Calls through the desktop window's bridge. */
export const createDesktopTransport = (bridge: DesktopBridge): Transport => ({
  async invoke(endpoint, input) {
    try {
      const reply: unknown = await bridge.call(endpoint, input);
      return isReply(reply) ? reply : unreadable;
    } catch {
      return stopped;
    }
  },
});

const bytesOf = (base64: string): Uint8Array<ArrayBuffer> => {
  const raw = atob(base64);
  return Uint8Array.from(raw, (letter) => letter.charCodeAt(0));
};

/** Hands a file to the browser's own downloads. */
const download = (name: string, base64: string): void => {
  const address = URL.createObjectURL(new Blob([bytesOf(base64)], { type: 'application/octet-stream' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser reads the blob after the click; it must not be gone by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
};

const saveInBrowser = (input: unknown): Reply => {
  const file = input as { readonly name?: unknown; readonly base64?: unknown };
  if (typeof file.name !== 'string' || typeof file.base64 !== 'string') {
    return fail({ kind: 'invalid', message: 'There is no file to save.' });
  }
  download(file.name, file.base64);
  return { ok: true, value: { saved: true }, seq: 0 };
};

/** Follows an address under which the host hands out one file, once. */
const fetchFile = (reply: Reply): void => {
  const value = reply.ok ? (reply.value as { readonly address?: unknown }) : {};
  if (typeof value.address !== 'string' || !value.address.startsWith('/archive/')) return;
  const link = document.createElement('a');
  link.href = value.address;
  link.download = '';
  link.click();
};

/** Asks for a file; nothing when the person thinks better of it. */
const chooseArchive = (): Promise<File | undefined> =>
  new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = '.zip';
    input.addEventListener('change', () => resolve(input.files?.[0]));
    input.addEventListener('cancel', () => resolve(undefined));
    input.click();
  });

export interface LoopbackTransportOptions {
  /** The secret of this run, from the session. */
  readonly secret: string;
  readonly fetch?: typeof globalThis.fetch;
}

/** Headers of every call to the loopback host. */
export const callHeaders = (secret: string): Readonly<Record<string, string>> => ({
  Authorization: `Knifewright ${secret}`,
  'Content-Type': 'application/json',
});

/** Calls the loopback host this page came from. Files are saved by the browser, so that call never leaves the page. */
export const createLoopbackTransport = (options: LoopbackTransportOptions): Transport => {
  const fetch = options.fetch ?? globalThis.fetch.bind(globalThis);
  /** What came back, whatever it is, or the fault that kept it from coming. */
  const post = async (
    path: string,
    headers: Readonly<Record<string, string>>,
    body: string | File,
  ): Promise<{ readonly came: unknown } | { readonly fault: Reply }> => {
    let response: Response;
    try {
      response = await fetch(path, { method: 'POST', headers, body, credentials: 'omit' });
    } catch {
      return { fault: stopped };
    }
    if (response.status === 401) return { fault: keyLost };
    try {
      return { came: await response.json() };
    } catch {
      return { fault: unreadable };
    }
  };
  const ask = (body: unknown) => post('/rpc', callHeaders(options.secret), JSON.stringify(body));
  const read = (value: unknown): Reply => (isReply(value) ? value : unreadable);
  const takeIn = async (): Promise<Reply> => {
    const file = await chooseArchive();
    if (file === undefined) return { ok: true, value: { name: null }, seq: 0 };
    const headers = {
      ...callHeaders(options.secret),
      'Content-Type': 'application/octet-stream',
      'X-Archive-Name': encodeURIComponent(file.name),
    };
    const answer = await post('/archive', headers, file);
    return 'fault' in answer ? answer.fault : read(answer.came);
  };
  return {
    async invoke(endpoint, input) {
      if (endpoint === 'host.saveFile') return saveInBrowser(input);
      if (endpoint === 'host.takeInArchive') return takeIn();
      const answer = await ask({ endpoint, input });
      const reply = 'fault' in answer ? answer.fault : read(answer.came);
      if (endpoint === 'host.handOutArchive') fetchFile(reply);
      return reply;
    },
    async invokeAll(calls) {
      const answer = await ask({ calls });
      if ('fault' in answer) return calls.map(() => answer.fault);
      const list: readonly unknown[] = Array.isArray(answer.came) ? answer.came : [];
      return calls.map((_call, at) => read(list[at]));
    },
  };
};
