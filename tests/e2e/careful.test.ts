/** Nothing is lost by a slip: half-written forms ask before they go, and the books can go back to a safety copy. */
import type { Browser, Locator } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab, settled, type Tab } from './support/watch.ts';

const hold = (tab: Tab): Locator => tab.page.getByRole('alertdialog');
const at = (tab: Tab): Promise<string> => tab.page.evaluate(() => location.hash);

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('what was written', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  const ready = async (): Promise<string> =>
    readyShop(async (rig) => {
      await rig.call('selling.saveBuyer', { name: 'Ottoline Fernshaw' });
    });

  it('in a dialog stays when Escape, the cross or a press beside it was a slip', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'workshop/channels');
    const sheet = page.getByRole('dialog', { name: 'New channel' });
    const open = async (): Promise<void> => {
      await page.getByRole('button', { name: 'New channel' }).first().click();
      await sheet.waitFor();
    };
    await open();
    await page.keyboard.press('Escape');
    await sheet.waitFor({ state: 'hidden' });

    await open();
    await sheet.getByLabel('Name').fill('Autumn show');
    const slips = [
      () => page.keyboard.press('Escape'),
      () => sheet.getByRole('button', { name: 'Close' }).click(),
      () => page.mouse.click(5, 5),
    ];
    for (const slip of slips) {
      await slip();
      await hold(tab).getByRole('button', { name: 'Stay and finish it' }).click();
      await hold(tab).waitFor({ state: 'hidden' });
      expect(await sheet.getByLabel('Name').inputValue()).toBe('Autumn show');
    }
    // What is written and taken back again is nothing to ask about.
    await sheet.getByLabel('Name').fill('');
    await page.keyboard.press('Escape');
    await sheet.waitFor({ state: 'hidden' });

    await open();
    await sheet.getByLabel('Name').fill('Autumn show');
    await page.keyboard.press('Escape');
    await hold(tab).getByRole('button', { name: 'Throw it away' }).click();
    await sheet.waitFor({ state: 'hidden' });
    expect(await page.getByText('Autumn show').count()).toBe(0);

    await open();
    await sheet.getByLabel('Name').fill('Autumn show');
    // What cannot be read is said, not left out as if the field were empty.
    const share = sheet.getByLabel('Fee', { exact: true });
    await share.fill('three');
    await page.keyboard.press('Enter');
    await sheet.getByText('“three” is not a rate. Write it in percent, for example 6.5.').waitFor();
    expect(await share.evaluate((field) => field === document.activeElement)).toBe(true);
    await share.fill('3');
    await sheet.getByRole('button', { name: 'Save the channel' }).click();
    await sheet.waitFor({ state: 'hidden' });
    await goTo(page, 'buyers');
    await page.getByRole('heading', { level: 1, name: 'Buyers' }).waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('on a screen stays when a link, a key or the browser’s own back leads away', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const stay = async (): Promise<void> => {
      await hold(tab).getByRole('button', { name: 'Stay and finish it' }).click();
      await hold(tab).waitFor({ state: 'hidden' });
    };
    await goTo(page, 'buyers');
    await goTo(page, 'workshop/details');
    const maker = page.getByLabel('Maker');
    await maker.fill('Odda Quillmarsh');
    const entries = await page.evaluate(() => history.length);

    await page.getByRole('link', { name: 'Hours' }).first().click();
    await stay();
    await expect.poll(() => at(tab)).toBe('#/workshop/details');
    expect(await maker.inputValue()).toBe('Odda Quillmarsh');

    await page.evaluate(() => history.back());
    await stay();
    await expect.poll(() => at(tab)).toBe('#/workshop/details');
    expect(await maker.inputValue()).toBe('Odda Quillmarsh');
    // Staying leaves the way back where it was: one step still leads to the buyers.
    expect(await page.evaluate(() => history.length)).toBeLessThanOrEqual(entries + 1);

    await page.evaluate(() => history.back());
    await hold(tab).getByRole('button', { name: 'Throw it away' }).click();
    await page.getByRole('heading', { level: 1, name: 'Buyers' }).waitFor();
    await page.evaluate(() => history.forward());
    await page.getByRole('heading', { level: 1, name: 'Workshop' }).waitFor();
    expect(await page.getByLabel('Maker').inputValue()).not.toBe('Odda Quillmarsh');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('is asked about before the tab is closed, and only then', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const asked: string[] = [];
    page.on('dialog', (question) => {
      asked.push(question.type());
      void question.dismiss();
    });
    await goTo(page, 'workshop/details');
    await page.reload();
    await settled(page);
    expect(asked).toEqual([]);
    await page.getByLabel('Maker').click();
    await page.keyboard.type('x');
    await page.close({ runBeforeUnload: true });
    await expect.poll(() => asked).toEqual(['beforeunload']);
    expect(await page.getByLabel('Maker').inputValue()).toContain('x');
  });

  it('in one tab is not written over unseen by another, which follows the books', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'buyers');
    await page.getByRole('link', { name: 'Ottoline Fernshaw' }).click();
    await page.getByRole('button', { name: 'Change', exact: true }).waitFor();
    // A duplicate of a tab takes its key along.
    const key = await page.evaluate(() => sessionStorage.getItem('knifewright.key') ?? '');
    const other = await page.context().newPage();
    await other.addInitScript((secret) => sessionStorage.setItem('knifewright.key', secret), key);
    await other.goto(page.url());
    const write = async (where: typeof page, label: string, text: string): Promise<void> => {
      await where.getByRole('button', { name: 'Change', exact: true }).click();
      await where.getByRole('dialog').getByLabel(label).fill(text);
    };
    const save = (where: typeof page) => where.getByRole('button', { name: 'Save the buyer' }).click();
    await write(other, 'Telephone', '555 0100');
    await write(page, 'Email', 'ottoline@fernshaw.example');
    await save(page);
    await other.locator('main').getByText('ottoline@fernshaw.example').waitFor();
    await save(other);
    await other.getByRole('alert').getByText('changed in another tab').waitFor();
    expect(await other.getByRole('dialog').getByLabel('Telephone').inputValue()).toBe('555 0100');
    await save(other);
    await page.locator('main').getByText('555 0100').waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('can be had back: the books go to a safety copy and forward again', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'workshop/copies');
    await page.getByRole('button', { name: 'Copy now' }).click();
    await page.getByRole('cell', { name: 'Asked for' }).first().waitFor();
    await goTo(page, 'buyers');
    await page.getByRole('button', { name: 'New buyer' }).first().click();
    await page.getByRole('dialog').getByLabel('Name').fill('Maud Tern');
    await page.getByRole('dialog').getByRole('button', { name: 'Save the buyer' }).click();
    await page.getByRole('dialog').waitFor({ state: 'hidden' });

    await goTo(page, 'workshop/copies');
    const back = page.getByRole('row', { name: 'Asked for' }).getByRole('button', { name: /^Go back/ });
    await back.click();
    const sheet = page.getByRole('dialog', { name: /^Go back to the copy/ });
    await sheet.getByText('Saved a buyer: Maud Tern').waitFor();
    expect(await sheet.innerText()).toMatch(/1 entry written since\s+is not in that copy/);
    await sheet.getByRole('button', { name: 'Leave it' }).click();
    await sheet.waitFor({ state: 'hidden' });
    await back.click();
    await sheet.getByRole('button', { name: 'Go back to this copy' }).click();
    await page.getByText(/^The books stand as they did/).waitFor();
    await page.getByRole('cell', { name: 'Books set aside' }).waitFor();
    await goTo(page, 'buyers');
    await page.getByText('Ottoline Fernshaw').first().waitFor();
    expect(await page.locator('tbody').getByText('Maud Tern').count()).toBe(0);

    await goTo(page, 'workshop/copies');
    await page
      .getByRole('row', { name: 'Books set aside' })
      .getByRole('button', { name: /^Go back/ })
      .click();
    await sheet.getByText('more than the present books').waitFor();
    await sheet.getByRole('button', { name: 'Go back to this copy' }).click();
    await sheet.waitFor({ state: 'hidden' });
    await goTo(page, 'buyers');
    await page.locator('tbody').getByText('Maud Tern').waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('is never hidden by a message, however small the window', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address, { viewport: { width: 1024, height: 640 } });
    const { page } = tab;
    await goTo(page, 'workshop/channels');
    const save = async (name: string): Promise<void> => {
      await page.getByRole('button', { name: 'New channel' }).first().click();
      await page.getByRole('dialog').getByLabel('Name').fill(name);
      await page.getByRole('dialog').getByRole('button', { name: 'Save the channel' }).click();
      await page.getByRole('dialog').waitFor({ state: 'hidden' });
    };
    await save('Autumn show');
    await save('Spring show');
    await page.getByRole('button', { name: 'New channel' }).first().click();
    const sheet = page.getByRole('dialog');
    await sheet.waitFor();
    const messages = page.locator('.toasts');
    expect(await messages.locator('.toast').count()).toBe(2);
    const low = await sheet.boundingBox();
    const high = await messages.boundingBox();
    expect((low?.y ?? 0) + (low?.height ?? 0)).toBeLessThanOrEqual(high?.y ?? 0);
    // Closing a message leaves the dialog and what is written in it alone.
    await sheet.getByLabel('Name').fill('Third');
    await messages.getByRole('button', { name: 'Close this message' }).first().click();
    await expect.poll(() => messages.locator('.toast').count()).toBe(1);
    expect(await sheet.getByLabel('Name').inputValue()).toBe('Third');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
