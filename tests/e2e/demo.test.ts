/** The invented workshop on the screen: made from an empty one, with its figures, and kept. */
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expected, type Expected } from '../demo/table.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { type House, startHouse } from './support/house.ts';
import { goTo, openTab, type Tab } from './support/watch.ts';

const demoMs = 300_000;
const knives = ['W01', 'W03', 'W05', 'W06', 'W10', 'W13'];

const knife = (serial: string): Expected => {
  const found = expected.find((one) => one.serial === serial);
  if (found === undefined) throw new Error(`${serial} is not in the table`);
  return found;
};

const timeOf = (minutes: number): string =>
  `${Math.floor(minutes / 60)} h${minutes % 60 === 0 ? '' : ` ${minutes % 60} min`}`;

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('the demo workshop', () => {
  let browser: Browser;
  let house: House;
  let tab: Tab;

  beforeAll(async () => {
    browser = await sharedChromium();
    house = await startHouse();
    tab = await openTab(browser, house.address);
  });
  afterAll(async () => {
    await tab[Symbol.asyncDispose]();
    await house[Symbol.asyncDispose]();
  });

  it(
    'is made whole from the first page of an empty workshop',
    async () => {
      await tab.page.getByRole('button', { name: 'Look around the demo workshop' }).click();
      await tab.page.getByRole('heading', { level: 1, name: 'Bench' }).waitFor({ timeout: demoMs });
      await tab.page.getByText('Everything here is invented.').waitFor();
      // Its own clock, not that of the machine.
      await tab.page.getByText('4 Jan 2026.').waitFor();
      const { said, folder } = house;
      expect([
        said().includes('Setting up the demo workshop'),
        said().includes('Demo workshop: December 2024'),
      ]).toEqual([true, true]);
      expect(readdirSync(folder).filter((name) => name.startsWith('shop'))).toEqual(['shop', 'shop-demo']);
      await goTo(tab.page, 'workshop/details');
      expect(await tab.page.getByLabel('Name of the workshop').inputValue()).toBe('Sedgewarren Edge Shop');
    },
    demoMs,
  );

  it.each(knives)('shows of %s what the table of the workshop says', async (serial) => {
    const { page } = tab;
    const { sale, minutes, mat, cons, energy, pack } = knife(serial);
    // Wide enough for every column.
    await page.setViewportSize({ width: 1920, height: 1000 });
    await goTo(page, 'margins');
    await page.getByLabel('Period').selectOption('all');
    const row = page
      .getByRole('region', { name: 'Margins by knife' })
      .getByRole('row', { name: `${serial} ` });
    await row.waitFor();
    const cells = await row.getByRole('cell').allInnerTexts();
    const amounts = [sale?.price, sale?.direct, sale?.fee, sale?.contribution, sale?.perHour];
    const wanted = [...amounts.map((amount) => `$${amount}`), timeOf(minutes)];
    expect(wanted.filter((text) => !cells.includes(text))).toEqual([]);
    await row.getByRole('link', { name: serial }).click();
    await page.getByRole('heading', { level: 1, name: `Cost sheet of ${serial}` }).waitFor();
    const sheet = await page.locator('main').innerText();
    const parts = [mat, cons, energy, pack];
    const shown = [sale?.direct, sale?.contribution, sale?.perHour, ...parts].map((amount) => `$${amount}`);
    expect(shown.filter((text) => !sheet.includes(text))).toEqual([]);
  });

  it('never left this machine, and logged no error', () => {
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('is kept for the next start, and leaves the own workshop as it was', async () => {
    const { folder } = house;
    const madeAs = statSync(join(folder, 'shop-demo')).ino;
    await house.kill();
    await using again = await startHouse({ folder, demo: true });
    expect(again.said()).not.toContain('Setting up');
    expect(statSync(join(folder, 'shop-demo')).ino).toBe(madeAs);
    await using next = await openTab(browser, again.address);
    await next.page.getByRole('button', { name: 'Back to my workshop' }).click();
    await next.page.getByRole('button', { name: 'Set up my workshop' }).waitFor();
    expect([next.abroad, next.errors]).toEqual([[], []]);
  });
});
