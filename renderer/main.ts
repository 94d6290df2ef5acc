/** Opens the page: gets its key and asks its first questions while the rest of the page is on its way. */
import { askAhead } from './lib/ahead.ts';
import { firstQuestions } from './lib/first-questions.ts';
import { openSession } from './lib/session.ts';
import type { SessionResult } from './lib/session.ts';

/** The screens, fetched by the area in the address. */
const screens = import.meta.glob<unknown>(['./areas/*/*Area.svelte', '!./areas/setup/*']);

/** Fetches the wanted screen; a failure shows when the screen is opened. */
const fetchScreen = (): void => {
  const wanted = `/areas/${location.hash.split('/')[1] ?? ''}/`;
  const path = Object.keys(screens).find((one) => one.includes(wanted));
  if (path === undefined) return;
  screens[path]?.().catch(() => undefined);
};

const connect = async (): Promise<SessionResult> => {
  const session = await openSession();
  if (!session.ok) return session;
  return { ok: true, transport: askAhead(session.transport, firstQuestions(location.hash)) };
};

const start = async (): Promise<void> => {
  const session = connect();
  const page = import('./page.ts');
  // The browser fetches what was kept on this machine (colours, keys) when it is first asked; better now than later.
  localStorage.key(0);
  fetchScreen();
  (await page).show(await session);
};

void start();
