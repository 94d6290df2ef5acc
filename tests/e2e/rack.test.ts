/** The rack in the real application: papers of a lot, its chain, a return, a label, a scanned tag, what stock was worth. */
import { readFile } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { readBack, textOf } from '../documents/read-back.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { first, stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

const INCH = 25_400_000;

const ready = (): Promise<string> =>
  readyShop(async (rig) => {
    const shelf = await stockShelf(rig);
    const lotId = first(await shelf.buy('bar', 1, 48 * INCH, 24));
    await shelf.buy('walnut', 3, 1_000_000, 30);
    const buildId = first(await shelf.plan());
    const order = { buildId, itemId: shelf.itemIds.bar, lotId, qty: 12 * INCH };
    await rig.call('stock.draw', { ...order, use: 'material', on: '2024-07-06' });
  });

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('the rack', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('writes down papers, shows the chain both ways and sends goods back, by keyboard alone', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    // A scanner types the tag; finding it is enough to get there.
    await goTo(page, 'bench');
    await page.keyboard.press('/');
    await page.getByRole('dialog').getByRole('combobox').waitFor();
    await page.keyboard.type('L-0002');
    await page
      .getByRole('option', { name: /L-0002/ })
      .first()
      .waitFor();
    await page.keyboard.press('Enter');
    await hands.see('L-0002 · Walnut pair');
    await hands.press('Place and papers');
    await hands.write('Scientific name', 'Juglans regia');
    await hands.write('Listing', 'Appendix III');
    await hands.write('Document number', 'DOC-17');
    await hands.send('Save');
    await hands.see('Check the rule in force');
    await hands.press('Take out');
    await hands.pick('Why', 'Sent back');
    await hands.write('How much', '1');
    await hands.write('Credit from the supplier', '8');
    await hands.write('Reason in words', 'cracked');
    await hands.send('Take it out');
    await hands.see('cracked. Credit $8.00 for what was worth $10.00: $2.00 lost.');
    await hands.see('Greyfen Bar & Strip');
    await goTo(page, 'stock');
    await page.getByLabel('With papers only').check();
    await hands.see('1 lot, worth $20.00');
    await page.getByLabel('With papers only').uncheck();
    await page.getByRole('link', { name: 'L-0001' }).click();
    const forward = page.getByRole('region', { name: 'What came out of it' });
    await forward.getByText('12 in').waitFor();
    expect(await forward.innerText()).toMatch(/Tessel paring[\s\S]*12 in[\s\S]*\$6\.00/);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('refuses a file that is no picture or too large before it is read, and keeps a good one', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'stock');
    await page.getByRole('link', { name: 'L-0001' }).click();
    const picker = page.locator('input[type=file]');
    await picker.setInputFiles({
      name: 'grain.png',
      mimeType: 'image/png',
      buffer: Buffer.from('no picture'),
    });
    await page.getByText('grain.png is not a picture or a PDF that is kept here.').waitFor();
    // A picture by its first bytes, and far too large.
    await page.evaluate(() => {
      const list = new DataTransfer();
      const head = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
      list.items.add(new File([head, new Uint8Array(80 * 1024 * 1024)], 'huge.png', { type: 'image/png' }));
      const input = document.querySelector<HTMLInputElement>('input[type=file]');
      if (input === null) throw new Error('there is no way to choose a file');
      input.files = list.files;
      input.dispatchEvent(new Event('change', { bubbles: true }));
    });
    await page.getByText('huge.png is larger than 32 MB.').waitFor();
    await page.getByText('Nothing is pinned yet').waitFor();
    const paper = Buffer.from('%PDF-1.4 a mill certificate');
    await picker.setInputFiles({ name: 'mill.pdf', mimeType: 'application/pdf', buffer: paper });
    await page.getByText('1 file added to L-0001.').waitFor();
    await page.getByRole('button', { name: 'Caption of mill.pdf' }).click();
    await page.getByRole('dialog').getByLabel('Caption').fill('Mill certificate');
    await page.getByRole('dialog').getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByRole('region', { name: 'Papers', exact: true }).getByText('Mill certificate').waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('prints the labels chosen and tells what the stock was worth on a day', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'stock');
    await page.getByRole('button', { name: 'Print labels' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: 'Make the labels' }).click();
    await dialog.getByText('Choose what to print labels for.').waitFor();
    await dialog.getByLabel('Sheet').selectOption({ label: 'A4 sheet of 24, 70 × 37 mm' });
    await dialog.getByLabel('Labels already used on the first sheet').fill('5');
    await dialog.getByLabel(/L-0002/).check();
    const saved = page.waitForEvent('download');
    await dialog.getByRole('button', { name: 'Make 1 label' }).click();
    const paper = await readBack(new Uint8Array(await readFile(await (await saved).path())));
    expect(textOf(paper)).toBe('L-0002 Walnut pair 3 pairs In since 2 Jul 2024');
    await goTo(page, 'stock/value');
    await page.getByRole('textbox', { name: 'At the end of' }).fill('2024-07-02');
    await page.getByText('2 items worth $54.00 at the end of 2 Jul 2024').waitFor();
    await page.getByRole('textbox', { name: 'At the end of' }).fill('2024-07-06');
    await page.getByText('2 items worth $48.00 at the end of 6 Jul 2024').waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
