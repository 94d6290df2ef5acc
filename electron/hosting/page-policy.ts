/** What the page may do and which files it may ask for: the same rules for the desktop window and the loopback address. */

/** Content-Security-Policy of every reply, on both hosts, to the letter. */
export const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "object-src 'none'",
  "require-trusted-types-for 'script'",
].join('; ');

/** Headers that go out with every reply, refusals included. */
export const pageHeaders: Readonly<Record<string, string>> = {
  'Content-Security-Policy': contentSecurityPolicy,
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Frame-Options': 'DENY',
  'Permissions-Policy':
    'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), midi=(), payment=(), display-capture=()',
};

const contentTypes: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  json: 'application/json',
  svg: 'image/svg+xml',
  png: 'image/png',
  ico: 'image/vnd.microsoft.icon',
  ttf: 'font/ttf',
  woff2: 'font/woff2',
  txt: 'text/plain; charset=utf-8',
};

/** The content type of a page file, or nothing when files of that ending are not part of the page. */
export const contentTypeOf = (file: string): string | undefined => {
  const ending = /\.([a-z0-9]+)$/.exec(file)?.[1];
  return ending !== undefined && Object.hasOwn(contentTypes, ending) ? contentTypes[ending] : undefined;
};

// An allow-list: the build names its files itself and never needs an escape, a space or a leading dot.
const plainPath = /^(?:\/[A-Za-z0-9_-][A-Za-z0-9_.-]*)+$/;
const windowsDevice = /(?:^|\/)(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|\/|$)/i;

/**
 * Turns the path of a request into a file name below the page folder.
 * @param target path as it stood in the request, still escaped, with or without a query
 * @returns a relative path with forward slashes, or nothing when the path is not one of ours
 */
export const pageFileOf = (target: string): string | undefined => {
  const path = target.split(/[?#]/, 1)[0] ?? '';
  if (path === '/') return 'index.html';
  if (path.length > 300 || !plainPath.test(path) || path.includes('..') || windowsDevice.test(path))
    return undefined;
  return contentTypeOf(path) === undefined ? undefined : path.slice(1);
};

/** Origin of the page in the desktop window. */
export const bundleOrigin = 'app://bundle';

/**
 * The page file an `app:` address asks for.
 * @returns a relative path, or nothing for another scheme, another host, a login, a port or a bad path
 */
export const bundleFileOf = (address: string): string | undefined => {
  if (/[\\\s]/.test(address) || !URL.canParse(address)) return undefined;
  const url = new URL(address);
  const ours = url.protocol === 'app:' && url.host === 'bundle' && url.username === '' && url.password === '';
  if (!ours) return undefined;
  const written = address.slice(address.indexOf('//') + 2).replace(/^[^/?#]*/, '');
  // The address is judged as written: a parser has already folded `..` away, which a raw request has not.
  return written.startsWith('/') ? pageFileOf(written) : undefined;
};
