/** What the desktop window is allowed to do. Pure functions, so that every rule can be tried without a window. */
import { bundleFileOf, bundleOrigin } from '../hosting/page-policy.ts';

/** The web preferences of the only kind of window there is. */
export interface PagePreferences {
  readonly preload: string;
  readonly contextIsolation: true;
  readonly sandbox: true;
  readonly nodeIntegration: false;
  readonly spellcheck: boolean;
}

/** @param preload absolute path of the bundled preload script */
export const pagePreferences = (preload: string): PagePreferences => ({
  preload,
  contextIsolation: true,
  sandbox: true,
  nodeIntegration: false,
  // The dictionaries would be fetched from the network.
  spellcheck: false,
});

/** The page stays where it is: only a reload of its own start page counts as a journey it may make. */
export const mayNavigate = (address: string): boolean => bundleFileOf(address) === 'index.html';

/** No page opens a second window, whatever it asks for. */
export const windowOpenAnswer = (_address: string): { readonly action: 'deny' } => ({ action: 'deny' });

/** No permission is ever granted: the application needs none. */
export const mayUse = (_permission: string): boolean => false;

const mailbox = /^[A-Za-z0-9._%+-]{1,64}@[A-Za-z0-9](?:[A-Za-z0-9.-]{0,250}[A-Za-z0-9])?$/;

/**
 * What may be handed to another program: a letter to one mailbox, and nothing else.
 * @returns the address rebuilt from its checked parts, or nothing
 */
export const externalAddress = (address: string): string | undefined => {
  if (address.length > 400 || !URL.canParse(address)) return undefined;
  const url = new URL(address);
  if (url.protocol !== 'mailto:' || url.search !== '' || url.hash !== '') return undefined;
  // A percent sign would let a line break or a second mailbox slip through once it is unescaped.
  const clean = !url.pathname.includes('%') && !url.pathname.includes('..') && mailbox.test(url.pathname);
  return clean ? `mailto:${url.pathname}` : undefined;
};

/** Who sent a message to the main process. */
export interface SenderFrame {
  readonly origin: string;
  readonly url: string;
  /** True for the outermost frame of the window. */
  readonly isTop: boolean;
}

/** Only our own page, in the outermost frame of a window, is listened to. */
export const mayCall = (sender: SenderFrame | undefined): boolean =>
  sender !== undefined && sender.isTop && sender.origin === bundleOrigin && mayNavigate(sender.url);

/** Requests the page's session may make at all; everything that is not the bundle or made in the page is dropped. */
export const mayRequest = (address: string): boolean => {
  if (/^(?:data|blob):/i.test(address)) return true;
  if (address.startsWith('devtools://devtools/')) return true;
  return bundleFileOf(address) !== undefined;
};
