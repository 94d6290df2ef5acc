/** First look through the real core: windows by the clock, holds that run out by themselves, sales by the rule, the log. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import { openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
/** Knives, and people: two supporters, one who is not. */
let knives: readonly string[];
let people: { readonly anna: string; readonly bert: string; readonly carl: string };

const opens = '2025-03-14T18:00:00.000Z';
const closes = '2025-03-16T18:00:00.000Z';

async function person(name: string, address: string, supports: boolean): Promise<string> {
  const { id } = await shop.call('selling.saveBuyer', {
    name,
    address,
    country: 'US',
    email: `${name.toLowerCase()}@reader.example`,
  });
  if (supports) {
    const level = (await shop.call('buyers.levels', {})).find((each) => each.name === 'Friend')?.id ?? '';
    await shop.call('buyers.support', { buyerId: id, levelId: level, from: '2025-01-01' });
  }
  return id;
}

beforeEach(async () => {
  shop = await openShop({ now: '2025-03-01' });
  knives = [await plainKnife(shop), await plainKnife(shop), await plainKnife(shop)];
  await shop.call('buyers.saveLevel', { name: 'Friend', rank: 2, perMonthMinor: 600 });
  people = {
    anna: await person('Anna', '1 Reed Row', true),
    bert: await person('Bert', '2 Reed Row', true),
    carl: await person('Carl', '3 Reed Row', false),
  };
});
afterEach(() => shop.close());

const draft = (more: Partial<Input<'releases.save'>> = {}): Input<'releases.save'> => ({
  title: 'Spring',
  leastRank: 2,
  holdMinutes: 24 * 60,
  previewOn: '2025-03-11',
  earlyFrom: opens,
  earlyUntil: closes,
  knives: knives.map((buildId) => ({ buildId, priceMinor: 15_000, shippingMinor: 1200 })),
  ...more,
});

async function setOne(more: Partial<Input<'releases.save'>> = {}): Promise<string> {
  const { id } = await shop.call('releases.save', draft(more));
  await shop.call('releases.move', { id, to: 'set' });
  return id;
}

const knife = (at: number): string => knives[at] ?? '';
const sell = (at: number, buyerId: string, on: string) =>
  shop.call('selling.sell', saleOf(shop, knife(at), { buyerId, on, invoice: false }));
const whats = async (id: string): Promise<string[]> =>
  (await shop.call('releases.get', { id })).log.map((line) => line.what);

test('a release is set only when it can be kept, and bad windows are told where they are wrong', async () => {
  expect(await shop.fault('releases.save', draft({ earlyUntil: opens }))).toMatchObject({
    kind: 'invalid',
    field: 'earlyUntil',
    message: expect.stringContaining('closes (2025-03-14 18:00) before it opens') as string,
  });
  expect(await shop.fault('releases.save', draft({ previewOn: '2025-03-15' }))).toMatchObject({
    field: 'previewOn',
  });
  const twice = draft();
  expect(
    await shop.fault('releases.save', {
      ...twice,
      knives: [...(twice.knives ?? []), ...(twice.knives ?? [])],
    }),
  ).toMatchObject({ field: 'knives.3.buildId' });
  const empty = (await shop.call('releases.save', draft({ knives: [] }))).id;
  expect(await shop.fault('releases.move', { id: empty, to: 'set' })).toMatchObject({ field: 'knives' });
  const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2025-02-01' });
  const rough = [{ buildId: ids[0] ?? '', priceMinor: 1, shippingMinor: 0 }];
  await shop.call('releases.save', draft({ id: empty, knives: rough }));
  expect((await shop.fault('releases.move', { id: empty, to: 'set' })).message).toContain('is not finished');
  const free = [{ buildId: knife(0), priceMinor: 0, shippingMinor: 0 }];
  await shop.call('releases.save', draft({ id: empty, knives: free }));
  expect((await shop.fault('releases.move', { id: empty, to: 'set' })).message).toContain('has no price');
  const id = await setOne();
  await shop.call('releases.save', draft({ id: empty }));
  expect((await shop.fault('releases.move', { id: empty, to: 'set' })).message).toContain('is in R2 already');
  expect((await shop.call('releases.candidates', {})).map((each) => each.taken)).toEqual([
    'is in R2 already',
    'is in R2 already',
    'is in R2 already',
  ]);
  expect((await shop.call('releases.get', { id })).groupCount).toBe(2);
});

