/** Opens the page: gets its key, connects it to the workshop and shows it. */
import { mount } from 'svelte';
import './parts/tokens.css';
import './parts/base.css';
import App from './App.svelte';
import { areas } from './areas/registry.ts';
import Locked from './parts/Locked.svelte';
import { createClient } from './lib/client.ts';
import { route } from './lib/route.svelte.ts';
import { openSession } from './lib/session.ts';
import { shop, watched } from './lib/shop.svelte.ts';
import { theme } from './lib/theme.svelte.ts';

const start = async (): Promise<void> => {
  const target = document.getElementById('app');
  if (target === null) return;
  theme.start();
  // The wanted screen comes along while the page gets its key; a failure shows when the screen is opened.
  const wanted = location.hash.split('/')[1] ?? '';
  areas
    .find((one) => one.id === wanted)
    ?.load()
    .catch(() => undefined);
  const session = await openSession();
  if (!session.ok) {
    mount(Locked, { target, props: { message: session.message } });
    return;
  }
  shop.connect(createClient(watched(session.transport)));
  route.start();
  mount(App, { target });
};

void start();
