/** From an empty folder to an invoice and what the hour earned, with the keyboard alone. */
import type { Browser, Download } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readBack, textOf } from '../documents/read-back.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { Hands } from './support/hands.ts';
import { type House, startHouse } from './support/house.ts';
import { openTab, type Tab } from './support/watch.ts';

const bytesOf = async (download: Download): Promise<Uint8Array> => {
  const parts: Buffer[] = [];
  for await (const part of await download.createReadStream()) parts.push(part as Buffer);
  return new Uint8Array(Buffer.concat(parts));
};

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('a newcomer at the keyboard', () => {
  let browser: Browser;
  let house: House;
  let tab: Tab;
  let hands: Hands;

  beforeAll(async () => {
    browser = await sharedChromium();
    house = await startHouse();
    tab = await openTab(browser, house.address);
    hands = new Hands(tab.page);
  });
  afterAll(async () => {
    await tab[Symbol.asyncDispose]();
    await house[Symbol.asyncDispose]();
  });

  // One story: after a step that failed, the next ones have nothing to stand on.
  let failed = '';
  beforeEach(() => {
    if (failed !== '') throw new Error(`“${failed}” failed before`);
  });
  afterEach(({ task }) => {
    if (task.result?.state === 'fail' && failed === '') failed = task.name;
  });

  it('sets up an empty workshop', async () => {
    await hands.press('Set up my workshop');
    await hands.write('Name of the workshop', 'Quillmarsh Knives');
    await hands.write('Maker', 'Odda Quillmarsh');
    await hands.write('Address', '3 Reed Bank\nOuter Fenwick');
    await hands.choose('Country', 'United States');
    await hands.choose('Currency', 'USD');
    await hands.pick('Lengths in', 'Inches');
    await hands.write('Place', 'Home state');
    await hands.write('What the tax is called', 'Sales tax');
    await hands.write('Rate', '6.5');
    await hands.write('What an hour at the bench is worth to you', '35');
    await hands.write('Overhead for an hour at the bench', '8');
    await hands.write('Invoice numbers', 'QK-{NNNN}');
    await hands.press('Open the workshop');
    await hands.see('Quillmarsh Knives is set up.');
    await hands.arrive('Bench');
  });

  it('buys a bar and belts, making items and supplier on the way', async () => {
    await hands.keys('g', 's');
    await hands.arrive('Stock');
    await hands.keys('n');
    await hands.arrive('New purchase');
    await hands.choose('Supplier', 'Fenny Steel', 'New supplier: Fenny Steel');
    await hands.see('Fenny Steel is a supplier now.');
    await hands.choose('Item', '80CrV2 1/8 × 1 1/2', 'New item: 80CrV2 1/8 × 1 1/2');
    await hands.send('Save the item');
    await hands.write('How many', '1');
    await hands.write('Length of each bar', '48');
    await hands.write('Price of the line', '24');
    await hands.page.keyboard.press('Enter');
    await hands.choose('Item', 'Belt 60 grit', 'New item: Belt 60 grit', 1);
    await hands.pick('Kind', 'Belts');
    await hands.send('Save the item');
    await hands.write('How many', '4', 1);
    await hands.write('Price of the line', '36', 1);
    await hands.write('Freight', '6');
    await hands.see('$66.00');
    await hands.page.keyboard.press('Control+Enter');
    await hands.see('In the books: 2 lots on the rack.');
  });

  it('makes a model with its stages, parts, flat cost and price', async () => {
    await hands.keys('g', 'u');
    await hands.arrive('Builds');
    await hands.follow('Make the first model');
    await hands.arrive('New model');
    await hands.write('Code', 'HUN');
    await hands.write('Name', 'Fenwick hunter');
    await hands.press('Cut and profile');
    await hands.write('Cut and profile', '45 min');
    await hands.press('Shape and finish handle');
    await hands.write('Shape and finish handle', '1 h');
    await hands.choose('Item', '80CrV2');
    await hands.write('Line on the cost sheet', 'Steel');
    await hands.write('Length of the blank', '9 1/4');
    await hands.write('From each bar', '5');
    await hands.press('A flat cost');
    await hands.write('What for', 'Gloves and oil');
    await hands.write('For each knife', '3.10');
    await hands.press('Save the model');
    await hands.arrive('HUN Fenwick hunter');
    await hands.write('New price', '300');
    await hands.press('Set the price');
    await hands.see('The price is saved.');
  });

  it('plans a knife, starts it and takes its usual parts', async () => {
    await hands.keys('n');
    await hands.write('Serial', 'F1');
    await hands.send('Plan it');
    await hands.arrive('F1');
    await hands.press('Start it');
    await hands.see('F1 is in work.');
    await hands.reach(hands.page.getByRole('tab', { name: 'Stages' }));
    await hands.page.keyboard.press('ArrowRight');
    await hands.press('Take all that is missing');
    await hands.see('1 part and 1 flat cost booked on F1.');
    await hands.press('Take something else');
    await hands.choose('Item', 'Belt 60 grit');
    await hands.write('How much', '1/4');
    await hands.send('Take it');
    await hands.see('Belt 60 grit is booked on F1.');
    // A fifth of a bar of 24.00 with its freight of 2.40, a quarter of a belt of 9.00 with 0.90, and 3.10 flat.
    await hands.see('$10.86');
  });

  it('loses nothing when the page is loaded again in the middle', async () => {
    await tab.page.reload();
    await hands.arrive('F1');
    await hands.see('$10.86');
  });

  it('books hours by the clock and from memory', async () => {
    await hands.keys('g', 'h');
    await hands.arrive('Hours');
    await hands.press('Cut and profile');
    await hands.press(/^F1/);
    await hands.press('Start');
    await hands.see('The clock runs.');
    await tab.page.reload();
    await hands.see('Running now');
    await hands.press('Stop and book');
    await hands.see(/^Stopped\./);
    await hands.write('What you did', '2 h shape and finish handle on F1');
    await hands.press('Book it as a guess');
    await hands.see('2 h booked as a guess.');
  });

  it('finishes the knife and reads its cost sheet, working and all', async () => {
    await hands.keys('g', 'u');
    await hands.arrive('Builds');
    await hands.follow('F1');
    await hands.press('Mark it finished');
    await hands.see('F1 is finished.');
    await hands.follow('$10.86');
    await hands.arrive('Cost sheet of F1');
    await hands.press(/^Steel: \$5\.28/);
    const working = tab.page.locator('[aria-label="Working of Steel"]');
    expect(await working.innerText()).toContain('80CrV2');
    await tab.page.keyboard.press('Escape');
    await working.waitFor({ state: 'hidden' });
    await hands.see('$70.00');
  });

  it('sells it, holds the invoice as a paper, and sees what the hour earned', async () => {
    await hands.follow('Sell it');
    await hands.arrive('Sell F1');
    await hands.choose('Buyer', 'Maud Tern', 'New buyer: Maud Tern');
    await hands.write('Street', '9 Sluice Row');
    await hands.write('Town', 'Lower Fenwick');
    await hands.pick('Tax charged', 'Home state');
    await hands.send('Save the buyer');
    await hands.pick('Sold through', 'Own website');
    await hands.write('Shipping charged', '18');
    await hands.write('Postage paid', '14.50');
    await hands.press('Sell it and issue the invoice');
    await hands.arrive('Invoice QK-0001');
    await hands.press('More');
    const [download] = await Promise.all([
      tab.page.waitForEvent('download'),
      (async () => {
        await tab.page.getByRole('menuitem', { name: 'Save the paper' }).waitFor();
        await tab.page.keyboard.press('Enter');
      })(),
    ]);
    const paper = textOf(await readBack(await bytesOf(download)));
    const wanted = [
      'Quillmarsh Knives',
      'QK-0001',
      'Maud Tern',
      '9 Sluice Row',
      'Fenwick hunter',
      '300.00',
      '18.00',
    ];
    // 6.5 % of 318.00 is 20.67.
    expect([...wanted, '20.67', '338.67'].filter((text) => !paper.includes(text))).toEqual([]);
    await hands.keys('g', 'm');
    await hands.arrive('Where the money went');
    // 300.00 + 18.00 - 14.50 - a fee of 2.9 % of 338.67 and 0.30 (10.12) - 10.86, earned in 2 h.
    const row = tab.page.getByRole('row', { name: /^F1 / });
    await row.waitFor();
    expect(await row.getByRole('cell').allInnerTexts()).toEqual(
      expect.arrayContaining(['$282.52', '$141.26']),
    );
  });

  it('never left this machine, and no error was logged', () => {
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
