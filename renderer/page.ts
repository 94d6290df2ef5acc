/** The page itself: connects it to the workshop and shows it. */
import { mount } from 'svelte';
import type { Component } from 'svelte';
import './parts/tokens.css';
import './parts/base.css';
import App from './App.svelte';
import Locked from './parts/Locked.svelte';
import { createClient } from './lib/client.ts';
import { route } from './lib/route.svelte.ts';
import { shop, watched } from './lib/shop.svelte.ts';
import { followTabs } from './lib/tabs.ts';
import { theme } from './lib/theme.svelte.ts';
import type { Transport } from './lib/transport.ts';

/** When nothing is waited for any more, in milliseconds after the page was shown. */
const calmAfterMs = 1500;

/** Fetches what lies over a screen before it is first opened, so that it opens at once. */
const fetchOver = (): void => {
  for (const one of [import('./parts/DialogSheet.svelte'), import('./parts/ConfirmSheet.svelte')])
    one.catch(() => undefined);
};

/** The screen of the area in the address, fetched before the page is shown. */
export interface FirstScreen {
  readonly area: string;
  readonly default: Component;
}

const place = (): HTMLElement | null => document.getElementById('app');

/** Shows why this page may not show the workshop. */
export const showLocked = (message: string): void => {
  const target = place();
  if (target === null) return;
  theme.start();
  mount(Locked, { target, props: { message } });
};

/** Shows the workshop. @param first the screen to show at once, where it has been fetched already */
export const show = (transport: Transport, first: FirstScreen | undefined): void => {
  const target = place();
  if (target === null) return;
  theme.start();
  const client = createClient(watched(transport));
  shop.connect(client);
  followTabs(client, new BroadcastChannel('books'));
  route.start();
  mount(App, { target, props: { first } });
  setTimeout(fetchOver, calmAfterMs);
};
