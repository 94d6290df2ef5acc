/** What the books can be asked, on the demo in a real browser: every question has its answer, and decisions are kept. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { questions } from '../../renderer/areas/ask/questions.ts';
import { madeDemoMs } from '../demo/made.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { Hands } from './support/hands.ts';
import { demoFolder, type House, startHouse } from './support/house.ts';
import { goTo, openTab, type Tab } from './support/watch.ts';

/** What must stand on the answer of each question, in their order: figures of the demo's tables. */
const answers: readonly (readonly string[])[] = [
  ['$22.68', '$16.66', 'too few to say'],
  ['$23.07', '$21.58', 'HUN'],
  ['Tessel paring, full tang brings least: $16.66', '55 min of its 6 h 5 min'],
  ['overhead for each bench hour was $9.78 (2024: $8.06)', '2025 Q4'],
  ['Work no knife pays for', '30 %'],
  ['Quenby chef, forged, hand-finished', '$770.00'],
  ['W45', 'W34', 'W28'],
  ['O-0010', 'O-0011', '5 of 6 delivered by the day first promised'],
  ['Customers’ money held', '$330.00', '$177.00', '$153.00'],
  ['Garrick Stonepipple', 'O-0009', 'W43 (in work)'],
  ['First Harrock camp, belt finish, sheath', '1 promised'],
  ['Copperpint Sundries', 'Pins, spacers, guard bar, assorted'],
  ['4 knives', '3 knives'],
  ['Pattern-welded billet PW-01', '7 h 30 min'],
  ['27 % less', '20 % less'],
  ['30 hardened in twelve months', '1 of 30'],
  ['52100 bar', '8 of 9 passed'],
  ['Pellwick Grit House', '36 Y'],
  ['1 knife lost', '$33.45', '11 h 5 min', 'O-0004, 31 days late'],
  ['lies unsold', 'gone 1 min after the opening', '79'],
  ['6 of 9', '5 of 9', 'A caution, not proof.'],
  ['$3,170.00', '$2,180.00', '$5,350.00'],
  ['shipping lost $93.19', '$495.19', '$402.00'],
  ['$7,321.62', '$14.94'],
  ['What is missing', 'Lines of the form'],
];

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('answers of the demo workshop', () => {
  let browser: Browser;
  let house: House;
  let tab: Tab;

  beforeAll(async () => {
    browser = await sharedChromium();
    house = await startHouse({ folder: await demoFolder(), demo: true });
    tab = await openTab(browser, house.address);
  }, madeDemoMs);
  afterAll(async () => {
    await tab[Symbol.asyncDispose]();
    await house[Symbol.asyncDispose]();
  });

  it('stand behind each of the twenty-five questions', async () => {
    const { page } = tab;
    await goTo(page, 'ask');
    const links = page.getByRole('main').getByRole('listitem').getByRole('link');
    expect(await links.allInnerTexts()).toEqual(questions.map((one) => one.text));
    const missing: string[] = [];
    for (const [at, question] of questions.entries()) {
      await goTo(page, 'ask');
      await links.nth(at).click();
      await page.waitForFunction((hash) => location.hash === hash, `#/${question.path.join('/')}`);
      const wanted = answers[at] ?? [];
      // Figures come one after the other; what has not come after a while is missing.
      await page
        .waitForFunction(
          (parts) => {
            const text = document.querySelector('main')?.innerText ?? '';
            return parts.every((part) => text.includes(part));
          },
          wanted,
          { timeout: 15_000 },
        )
        .catch(() => undefined);
      const text = await page.getByRole('main').innerText();
      missing.push(
        ...wanted.filter((part) => !text.includes(part)).map((part) => `${question.text} ${part}`),
      );
    }
    expect([answers.length, missing]).toEqual([25, []]);
  });

  it('are found by their words, on the page and with Find', async () => {
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'ask');
    await page.getByRole('searchbox', { name: 'Narrow the questions' }).fill('postage');
    const links = page.getByRole('main').getByRole('listitem').getByRole('link');
    expect(await links.allInnerTexts()).toEqual(['What did shipping cost me beyond what I charged?']);
    await hands.keys('/');
    await page.keyboard.type('billet across');
    await page.getByRole('option', { name: /How do I split that billet/ }).waitFor();
    await page.keyboard.press('Enter');
    await page.getByRole('row', { name: /PW-01/ }).waitFor();
  });

  it('let a doubtful knife be decided, and keep the decision with its reason', async () => {
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'ask/doubtful');
    await hands.follow(/^W45/);
    await hands.press('Decide: Finish as planned');
    await hands.write('Why', 'Straight again after the temper');
    await hands.send('Keep the decision');
    await hands.arrive(/W45/);
    await goTo(page, 'ask/doubtful');
    await hands.follow(/^W45/);
    await hands.see('Straight again after the temper');
  });

  it('show what a lost blade would do to the promises', async () => {
    const { page } = tab;
    await goTo(page, 'orders/promises');
    const table = page.getByRole('region', { name: 'Days of open orders and knives' });
    await table.getByRole('row', { name: /W42/ }).waitFor();
    await page
      .getByLabel('I lose this blade')
      .selectOption({ label: 'W42 Quenby chef, forged, hand-finished' });
    await table.getByRole('row', { name: /W42/ }).getByText(/^was /).waitFor();
  });

  it('begin a trial and read what it says of knives already made', async () => {
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'trials');
    await hands.press('Begin a trial');
    await hands.write('What is tried', 'Stone again, from one spring on');
    await hands.pick('Model', 'CHF Q');
    await hands.pick('Stage', 'Hand finish');
    await hands.pick('The way before', 'paper');
    await hands.pick('The way tried', 'stone');
    await page
      .getByRole('dialog')
      .locator('form')
      .evaluate((form: HTMLFormElement) => form.requestSubmit());
    await hands.arrive(/Stone again/);
    await hands.see(/27 %/);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});
