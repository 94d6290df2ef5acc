/** The clock in full, in a real browser: a batch by one digit, set-up, a wait that is over, a helper, and the week put right. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { type House, startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab, settled } from './support/watch.ts';

const clock = (page: Page) => page.getByRole('form', { name: 'Clock' });

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('hours', () => {
  let browser: Browser;
  let house: House;
  beforeAll(async () => {
    browser = await sharedChromium();
    const folder = await readyShop(async (rig) => {
      const { modelId } = await stockShelf(rig);
      await rig.call('builds.plan', { modelId, on: '2024-07-06', count: 3, batch: 'HT-07' });
      const helper = await rig.call('hours.savePerson', { name: 'Pim Thornapple' });
      await rig.call('hours.setPersonRate', {
        personId: helper.id,
        from: '2024-07-01',
        perHourMicro: 18_000_000,
      });
      // Over for long when the program is opened.
      await rig.call('waits.start', { kind: 'glue', label: 'Epoxy cures', minutes: 960 });
    });
    house = await startHouse({ folder });
  });
  afterAll(async () => {
    await house[Symbol.asyncDispose]();
  });

  it('tell what is over, clock a batch by digits, and end the day with the usual wait', async () => {
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    // What ended while the program was closed is said on every screen, and in the title.
    await page.getByRole('alert').getByText('Epoxy cures').waitFor();
    await page.waitForFunction(() => document.title.startsWith('(1) '));
    await hands.press('Seen to');
    await page.getByText('Epoxy cures: seen to.').waitFor();
    await page.waitForFunction(() => !document.title.startsWith('('));

    await goTo(page, 'hours');
    await hands.keys('1');
    await clock(page).getByText('Since').waitFor();
    expect(await clock(page).innerText()).toMatch(/Cut and profile\s+W01, W02, W03 share the time equally/);
    // The digits are the stages of the same knives, and stay theirs: the first one runs.
    expect(await clock(page).getByRole('button', { name: 'Cut and profile runs now' }).isDisabled()).toBe(
      true,
    );
    await hands.keys('2');
    await clock(page).getByText('Grind after hardening', { exact: true }).first().waitFor();
    await page.waitForFunction(() =>
      /Grind after hardening\s+W01/.test(document.querySelector('main')?.innerText ?? ''),
    );
    // The palette goes to any stage by a few letters.
    await hands.keys('p');
    await page.getByRole('combobox', { name: 'Stage, batch or other work' }).fill('handle prep');
    await page.keyboard.press('Enter');
    await page.waitForFunction(() =>
      /Handle prepare and glue\s+W01/.test(document.querySelector('main')?.innerText ?? ''),
    );
    await hands.keys('?');
    await page
      .getByRole('dialog')
      .getByText(/Switch to Cut and profile on W01/)
      .waitFor();
    await page.keyboard.press('Escape');

    // The helper’s clock runs beside the maker’s.
    await page.getByRole('button', { name: 'Pim Thornapple' }).click();
    await page.getByRole('button', { name: 'Cleaning' }).click();
    await clock(page).getByRole('button', { name: 'Start', exact: true }).click();
    await page.getByText('The clock runs.').waitFor();
    await page.getByRole('button', { name: 'Throw it away' }).click();
    await page.getByRole('alertdialog').getByRole('button', { name: 'Throw it away' }).click();
    await page.getByText('nothing was booked').waitFor();
    await page.getByRole('button', { name: 'Jorun Sedgewarren' }).click();

    // Half a minute must have run for anything to be booked.
    house.ahead(31_000);
    await clock(page).getByRole('button', { name: 'Stop and book' }).click();
    await page.getByText('Stopped. 1 min booked.').waitFor();
    // What was worked on is ticked off on the spot, for all knives that were on the clock.
    await page.getByRole('button', { name: 'Handle prepare and glue is done' }).click();
    await page.getByText('Handle prepare and glue is done on W01, W02, W03.').waitFor();
    await page
      .getByRole('region', { name: 'What usually follows' })
      .getByRole('button', { name: /16 h/ })
      .click();
    await goTo(page, 'hours/waits');
    expect(await page.locator('main').innerText()).toMatch(/Epoxy cures[\s\S]*W01, W02, W03[\s\S]*1[56] h/);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  }, 180_000);

  it('tell a wait that ends while one looks on', async () => {
    await using again = await startHouse({
      folder: await readyShop(async (rig) => {
        await stockShelf(rig);
      }),
    });
    await using tab = await openTab(browser, again.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'hours/waits');
    await hands.press('Begin a wait');
    await hands.pick('What waits', 'Etch');
    await hands.write('How long', '1 min');
    await hands.send('Begin the wait');
    await page.getByText('The wait has begun.').waitFor();
    await goTo(page, 'stock/items');
    const notice = page.getByRole('status').getByText('Etch soak');
    expect(await notice.count()).toBe(0);
    // Over, as the host sees it; the screen looks again by itself, on its beat of a quarter of a minute.
    again.ahead(60_000);
    await notice.waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Give it longer' }).click();
    await page.getByRole('menuitem', { name: '30 min longer' }).click();
    await notice.waitFor({ state: 'hidden' });
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  }, 180_000);

  it('put a week right where it stands, and refuse an end before the start', async () => {
    await using again = await startHouse({
      folder: await readyShop(async (rig) => {
        const [knife = ''] = await (await stockShelf(rig)).plan(1);
        const work = { stageCode: 'CUT', workKind: null, shares: [{ buildId: knife }] };
        await rig.call('hours.book', { ...work, on: '2024-07-03', minutes: 45, note: 'template' });
      }),
    });
    await using tab = await openTab(browser, again.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'hours/week/2024-07-03');
    await hands.press('Correct Cut and profile, 45 min');
    await hands.write('Time', '1 h 10');
    await hands.press('Correct it');
    await page.getByText('Corrected; the version before is kept.').waitFor();
    await settled(page);
    expect(await page.locator('main').innerText()).toMatch(/1 h 10 min\s+Cut and profile/);
    await page.getByRole('button', { name: 'More' }).first().click();
    await page.getByRole('menuitem', { name: 'Earlier versions' }).click();
    await page.getByRole('dialog').getByText('weekly correction').waitFor();
    await page.keyboard.press('Escape');

    await page.getByRole('button', { name: 'Add what is missing on Wednesday' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: 'Cleaning' }).click();
    await dialog.getByRole('button', { name: 'Cleaning', pressed: true }).waitFor();
    await hands.write('From', '14:00');
    await hands.write('To', '13:30');
    await dialog.getByText('The session ends before it starts.').waitFor();
    await hands.write('To', '14:25');
    await dialog.getByText('ends before it starts').waitFor({ state: 'hidden' });
    await hands.press('Book it');
    await dialog.waitFor({ state: 'hidden' });
    await settled(page);
    expect(await page.locator('main').innerText()).toMatch(/25 min\s+Cleaning[\s\S]*14:00 to 14:25/);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  }, 120_000);
});
