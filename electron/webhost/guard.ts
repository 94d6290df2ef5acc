/**
 * Decides, from the head of a request alone, whether it may be looked at any further. Pure functions.
 * A browser cannot be made to forge Host, Origin or Sec-Fetch-Site, so each must be exactly ours; one that is
 * missing counts as wrong, since a page that has rebound a name to this machine sends no Sec-Fetch-* at all.
 */

/** The head of a request as it arrived; `rawHeaders` alternates names and values and keeps duplicates. */
export interface RequestHead {
  readonly method: string;
  readonly target: string;
  readonly rawHeaders: readonly string[];
}

export interface Refusal {
  readonly status: number;
  readonly message: string;
}

export type RouteName = 'page' | 'session' | 'rpc' | 'alive' | 'goodbye' | 'handover' | 'archive';
export type Verdict = { readonly route: RouteName } | { readonly refusal: Refusal };

const refuse = (status: number, message: string): Refusal => ({ status, message });

/** Every value of a header, duplicates included. @param name in lower case */
const headerValues = (head: RequestHead, name: string): readonly string[] => {
  const values: string[] = [];
  for (let i = 0; i + 1 < head.rawHeaders.length; i += 2) {
    if (head.rawHeaders[i]?.toLowerCase() === name) values.push(head.rawHeaders[i + 1] ?? '');
  }
  return values;
};

/** The value of a header that must be there exactly once. */
const onlyValue = (head: RequestHead, name: string): string | undefined => {
  const values = headerValues(head, name);
  return values.length === 1 ? values[0] : undefined;
};

/** Refuses a request that was addressed to any other name than ours. @param authority `name:port` */
export const checkHost = (head: RequestHead, authority: string): Refusal | undefined =>
  onlyValue(head, 'host') === authority
    ? undefined
    : refuse(421, 'This address does not belong to the workshop.');

const postRoutes: Readonly<Record<string, RouteName>> = {
  '/session': 'session',
  '/rpc': 'rpc',
  '/alive': 'alive',
  '/goodbye': 'goodbye',
  '/handover': 'handover',
  '/archive': 'archive',
};

/** Finds the route by method and target; only GET, HEAD and POST exist. */
export const routeOf = (head: RequestHead): Verdict => {
  const { method, target } = head;
  if (!target.startsWith('/') || target.startsWith('//'))
    return { refusal: refuse(400, 'That address is not written correctly.') };
  if (headerValues(head, 'upgrade').length > 0)
    return { refusal: refuse(403, 'Only plain requests are answered here.') };
  if (method === 'GET' || method === 'HEAD') {
    const isPost = Object.hasOwn(postRoutes, target.split('?', 1)[0] ?? '');
    return isPost ? { refusal: refuse(405, 'This address takes no such request.') } : { route: 'page' };
  }
  if (method !== 'POST') return { refusal: refuse(403, 'This kind of request is not answered here.') };
  const route = Object.hasOwn(postRoutes, target) ? postRoutes[target] : undefined;
  return route === undefined ? { refusal: refuse(404, 'There is nothing at this address.') } : { route };
};

/** Refuses a call that does not come from our own page. @param origin `http://name:port` */
export const checkCaller = (head: RequestHead, origin: string): Refusal | undefined => {
  if (onlyValue(head, 'origin') !== origin) return refuse(403, 'Only the workshop’s own page may ask this.');
  if (onlyValue(head, 'sec-fetch-site') !== 'same-origin')
    return refuse(403, 'Only the workshop’s own page may ask this.');
  return undefined;
};

/** Refuses page files to foreign pages that try to frame or embed them; a plain visit is always allowed. */
export const checkVisitor = (head: RequestHead): Refusal | undefined => {
  const [site = 'none'] = headerValues(head, 'sec-fetch-site');
  const [mode = 'navigate'] = headerValues(head, 'sec-fetch-mode');
  const [dest = 'document'] = headerValues(head, 'sec-fetch-dest');
  if (['iframe', 'frame', 'embed', 'object', 'fencedframe'].includes(dest))
    return refuse(403, 'The workshop cannot be shown inside another page.');
  const own = site === 'none' || site === 'same-origin';
  return own || mode === 'navigate' ? undefined : refuse(403, 'Only the workshop’s own page may ask this.');
};

/** Refuses anything a browser sent: the hand-over is for a second start of this program only. */
export const checkProgram = (head: RequestHead): Refusal | undefined => {
  const browserish = ['origin', 'referer', 'cookie', 'sec-fetch-site', 'sec-fetch-mode', 'sec-fetch-dest'];
  return browserish.some((name) => headerValues(head, name).length > 0)
    ? refuse(403, 'Only a second start of the program may ask this.')
    : undefined;
};

/** Refuses a body that is not plain JSON or is announced as too long. @param limit bytes */
export const checkJson = (head: RequestHead, limit: number): Refusal | undefined => {
  const type = onlyValue(head, 'content-type') ?? '';
  if (!/^application\/json(?:; ?charset=utf-8)?$/i.test(type)) return refuse(415, 'Only JSON is read here.');
  if (headerValues(head, 'content-encoding').length > 0) return refuse(415, 'Only plain JSON is read here.');
  const length = onlyValue(head, 'content-length');
  if (length !== undefined && Number(length) > limit)
    return refuse(413, 'That is more than can be taken in at once.');
  return undefined;
};

/** A file that is being sent, by its head; its name travels escaped. */
export interface SentFile {
  readonly name: string;
  readonly bytes: number;
}

/** Refuses a sent file that is not announced plainly, with its name and its length. */
export const checkSentFile = (head: RequestHead): SentFile | Refusal => {
  if (onlyValue(head, 'content-type') !== 'application/octet-stream')
    return refuse(415, 'Only plain bytes are taken in here.');
  if (headerValues(head, 'content-encoding').length > 0)
    return refuse(415, 'Only plain bytes are taken in here.');
  const length = onlyValue(head, 'content-length') ?? '';
  const escaped = onlyValue(head, 'x-archive-name') ?? '';
  if (!/^\d{1,15}$/.test(length) || !/^[A-Za-z0-9%._~!*'()-]{1,1000}$/.test(escaped))
    return refuse(400, 'That request was not put together correctly.');
  try {
    return { name: decodeURIComponent(escaped), bytes: Number(length) };
  } catch {
    return refuse(400, 'That request was not put together correctly.');
  }
};

/** The credential of an `Authorization` header with the given scheme. */
export const credentialOf = (head: RequestHead, scheme: string): string | undefined => {
  const value = onlyValue(head, 'authorization');
  return value?.startsWith(`${scheme} `) === true ? value.slice(scheme.length + 1) : undefined;
};
