/** The invented workshop on the screen: opened from an empty one, with its figures. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expected, type Expected } from '../demo/table.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { type House, startHouse } from './support/house.ts';
import { goTo, openTab, type Tab } from './support/watch.ts';

const demoMs = 180_000;
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
    'opens from the first page of an empty workshop',
    async () => {
      await tab.page.getByRole('button', { name: 'Look around the demo workshop' }).click();
      await tab.page.getByRole('heading', { level: 1, name: 'Bench' }).waitFor({ timeout: demoMs });
      await tab.page.getByText('Everything here is invented.').waitFor();
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
});
