/** A walk over the screens of the demo workshop: their looks in light and dark, and their room on small windows. */
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { madeDemoMs } from '../../demo/made.ts';
import { chromiumPath, sharedChromium } from '../../webhost/support/chromium.ts';
import { demoFolder, type House, startHouse } from './house.ts';
import { screensOf } from './screens.ts';
import { goTo, openTab, type Tab } from './watch.ts';

const tourMs = 300_000;
/** Asserted so that no screen drops out of the walk unseen. */
const screensInAll = 97;

/** The rows of a long list are made alike: the first of them speak for the rest. */
const furtherRows = 'tbody tr:nth-child(n + 13)';
/** The areas stand beside every screen alike; they are looked at on the first of a walk. */
const areas = 'nav#rack';

/** Hands axe to a page. It stays, because screens change without the page being loaded anew. */
const bringAxe = (page: Page): Promise<void> => page.evaluate(axe.source);

/** What axe finds, one line a finding. In the dark only colours can differ. */
const axeFinds = async (
  page: Page,
  colorScheme: 'light' | 'dark',
  leftOut: readonly string[],
): Promise<readonly string[]> => {
  await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
  const only = colorScheme === 'dark' ? { runOnly: ['color-contrast'] } : {};
  const found = await page.evaluate(
    async ({ exclude, options }) => {
      const { violations } = await (window as unknown as { axe: typeof axe }).axe.run(
        { include: [['html']], exclude },
        options,
      );
      return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target.join(' ')}`));
    },
    // Only what fails is told in full: that halves the time, and finds the same.
    {
      exclude: leftOut.map((selector) => [selector]),
      options: { resultTypes: ['violations' as const], iframes: false, elementRef: false, ...only },
    },
  );
  return found.map((finding) => `${colorScheme}, ${finding}`);
};

/** A window of 1024 × 640, and what is left of it at 200 %. */
const smallWindows = [
  { width: 1024, height: 640 },
  { width: 512, height: 320 },
];

/** How much wider than its window a page stays; one that is still being laid out on a busy machine gets a moment. */
const settledExcess = async (page: Page): Promise<number> => {
  let wider = Number.POSITIVE_INFINITY;
  for (let look = 0; look < 20 && wider > 0; look += 1) {
    if (look > 0) await page.waitForTimeout(120);
    wider = await page.evaluate(async () => {
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
      return document.documentElement.scrollWidth - window.innerWidth;
    });
  }
  return wider;
};

/** The small windows a page does not fit into. */
const tooNarrow = async (page: Page): Promise<readonly string[]> => {
  const found: string[] = [];
  for (const size of smallWindows) {
    await page.setViewportSize(size);
    const wider = await settledExcess(page);
    if (wider > 0) found.push(`${wider} px wider than ${size.width}`);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  return found;
};

/**
 * Walks over every second screen.
 * @param half which half of them; the two are files of their own, so that they are walked side by side
 */
export const tourOfScreens = (half: 0 | 1): void => {
  // Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
  describe.runIf(chromiumPath !== undefined)('the screens of the demo workshop', () => {
    let browser: Browser;
    let house: House;
    let tab: Tab;

    beforeAll(async () => {
      browser = await sharedChromium();
      house = await startHouse({ folder: await demoFolder(), demo: true });
      tab = await openTab(browser, house.address);
    }, madeDemoMs);
    afterAll(async () => {
      await tab[Symbol.asyncDispose]();
      await house[Symbol.asyncDispose]();
    });

    it(
      'pass axe in light and dark, and fit into small windows',
      async () => {
        const { page } = tab;
        const screens = await screensOf(page);
        await bringAxe(page);
        expect(screens.length).toBe(screensInAll);
        const found: Record<string, readonly string[]> = {};
        for (const [at, screen] of screens.filter((_, place) => place % 2 === half).entries()) {
          await goTo(page, screen);
          const leftOut = at === 0 ? [furtherRows] : [furtherRows, areas];
          const here = [
            ...(await axeFinds(page, 'light', leftOut)),
            ...(await axeFinds(page, 'dark', leftOut)),
            ...(await tooNarrow(page)),
          ];
          if (here.length > 0) found[screen] = here;
        }
        expect(found).toEqual({});
        expect([tab.abroad, tab.errors]).toEqual([[], []]);
      },
      tourMs,
    );
  });
};