test('the window opens and closes by the clock, and lets in whom it should', async () => {
  const id = await setOne();
  const phase = async (): Promise<string> => (await shop.call('releases.get', { id })).phase;
  expect(await phase()).toBe('set');
  expect((await shop.fault('releases.hold', { buildId: knife(0), buyerId: people.anna })).message).toContain(
    'opens on 2025-03-14 18:00',
  );
  shop.clock.set('2025-03-11T00:00:00.000Z');
  expect(await phase()).toBe('shown');
  shop.clock.set(opens);
  expect(await phase()).toBe('early');
  expect(
    await shop.fault('selling.sell', saleOf(shop, knife(0), { buyerId: people.carl, on: '2025-03-14' })),
  ).toMatchObject({
    field: 'buyerId',
    message: expect.stringContaining('does not belong to the early group (Friend and above)') as string,
  });
  await sell(0, people.anna, '2025-03-14');
  expect(
    (await shop.fault('selling.sell', saleOf(shop, knife(1), { buyerId: people.anna, on: '2025-03-14' })))
      .message,
  ).toContain('one knife each');
  shop.clock.set(closes);
  expect(await phase()).toBe('public');
  await sell(1, people.anna, '2025-03-16');
  await sell(2, people.carl, '2025-03-16');
  const detail = await shop.call('releases.get', { id });
  expect(detail.phase).toBe('over');
  expect(detail.knives.map((each) => [each.state, each.sale?.early])).toEqual([
    ['sold', true],
    ['sold', false],
    ['sold', false],
  ]);
  expect(detail.measures).toMatchObject({
    soldEarly: 1,
    soldPublic: 2,
    firstMinutes: 0,
    sellOutMinutes: 2880,
  });
  const released = shop.db.all(shop.db.q.selectFrom('sales').select('release_id'));
  expect(released.map((sale) => sale.release_id)).toEqual([id, id, id]);
});

test('two who claim the last knife in the same second: the one written down first has it, the other is told who', async () => {
  const id = await setOne();
  shop.clock.set(opens);
  const both = [people.anna, people.bert].map((buyerId) =>
    shop.core.call('releases.hold', { buildId: knife(0), buyerId }),
  );
  const replies = await Promise.all(both);
  expect(replies.map((reply) => reply.ok)).toEqual([true, false]);
  expect(replies[1]).toMatchObject({
    fault: { message: expect.stringContaining('held for Anna, since 2025-03-14 18:00') as string },
  });
  expect((await shop.fault('releases.hold', { buildId: knife(1), buyerId: people.anna })).message).toContain(
    'one hold for each person',
  );
  // Bert cannot buy what is held for Anna; Anna can.
  expect(
    await shop.fault('selling.sell', saleOf(shop, knife(0), { buyerId: people.bert, on: '2025-03-14' })),
  ).toMatchObject({ field: 'buyerId' });
  await sell(0, people.anna, '2025-03-14');
  expect(await whats(id)).toEqual(['set', 'held', 'sold']);
  expect(await shop.call('releases.running', {})).toEqual([]);
});

test('a hold runs out by itself, at its hour, and the next command on the knife writes that down', async () => {
  const id = await setOne();
  shop.clock.set('2025-03-16T18:30:00.000Z');
  const held = await shop.call('releases.hold', {
    buildId: knife(0),
    buyerId: people.carl,
    minutes: 48 * 60,
  });
  // A clock set back neither hides a hold nor ends it before it began.
  shop.clock.set('2025-03-16T18:20:00.000Z');
  expect((await shop.call('releases.running', {})).map((claim) => claim.id)).toEqual([held.id]);
  const other = await shop.call('releases.hold', { buildId: knife(1), buyerId: people.bert });
  shop.clock.set('2025-03-16T18:10:00.000Z');
  const freed = await shop.call('releases.free', { claimId: other.id, as: 'freed' });
  expect([freed.outcome, freed.open]).toEqual(['freed', false]);
  shop.clock.set('2025-03-18T18:29:59.000Z');
  expect((await shop.call('releases.running', {})).map((claim) => claim.id)).toEqual([held.id]);
  const end = { id: knife(0), as: 'kept', on: '2025-03-18', reason: 'My own' } as const;
  expect((await shop.fault('builds.end', end)).message).toMatch(
    /is held for .* until .*Free it in First look/,
  );
  shop.clock.set('2025-03-18T18:30:00.000Z');
  // Nothing was asked to do so: the knife is free because the hour passed.
  expect(await shop.call('releases.running', {})).toEqual([]);
  expect((await shop.call('releases.get', { id })).knives[0]).toMatchObject({ state: 'free', claim: null });
  expect((await shop.fault('releases.free', { claimId: held.id, as: 'freed' })).message).toContain(
    'ran out by itself',
  );
  await sell(0, people.bert, '2025-03-18');
  const { log } = await shop.call('releases.get', { id });
  expect(log.map((line) => [line.what, line.at.slice(0, 16), line.buyerName])).toEqual([
    ['set', '2025-03-01T12:00', null],
    ['held', '2025-03-16T18:30', 'Carl'],
    ['held', '2025-03-16T18:20', 'Bert'],
    ['freed', '2025-03-16T18:20', 'Bert'],
    ['lapsed', '2025-03-18T18:30', 'Carl'],
    ['sold', '2025-03-18T18:30', 'Bert'],
  ]);
  // It comes back, and is free in the release that still runs.
  const saleId = (await shop.call('releases.get', { id })).knives[0]?.sale?.saleId ?? '';
  await shop.call('care.takeBack', { saleId, on: '2025-03-18', condition: 'Unused', knife: 'shelf' });
  const back = await shop.call('releases.get', { id });
  expect([back.knives[0]?.state, back.log.at(-1)?.what, back.log.at(-1)?.detail]).toEqual([
    'free',
    'broughtBack',
    'Unused',
  ]);
});

