/** A billet from the first stack to two lots on the rack, with the keyboard alone. */
import type { Browser, Download } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { readBack, textOf } from '../documents/read-back.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

const bytesOf = async (download: Download): Promise<Uint8Array> => {
  const parts: Buffer[] = [];
  for await (const part of await download.createReadStream()) parts.push(part as Buffer);
  return new Uint8Array(Buffer.concat(parts));
};

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('a billet', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('is begun, weighed, timed, finished and printed', async () => {
    const folder = await readyShop(async (rig) => {
      const shelf = await stockShelf(rig);
      await shelf.buy('bar', 1, 48 * 25_400_000, 24);
      await rig.call('stock.saveItem', { name: 'Good bar', kind: 'steel', form: 'weight', unit: 'g' });
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const hands = new Hands(tab.page);

    await goTo(tab.page, 'stock/makings');
    await hands.see('Nothing is made here yet');
    await hands.keys('n');
    await hands.write('What it is', 'PW-07');
    await hands.write('Layers of the first stack', '15');
    await hands.press('Begin');
    await hands.arrive('M-0001 · PW-07');

    await hands.keys('t');
    await hands.choose('Item', 'Stainless bar');
    await hands.write('How much', '48 in');
    await hands.write('For what', '8 strips');
    await hands.send('Take it');
    await hands.press('Charge a cost');
    await hands.write('What for', 'Flux');
    await hands.write('Amount', '6.01');
    await hands.send('Charge it');
    await hands.see('$30.01');

    await hands.keys('w');
    await hands.write('Weight after it', '1000 g');
    await hands.send('Write it down');
    await hands.keys('w');
    await hands.write('Weight after it', '1100 g');
    await hands.press('Write it down');
    await hands.see('38.80 oz (1,100 g) is more than the 35.27 oz (1,000 g) of the weighing before it');
    await hands.write('Weight after it', '900 g');
    await hands.write('Pieces restacked', '4');
    await hands.see('3.53 oz (100 g) lost, 10.0 % of 35.27 oz (1,000 g).');
    await hands.send('Write it down');
    await hands.see('10.0 %');

    await hands.press('Start the clock on it');
    await hands.see('The clock runs on it');
    await hands.press('Stop and book');

    await hands.press('Finish');
    await hands.choose('What came out', 'Good bar');
    await hands.write('How much', '600 g');
    await hands.press('One more lot');
    await hands.write('How much', '200 g', 1);
    await hands.see('Carries $22.51.');
    await hands.see('Carries $7.50.');
    await hands.see('28.22 oz (800 g) of 31.75 oz (900 g) weighed last; 3.53 oz (100 g) is cropped off.');
    await hands.send('Finish it');
    await hands.see('M-0001 is finished; what came out lies on the rack.');
    const out = tab.page.getByRole('region', { name: 'What came out of M-0001' });
    await out.getByText('$7.50').first().waitFor();
    expect(await out.innerText()).toMatch(
      /L-0002[\s\S]*600 g[\s\S]*\$22\.51[\s\S]*L-0003[\s\S]*200 g[\s\S]*\$7\.50/,
    );

    const coming = tab.page.waitForEvent('download');
    await hands.press('Save as PDF');
    const text = textOf(await readBack(await bytesOf(await coming)));
    expect(text).toContain('PW-07');
    expect(text).toMatch(/What came out of it/);
    expect(text).toMatch(/31\.75 oz \(900 g\)/);
    // 30.01 ÷ 0.8 kg = 37.5125, and × 0.028349523125 = 1.063.
    expect(text).toMatch(/Per ounce[\s\S]*1\.063[\s\S]*Per kilogram[\s\S]*37\.513/);

    await hands.press('Open it again');
    await hands.write('Why', 'weighed the wrong bar');
    await hands.send('Open it again');
    await hands.see('It is back on the bench.');
    await hands.press('Scrap');
    await hands.write('What went wrong', 'a weld opened');
    await hands.send('Scrap it');
    await hands.see('M-0001 is scrapped. $30.01 is lost.');
    await goTo(tab.page, 'stock/makings');
    await hands.see('What failures cost');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
