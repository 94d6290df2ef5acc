/** First look by lot, and the preview: the draw is run again here from its seed, the page is read as a browser would. */
import { createHash } from 'node:crypto';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { PreviewPaper } from '../../electron/documents/types.ts';
import { openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
let knives: readonly string[];
const opens = '2025-03-14T18:00:00.000Z';
const closes = '2025-03-16T18:00:00.000Z';

beforeEach(async () => {
  shop = await openShop({ now: '2025-03-01' });
  knives = [await plainKnife(shop), await plainKnife(shop)];
  await shop.call('buyers.saveLevel', { name: 'Friend', rank: 1, perMonthMinor: 600 });
});
afterEach(() => shop.close());

async function person(name: string, address: string): Promise<string> {
  const { id } = await shop.call('selling.saveBuyer', {
    name,
    address,
    country: 'US',
    email: `${name}@reader.example`,
  });
  const level = (await shop.call('buyers.levels', {})).find((each) => each.name === 'Friend')?.id ?? '';
  await shop.call('buyers.support', { buyerId: id, levelId: level, from: '2025-01-01' });
  return id;
}

async function setLot(): Promise<string> {
  const { id } = await shop.call('releases.save', {
    title: 'Spring & <Summer>',
    rule: 'lot',
    holdMinutes: 24 * 60,
    earlyFrom: opens,
    earlyUntil: closes,
    knives: knives.map((buildId) => ({
      buildId,
      priceMinor: 15_000,
      shippingMinor: 1200,
      words: 'Thin & “keen” <90 mm>',
    })),
  });
  await shop.call('releases.move', { id, to: 'set' });
  return id;
}

/** The published recipe, written anew: SHA-256 of seed:number in hexadecimal, lowest first. */
const runAgain = (seed: string, numbers: readonly number[]): number[] =>
  numbers
    .map(
      (number) =>
        [
          createHash('sha256')
            .update(`${seed}:${String(number)}`)
            .digest('hex'),
          number,
        ] as const,
    )
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, number]) => number);

/** Both knives drawn among the first four names, each by a seed of its own, one knife each. */
async function expectFairDraw(id: string, people: readonly string[]): Promise<void> {
  const { draws, knives: shown, log } = await shop.call('releases.get', { id });
  const orders = draws.map((draw) => runAgain(draw.seed, [1, 2, 3, 4]));
  expect(draws.map((draw) => draw.outcome.map((name) => name.number))).toEqual(orders);
  const [first = 0, then = 0] = [orders[0]?.[0], orders[1]?.find((number) => number !== orders[0]?.[0])];
  expect(shown.map((each) => [each.claim?.kind, each.claim?.buyerId, each.claim?.untilAt])).toEqual(
    [first, then].map((number) => ['offered', people[number - 1], '2025-03-17T18:00:00.000Z']),
  );
  const seeds = draws.map((draw) => draw.seed);
  expect(new Set(seeds).size).toBe(2);
  const told = log.filter((line) => line.what === 'drawn').map((line) => line.detail.split('”')[0]);
  expect(told).toEqual(seeds.map((seed) => `Seed “${seed}`));
}

test('names of one household go in once, the hat closes by the clock, and anyone can run the draw again', async () => {
  const people = [];
  for (const at of [1, 2, 3, 4, 5])
    people.push(await person(`Reader${String(at)}`, `${String(at)} Reed Row`));
  const twin = await person('Twin', '3  reed row');
  const id = await setLot();
  expect((await shop.fault('releases.enter', { id, buyerId: people[0] })).message).toContain(
    'from 2025-03-14 18:00 on',
  );
  shop.clock.set(opens);
  for (const buyerId of people) await shop.call('releases.enter', { id, buyerId });
  expect(await shop.fault('releases.enter', { id, buyerId: twin })).toMatchObject({
    field: 'buyerId',
    message: expect.stringContaining(
      'Reader3 of the same address is in the hat already, as number 3',
    ) as string,
  });
  expect((await shop.fault('releases.enter', { id, buyerId: shop.buyerId })).message).toContain(
    'early group',
  );
  expect((await shop.fault('releases.draw', { id })).message).toContain('until 2025-03-16 18:00');
  const left = (await shop.call('releases.get', { id })).entries[4]?.id ?? '';
  await shop.call('releases.leave', { entryId: left });
  shop.clock.set(closes);
  expect((await shop.fault('releases.enter', { id, buyerId: twin })).message).toContain('closed on');
  expect((await shop.call('releases.get', { id })).phase).toBe('draw');
  expect(await shop.call('releases.draw', { id })).toEqual({ drawn: 2, offered: 2 });
  expect((await shop.fault('releases.draw', { id })).message).toContain('nothing to draw');

  await expectFairDraw(id, people);
});

const inFirst = async (id: string) => {
  const { knives: shown, draws, log } = await shop.call('releases.get', { id });
  const [knife] = shown;
  const [draw] = draws;
  if (knife === undefined) throw new Error('the release shows no knife');
  return { knife, asked: draw?.outcome.map((each) => each.asked), whats: log.map((line) => line.what) };
};
const decline = async (id: string): Promise<void> => {
  const { knife } = await inFirst(id);
  await shop.call('releases.free', { claimId: knife.claim?.id ?? '', as: 'declined' });
};

