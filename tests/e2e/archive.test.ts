/** A year is closed, everything is taken out, and another machine proves it and goes on with the same books. */
import type { Browser } from 'playwright-core';
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { newFolder, startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('everything in one file', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('goes from a closed year in one browser to the same books in another', async () => {
    const saved = join(newFolder(), 'כל דבר.zip');
    const seal = await (async () => {
      const folder = await readyShop(async (rig) => {
        const shelf = await stockShelf(rig);
        await shelf.buy('walnut', 2, 1_000_000, 28);
      });
      await using house = await startHouse({ folder });
      await using tab = await openTab(browser, house.address);
      const { page } = tab;
      await goTo(page, 'year/close');
      await page.getByRole('checkbox').first().waitFor();
      for (const box of await page.getByRole('checkbox').all()) await box.check();
      await page.getByRole('button', { name: /^Close 2024/ }).click();
      await page
        .getByRole('alertdialog')
        .getByRole('button', { name: /^Close 2024/ })
        .click();
      await page.getByRole('button', { name: 'Is it still the same?' }).click();
      await page.getByText('Every row is as it was sealed.').waitFor();
      const mark = await page.locator('code').first().innerText();
      await goTo(page, 'year/archive');
      await page.getByRole('button', { name: 'Take everything out' }).click();
      await page.getByText('Everything is in').waitFor();
      const download = page.waitForEvent('download');
      await page.getByRole('button', { name: /^Save a copy/ }).click();
      await (await download).saveAs(saved);
      expect((await download).suggestedFilename()).toMatch(/^Sedgewarren Edge Shop .*\.zip$/);
      expect([tab.abroad, tab.errors]).toEqual([[], []]);
      return mark;
    })();
    expect(seal).toMatch(/^[0-9a-f]{64}$/);

    await using other = await startHouse();
    await using tab = await openTab(browser, other.address);
    const { page } = tab;
    await page.getByRole('button', { name: 'Bring in an archive' }).click();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Add an archive file' }).click();
    // By its bytes: without a locale the browser cannot read a name like this one off the disk.
    const file = { name: basename(saved), mimeType: 'application/zip', buffer: readFileSync(saved) };
    await (await chooser).setFiles(file);
    await page.getByRole('button', { name: 'Look into כל דבר.zip' }).click();
    await page.getByText('Every row is as it was sealed.').waitFor();
    expect(await page.locator('code').filter({ hasText: seal }).count()).toBe(1);
    await page.getByRole('button', { name: 'Bring in כל דבר.zip' }).click();
    await page.getByRole('button', { name: 'Open the workshop' }).click();
    await page.getByRole('heading', { name: 'Bench' }).waitFor();
    await goTo(page, 'stock');
    await page.getByText('Walnut pair').first().waitFor();
    await goTo(page, 'year/close');
    expect(await page.locator('main').innerText()).toContain(seal);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
