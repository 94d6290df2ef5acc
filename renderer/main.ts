/** Opens the page: gets its key and asks its first questions while the rest of the page is on its way. */
import { askAhead } from './lib/ahead.ts';
import { firstQuestions } from './lib/first-questions.ts';
import { openSession } from './lib/session.ts';
import type { FirstScreen } from './page.ts';

/**
 * How long the page waits for the first answers and the wanted screen, so that it is drawn once and whole; what comes
 * later finds it standing.
 */
const patienceMs = 250;

/** The screens, fetched by the area in the address. */
const screens = import.meta.glob<Omit<FirstScreen, 'area'>>(['./areas/*/*Area.svelte', '!./areas/setup/*']);

/** Fetches the wanted screen; a failure shows when the screen is opened. */
const fetchScreen = async (): Promise<FirstScreen | undefined> => {
  const area = location.hash.split('/')[1] ?? '';
  const path = Object.keys(screens).find((one) => one.includes(`/areas/${area}/`));
  try {
    const module = path === undefined ? undefined : await screens[path]?.();
    return module === undefined ? undefined : { area, default: module.default };
  } catch {
    return undefined;
  }
};

/** Settles once the page has the place everything is put into: this script does not wait for the end of the page. */
const wholeRead = async (): Promise<void> => {
  if (document.readyState !== 'loading') return;
  await new Promise((resolve) => document.addEventListener('DOMContentLoaded', resolve, { once: true }));
};

/** What a promise brings, or nothing when it takes too long. */
const soon = <T>(promise: Promise<T>): Promise<T | undefined> =>
  Promise.race([promise, new Promise<undefined>((resolve) => setTimeout(resolve, patienceMs))]);

const start = async (): Promise<void> => {
  const opening = openSession();
  const page = import('./page.ts');
  const screen = fetchScreen();
  const session = await opening;
  if (!session.ok) {
    const { showLocked } = await page;
    await wholeRead();
    showLocked(session.message);
    return;
  }
  const transport = askAhead(session.transport, firstQuestions(location.hash));
  const [{ show }, first] = await Promise.all([page, soon(screen), soon(transport.arrived), wholeRead()]);
  show(transport, first);
};

void start();