test('an offer that is declined or runs out goes to the next name, and to all when no name is left', async () => {
  const people = [await person('Ann', '1 Row'), await person('Ben', '2 Row'), await person('Cy', '3 Row')];
  const id = await setLot();
  const [buildId = '', other = ''] = knives;
  const offered = async () => (await inFirst(id)).knife.claim?.buyerId ?? null;
  shop.clock.set(opens);
  for (const buyerId of people) await shop.call('releases.enter', { id, buyerId, buildId });
  shop.clock.set('2025-03-16T19:00:00.000Z');
  const wish = { buildId, buyerId: people[0] };
  expect((await shop.fault('releases.hold', wish)).message).toContain('Draw first');
  // Nobody is in the hat for the other knife: it is open to all.
  await shop.call('releases.hold', { buildId: other, buyerId: shop.buyerId });
  await shop.call('releases.draw', { id, seed: 'Harvest fair 4711' });
  const order = runAgain(`Harvest fair 4711 ${(await inFirst(id)).knife.serial}`, [1, 2, 3]);
  const [first = '', second, third] = order.map((number) => people[number - 1]);
  expect(await offered()).toBe(first);
  expect((await shop.fault('releases.next', { id, buildId })).message).toContain('Wait for the answer');
  await decline(id);
  expect(await shop.call('releases.next', { id, buildId })).toMatchObject({ buyerId: second });
  shop.clock.set('2025-03-17T19:00:00.000Z');
  expect(await offered()).toBeNull();
  const sale = saleOf(shop, buildId, { buyerId: first, on: '2025-03-17', invoice: false });
  expect((await shop.fault('selling.sell', sale)).message).toContain('goes by the draw. The next name is');
  expect(await shop.call('releases.next', { id, buildId })).toMatchObject({ buyerId: third });
  await decline(id);
  expect(await shop.call('releases.next', { id, buildId })).toBeNull();
  await shop.call('selling.sell', sale);
  const after = await inFirst(id);
  expect(after.knife.sale).toMatchObject({ buyerId: first, early: false });
  expect(after.asked).toEqual(['declined', 'lapsed', 'declined']);
  expect(after.whats.slice(-7)).toEqual([
    ...['offered', 'declined', 'offered', 'lapsed', 'offered', 'declined', 'sold'],
  ]);
});

test('the preview says what the gates found and where it cannot go; its page runs nothing and fetches nothing', async () => {
  const id = await setLot();
  const [buildId = ''] = knives;
  await shop.call('gates.check', {
    measure: 'hardness',
    on: '2025-02-01',
    knives: [{ buildId, readings: [{ value: 60_900 }, { value: 61_100 }], verdict: 'pass' }],
  });
  await shop.call('gates.check', {
    measure: 'behindEdge',
    on: '2025-02-01',
    knives: [
      {
        buildId,
        // 7, 8 and 9 thousandths of an inch: 0.1778, 0.2032 and 0.2286 mm by the inch of 25.4 mm.
        readings: [
          { place: 'heel', value: 177_800 },
          { place: 'middle', value: 203_200 },
          { place: 'tip', value: 228_600 },
        ],
        verdict: 'pass',
      },
    ],
  });
  await shop.call('shipping.saveRule', {
    country: 'GB',
    answer: 'no',
    what: 'post refuses blades',
    checkedOn: '2025-02-01',
  });
  await shop.call('releases.previewPdf', { id });
  const paper = shop.press.others.find((each) => each.kind === 'preview')?.data as PreviewPaper;
  expect(paper.knives[0]?.figures.map(({ label, text }) => `${label}: ${text}`)).toEqual([
    // 61 HRC is 720 HV in ASTM E140, table 1.
    'Hardness: 61 HRC (720 HV), mean of 2',
    'Behind the edge: heel 0.18, middle 0.20, tip 0.23 mm (7, 8, 9 thou)',
  ]);
  expect(paper.notes[0]?.text).toContain('Not sent to: United Kingdom.\n');
  const page = await shop.call('releases.previewPage', { id });
  const html = Buffer.from(page.base64, 'base64').toString('utf8');
  expect(page.name).toMatch(/\.html$/);
  expect(html).toContain('Spring &amp; &lt;Summer&gt;');
  expect(html).toContain('Thin &amp; “keen” &lt;90 mm&gt;');
  expect(html).not.toMatch(/<script|<link|<iframe|javascript:|\son\w+=|https?:\/\//i);
  // The style is allowed by its own hash (Content Security Policy Level 3, hash-source) and by nothing else.
  const style = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? '';
  const hash = createHash('sha256').update(style).digest('base64');
  expect(html).toContain(`default-src &#39;none&#39;; img-src data:; style-src &#39;sha256-${hash}&#39;`);
});

test('the message names every knife and its opening with the distance from universal time; too long a list is told', async () => {
  await person('Ann', '1 Row');
  const id = await setLot();
  const short = await shop.call('releases.message', { id });
  expect(short.people).toEqual([{ name: 'Ann', email: 'Ann@reader.example', level: 'Friend' }]);
  expect(short.text).toContain('14 Mar 2025, 18:00 (UTC)');
  // RFC 6068: percent-encoded, line breaks as %0D%0A, no spaces.
  expect(short.mailto).toMatch(/^mailto:\?bcc=Ann%40reader\.example&subject=[^ ]+&body=[^ ]+%0D%0A[^ ]+$/);
  for (let at = 0; at < 40; at += 1)
    await person(`Reader.with.a.long.name.${String(at)}`, `${String(at)} Long Row`);
  const long = await shop.call('releases.message', { id });
  expect([long.mailto, long.people.length]).toEqual([null, 41]);
});