test('what happened is written down later with its hour; a day alone does not do where the window turned', async () => {
  const id = await setOne();
  shop.clock.set('2025-03-20T10:00:00.000Z');
  expect(
    await shop.fault('selling.sell', saleOf(shop, knife(0), { buyerId: people.anna, on: '2025-03-16' })),
  ).toMatchObject({
    field: 'on',
    message: expect.stringContaining('turned on that day, at 18:00') as string,
  });
  await shop.call('releases.hold', {
    buildId: knife(0),
    buyerId: people.anna,
    at: '2025-03-16T17:59:00.000Z',
  });
  await sell(0, people.anna, '2025-03-16');
  expect(
    await shop.fault('releases.hold', {
      buildId: knife(1),
      buyerId: people.carl,
      at: '2025-03-16T17:59:00.000Z',
    }),
  ).toMatchObject({ field: 'buyerId' });
  expect(
    await shop.fault('releases.hold', {
      buildId: knife(1),
      buyerId: people.carl,
      at: '2025-03-21T00:00:00.000Z',
    }),
  ).toMatchObject({ field: 'at' });
  // A whole day inside the early window is clear; one before the opening is not allowed at all.
  await sell(1, people.bert, '2025-03-15');
  expect(
    (await shop.fault('selling.sell', saleOf(shop, knife(2), { buyerId: people.bert, on: '2025-03-13' })))
      .message,
  ).toContain('opens on 2025-03-14');
  expect((await shop.call('releases.get', { id })).knives.map((each) => each.sale?.early)).toEqual([
    true,
    true,
    undefined,
  ]);
});

test('after the preview nothing turns against those who were told, and every change stands in the log', async () => {
  const id = await setOne();
  const dearer = draft({ id }).knives?.map((each) => ({ ...each, priceMinor: 16_000 })) ?? [];
  const cheaper = dearer.map((each) => ({ ...each, priceMinor: 14_000 }));
  expect(await shop.fault('releases.save', draft({ id, knives: dearer }))).toMatchObject({ field: 'reason' });
  await shop.call('releases.save', draft({ id, knives: dearer, reason: 'Mistyped.' }));
  shop.clock.set('2025-03-12T09:00:00.000Z');
  await shop.call('releases.told', { id });
  const up = dearer.map((each) => ({ ...each, priceMinor: 17_000 }));
  const reason = 'Because.';
  expect((await shop.fault('releases.save', draft({ id, knives: up, reason }))).message).toContain(
    'only become less',
  );
  expect(
    await shop.fault('releases.save', draft({ id, knives: dearer, leastRank: 1, reason })),
  ).toMatchObject({
    field: 'leastRank',
  });
  const sooner = '2025-03-14T17:00:00.000Z';
  expect(
    await shop.fault('releases.save', draft({ id, knives: dearer, earlyFrom: sooner, reason })),
  ).toMatchObject({ field: 'earlyFrom' });
  await shop.call(
    'releases.save',
    draft({ id, knives: cheaper, note: 'Oil them.', reason: 'Lighter than thought.' }),
  );
  shop.clock.set(opens);
  expect(
    await shop.fault(
      'releases.save',
      draft({ id, knives: cheaper, earlyUntil: '2025-03-17T18:00:00.000Z', reason }),
    ),
  ).toMatchObject({ field: 'earlyUntil' });
  await shop.call('releases.withdraw', { id, buildId: knife(2), reason: 'A crack in the handle.' });
  expect((await shop.fault('releases.move', { id, to: 'ended' })).field).toBe('reason');
  const { log, measures } = await shop.call('releases.get', { id });
  expect(measures).toMatchObject({ knives: 2, listMinor: 28_000 });
  expect(log.filter((line) => line.what === 'changed')).toHaveLength(6);
  expect(log.find((line) => line.what === 'told')?.detail).toBe('2 people, 2 with an e-mail address.');
  expect(log.at(-1)).toMatchObject({ what: 'withdrawn', detail: 'A crack in the handle.' });
  const entry = { at: shop.clock.now(), who: 'nobody', command: 'test', input: {} };
  expect(() => shop.core.books.write(entry, (db) => db.run(db.q.deleteFrom('fairness_log')))).toThrow(
    'not rewritten',
  );
});

test('a knife sold on a day before it was held is held for nobody any more', async () => {
  shop.clock.set('2025-03-05T10:00:00.000Z');
  await shop.call('releases.hold', { buildId: knife(0), buyerId: people.anna });
  await shop.call('releases.hold', { buildId: knife(1), buyerId: people.carl });
  expect(await shop.call('releases.running', {})).toHaveLength(2);
  await sell(0, people.anna, '2025-03-04');
  await sell(1, people.bert, '2025-03-04');
  expect(await shop.call('releases.running', {})).toEqual([]);
  const ended = shop.db.all(
    shop.db.q.selectFrom('claims').select(['outcome', 'ended_at']).orderBy('outcome'),
  );
  expect(ended).toEqual([
    { outcome: 'freed', ended_at: '2025-03-05T10:00:00.000Z' },
    { outcome: 'sold', ended_at: '2025-03-05T10:00:00.000Z' },
  ]);
});
