/** The invented workshop on the screen: its figures, its looks in light and dark, and its room on small windows. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expected, type Expected } from '../demo/table.ts';
import { chromiumPath, startChromium } from '../webhost/support/chromium.ts';
import { type House, startHouse } from './support/house.ts';
import { screensOf } from './support/screens.ts';
import { goTo, openTab, type Tab } from './support/watch.ts';

const demoMs = 180_000;
const tourMs = 240_000;
const knives = ['W01', 'W03', 'W05', 'W06', 'W10', 'W13'];

const knife = (serial: string): Expected => {
  const found = expected.find((one) => one.serial === serial);
  if (found === undefined) throw new Error(`${serial} is not in the table`);
  return found;
};

const timeOf = (minutes: number): string =>
  `${Math.floor(minutes / 60)} h${minutes % 60 === 0 ? '' : ` ${minutes % 60} min`}`;

/** What axe finds, one line a finding. In the dark only colours can differ. */
const axeFinds = async (page: Page, colorScheme: 'light' | 'dark'): Promise<readonly string[]> => {
  await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
  // Only what fails is told in full: that halves the time, and finds the same.
  const axe = new AxeBuilder({ page }).setLegacyMode(true).options({ resultTypes: ['violations'] });
  const { violations } = await (colorScheme === 'dark' ? axe.withRules(['color-contrast']) : axe).analyze();
  return violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${colorScheme}, ${id}: ${node.target.join(' ')}`),
  );
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
    await page.waitForTimeout(120);
    wider = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
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

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('the demo workshop', () => {
  let browser: Browser;
  let house: House;
  let tab: Tab;
  let screens: readonly string[] = [];

  beforeAll(async () => {
    browser = await startChromium(chromiumPath ?? '');
    house = await startHouse();
    tab = await openTab(browser, house.address);
  });
  afterAll(async () => {
    await tab[Symbol.asyncDispose]();
    await house[Symbol.asyncDispose]();
    await browser.close();
  });

  it(
    'opens from the first page of an empty workshop',
    async () => {
      await tab.page.getByRole('button', { name: 'Look around the demo workshop' }).click();
      await tab.page.getByRole('heading', { level: 1, name: 'Bench' }).waitFor({ timeout: demoMs });
      await tab.page.getByText('Everything here is invented.').waitFor();
      screens = await screensOf(tab.page);
      expect(screens.length).toBe(72);
    },
    demoMs,
  );

  it.each(knives)('shows of %s what the table of the workshop says', async (serial) => {
    const { page } = tab;
    const { sale, minutes, mat, cons, energy, pack } = knife(serial);
    await goTo(page, 'margins');
    await page.getByLabel('Period').selectOption('all');
    const row = page
      .getByRole('region', { name: 'Margins by knife' })
      .getByRole('row', { name: `${serial} ` });
    await row.waitFor();
    const cells = await row.getByRole('cell').allInnerTexts();
    const amounts = [sale?.price, mat, cons, energy, pack, sale?.fee, sale?.contribution, sale?.perHour];
    const wanted = [...amounts.map((amount) => `$${amount}`), timeOf(minutes)];
    expect(wanted.filter((text) => !cells.includes(text))).toEqual([]);
    await row.getByRole('link', { name: serial }).click();
    await page.getByRole('heading', { level: 1, name: `Cost sheet of ${serial}` }).waitFor();
    const sheet = await page.locator('main').innerText();
    const shown = [sale?.direct, sale?.contribution, sale?.perHour, mat].map((amount) => `$${amount}`);
    expect(shown.filter((text) => !sheet.includes(text))).toEqual([]);
  });

  it(
    'passes axe in light and dark on every screen, and every screen fits into small windows',
    async () => {
      const { page } = tab;
      const found: Record<string, readonly string[]> = {};
      for (const screen of screens) {
        await goTo(page, screen);
        const here = [
          ...(await axeFinds(page, 'light')),
          ...(await axeFinds(page, 'dark')),
          ...(await tooNarrow(page)),
        ];
        if (here.length > 0) found[screen] = here;
      }
      expect(found).toEqual({});
    },
    tourMs,
  );

  it('never left this machine, and logged no error', () => {
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
