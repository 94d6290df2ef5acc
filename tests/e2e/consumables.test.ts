/** A belt's life at the grinder, in the real application: on by key and by touch, taken back, dull, counted. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { micro, stockShelf } from '../workshop/shelf.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { Hands } from './support/hands.ts';
import { goTo, openTab } from './support/watch.ts';

const PIECE = 1_000_000;

/** Four belts whose stock falls when one is opened, and two knives in work with the clock on both. */
const grinding = (): Promise<string> =>
  readyShop(async (rig) => {
    const shelf = await stockShelf(rig);
    const belt = {
      id: shelf.itemIds.belt,
      name: 'Belt 36 ceramic',
      kind: 'belt',
      form: 'piece',
      unit: 'piece',
      pieceWord: 'belt',
      consumedBy: 'opening',
      gritScale: 'cami',
      grit: '36',
      backing: 'Y',
    } as const;
    await rig.call('stock.saveItem', belt);
    await shelf.buy('belt', 4, PIECE, 39.2);
    const buildIds = [...(await shelf.plan(2))];
    for (const id of buildIds) await rig.call('builds.start', { id, on: '2024-07-06' });
    await rig.call('hours.start', { stageCode: 'GR2', workKind: null, buildIds });
  });

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('consumables at the grinder', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('puts a new belt on by key for the knives of the clock, by touch for the next, and takes one back', async () => {
    await using house = await startHouse({ folder: await grinding() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    // What is typed before the sheet is there is for its field.
    await hands.keys('b', '3', '7', 'Backspace', '6');
    await page.getByRole('dialog').waitFor();
    await page.waitForFunction(
      () => document.querySelector<HTMLInputElement>('[role=dialog] input')?.value === '36',
    );
    await hands.press(/^New Belt 36 ceramic on:.* 4 belts left/);
    await hands.see('New belt 36 Y on. Shared over W01, W02.');
    await goTo(page, 'consumables');
    await page.getByRole('button', { name: /^New Belt 36 ceramic on:.* 3 belts left/ }).click();
    await page.getByRole('button', { name: /^New Belt 36 ceramic on:.* 2 belts left/ }).waitFor();
    await page.getByRole('button', { name: 'Take back', exact: true }).last().click();
    await page.getByRole('button', { name: /^New Belt 36 ceramic on:.* 3 belts left/ }).waitFor();
    await page.getByRole('button', { name: /^New Belt 36 ceramic on:.* 3 belts left/ }).click();
    await page.getByRole('button', { name: /^New Belt 36 ceramic on:.* 2 belts left/ }).waitFor();
    // Half of two belts at 9.80 on each knife.
    await goTo(page, 'builds');
    await page.locator('main tbody').getByRole('link', { name: /W01/ }).click();
    await hands.arrive(/W01/);
    await page
      .getByText(`$${(micro(9.8) / PIECE).toFixed(2)}`)
      .first()
      .waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('hangs the old belt on the board, gives it a second life, and counts what is left over a period', async () => {
    await using house = await startHouse({ folder: await grinding() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    for (const left of ['4 belts', '3 belts']) {
      await goTo(page, 'consumables');
      await page.getByRole('button', { name: new RegExp(`^New Belt 36 ceramic on:.* ${left} left`) }).click();
      await page.getByText('Shared over W01, W02.').first().waitFor();
    }
    await goTo(page, 'consumables/peg');
    await page
      .getByRole('button', { name: /^Belt 36 ceramic, dull since .* Choose what becomes of it$/ })
      .click();
    await page.getByRole('button', { name: 'Gone: throw it away' }).click();
    await hands.see('No peg is taken.');
    await goTo(page, 'consumables/life');
    await page.getByRole('cell', { name: 'too few to say' }).first().waitFor();
    await goTo(page, 'consumables');
    const row = page.getByRole('row', { name: /Belt 36 ceramic/ });
    await row.getByRole('button', { name: 'More' }).click();
    await page.getByRole('menuitem', { name: 'Count' }).click();
    await hands.write('Really there', '1.5');
    await page.getByLabel('The difference').selectOption('builds');
    await hands.press('Record the count');
    await hands.see(/0.5 belt missing, worth \$4.90: shared over W01, W02/);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('shares an opening anew, and says of an opened belt that no knife carries it', async () => {
    await using house = await startHouse({ folder: await grinding() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'consumables');
    await page.getByRole('button', { name: /^New Belt 36 ceramic on:.* 4 belts left/ }).click();
    await page.getByText('Shared over W01, W02.').first().waitFor();
    await goTo(page, 'consumables/openings');
    const share = page.getByRole('button', { name: /^Share Belt 36 ceramic of/ });
    const dialog = page.getByRole('dialog');
    await share.click();
    await dialog.getByRole('button', { name: /^W02/, pressed: true }).click();
    await dialog.getByRole('button', { name: 'Share it', exact: true }).click();
    await dialog.waitFor({ state: 'hidden' });
    await page.getByRole('cell', { name: 'W01', exact: true }).waitFor();
    await share.click();
    await dialog.getByRole('button', { name: /^W01/, pressed: true }).click();
    await dialog.getByRole('button', { name: 'Share it later' }).click();
    await page.getByText('1 opening not yet shared, $9.80 that no knife carries.').waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
