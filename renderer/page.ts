/** The page itself: connects it to the workshop and shows it. */
import { mount } from 'svelte';
import './parts/tokens.css';
import './parts/base.css';
import App from './App.svelte';
import Locked from './parts/Locked.svelte';
import { createClient } from './lib/client.ts';
import { route } from './lib/route.svelte.ts';
import type { SessionResult } from './lib/session.ts';
import { shop, watched } from './lib/shop.svelte.ts';
import { theme } from './lib/theme.svelte.ts';

/** When nothing is waited for any more, in milliseconds after the page was shown. */
const calmAfterMs = 1500;

/** Fetches what lies over a screen before it is first opened, so that it opens at once. */
const fetchOver = (): void => {
  for (const one of [import('./parts/DialogSheet.svelte'), import('./parts/ConfirmSheet.svelte')])
    one.catch(() => undefined);
};

/** Shows the workshop, or why this page may not. */
export const show = (session: SessionResult): void => {
  const target = document.getElementById('app');
  if (target === null) return;
  theme.start();
  if (!session.ok) {
    mount(Locked, { target, props: { message: session.message } });
    return;
  }
  shop.connect(createClient(watched(session.transport)));
  route.start();
  mount(App, { target });
  setTimeout(fetchOver, calmAfterMs);
};
