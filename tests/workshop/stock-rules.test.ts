/**
 * A13: whatever is done, under whichever costing rule, value in = value out + value left for every item, no lot holds
 * value without stock, and the order of what does not touch each other changes nothing (accounting identity).
 */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CoreEndpointName } from '../../electron/api/contract.ts';
import { costings, type ItemDetail } from '../../electron/api/stock.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { openRig, type Rig } from './rig.ts';
import { first, type Shelf, stockShelf } from './shelf.ts';

const whole = fc.nat({ max: 999_999 });
const doings = [
  'buy',
  'buy',
  'draw',
  'draw',
  'takeOut',
  'count',
  'reverse',
  'costing',
  'makingTake',
  'makingEnd',
  'unmake',
] as const;
interface Step {
  readonly do: (typeof doings)[number];
  readonly a: number;
  readonly b: number;
}
const step: fc.Arbitrary<Step> = fc.record({ do: fc.constantFrom(...doings), a: whole, b: whole });

const ON = '2024-07-20';
let rig: Rig;
let shelf: Shelf;
let knife: string;
let made = 0;
beforeAll(async () => {
  rig = await openRig({ now: '2024-12-31' });
  shelf = await stockShelf(rig);
  knife = first(await shelf.plan());
});
afterAll(() => rig.close());

/** A refusal is an answer too; only a mistake of ours is logged. */
const send = (name: CoreEndpointName, input: unknown) => rig.core.call(name, input);

const saveItem = (name: string, costing: string, id?: string) =>
  send('stock.saveItem', { ...(id ? { id } : {}), name, kind: 'steel', form: 'weight', unit: 'g', costing });

async function freshItem(costing: string): Promise<string> {
  made += 1;
  await saveItem(`Metal ${made}`, costing);
  return first(await rig.call('stock.items', { text: `Metal ${made}` })).id;
}

/** From nothing to a little more than there is. */
const around = (part: number, left: number): number => Math.floor(((part % 1000) * (left + 2)) / 900);

const itemNow = (id: string): Promise<ItemDetail> => rig.call('stock.item', { id });

async function makeSomething(itemId: string, { do: what, a, b }: Step): Promise<void> {
  const open = (await rig.call('makings.list', { states: ['open'] })).rows;
  const done = (await rig.call('makings.list', { states: ['done'] })).rows;
  if (what === 'makingTake') {
    const row =
      open[0] ??
      (await rig.call('makings.start', { title: `M ${made}`, kind: 'other', shareKey: 'equal', on: ON }));
    const { qtyLeft } = await itemNow(itemId);
    await send('makings.take', { makingId: row.id, itemId, qty: around(a, qtyLeft), on: ON });
  } else if (what === 'makingEnd') {
    const makingId = open[0]?.id ?? 'none';
    // A milligram is the least that is weighed.
    const outputs = [a % 5000, b % 5000].map((more) => ({ itemId, qty: 1_000_000 + 997 * more }));
    if (a % 4 === 0) await send('makings.scrap', { makingId, on: ON, reason: 'cracked' });
    else await send('makings.finish', { makingId, on: ON, outputs });
  } else {
    await send('makings.reopen', {
      makingId: done[a % Math.max(1, done.length)]?.id ?? 'none',
      reason: 'again',
    });
  }
}

interface Scene {
  readonly item: ItemDetail;
  readonly lot: ItemDetail['lots'][number] | undefined;
}
type Act = (scene: Scene, wanted: Step) => Promise<unknown>;

const buy: Act = ({ item }, { a, b }) => {
  const lines = [
    {
      itemId: item.id,
      pieces: 1 + (a % 3),
      qtyEach: 1 + 997 * (b % 700_001),
      priceMicro: (a * 37) % 90_000_001,
    },
  ];
  return send('stock.buy', {
    supplierId: shelf.supplierId,
    on: '2024-07-02',
    freightMicro: b % 1001,
    lines,
  });
};
const draw: Act = ({ item, lot }, { a }) => {
  const named = a % 2 === 0 && lot !== undefined;
  const qty = around(a, named ? lot.qtyLeft : item.qtyLeft);
  const order = { buildId: knife, itemId: item.id, qty, use: 'material', on: ON };
  return send('stock.draw', named ? { ...order, lotId: lot.id } : order);
};
const takeOut: Act = ({ lot }, { a, b }) => {
  const kind = (['scrap', 'personal', 'sample', 'return'] as const)[a % 4];
  const qty = around(b, lot?.qtyLeft ?? 0);
  return send('stock.takeOut', { lotId: lot?.id ?? '', kind, qty, reason: 'x', on: ON });
};
const count: Act = ({ lot }, { a }) => {
  const countedQty = around(a, lot?.qtyLeft ?? 0);
  return send('stock.count', { lotId: lot?.id ?? '', countedQty, reason: 'x', on: ON });
};
const reverse: Act = ({ item }, { a }) => {
  const movementId = item.movements[a % Math.max(1, item.movements.length)]?.id ?? 'none';
  return send('stock.reverse', { movementId, reason: 'x' });
};
const making: Act = ({ item }, wanted) => makeSomething(item.id, wanted);

const acts: Readonly<Record<Step['do'], Act>> = {
  buy,
  draw,
  takeOut,
  count,
  reverse,
  costing: ({ item }, { a }) => saveItem(item.name, costings[a % 3] ?? 'fifo', item.id),
  makingTake: making,
  makingEnd: making,
  unmake: making,
};

async function perform(itemId: string, wanted: Step): Promise<void> {
  const item = await itemNow(itemId);
  const lot = item.lots[wanted.b % Math.max(1, item.lots.length)];
  await acts[wanted.do]({ item, lot }, wanted);
}

/** What is wrong with the books of one item; nothing, when they balance. */
async function troubleOf(itemId: string): Promise<readonly string[]> {
  const { lots, qtyLeft, valueLeftMicro } = await itemNow(itemId);
  const { rows } = await rig.call('stock.movements', { itemId, limit: 20_000 });
  const trouble: string[] = [];
  for (const lot of lots) {
    const own = rows.filter((row) => row.lotId === lot.id);
    if (lot.qtyLeft !== sumOf(own, (row) => row.qty)) trouble.push(`${lot.tag}: quantity`);
    if (lot.valueLeftMicro !== sumOf(own, (row) => row.valueMicro)) trouble.push(`${lot.tag}: value`);
    if (lot.qtyLeft < 0 || lot.valueLeftMicro < 0) trouble.push(`${lot.tag}: below nothing`);
    if (lot.qtyLeft === 0 && lot.valueLeftMicro !== 0) trouble.push(`${lot.tag}: value without stock`);
  }
  if (sumOf(rows, (row) => row.qty) !== qtyLeft) trouble.push('item: quantity');
  if (sumOf(rows, (row) => row.valueMicro) !== valueLeftMicro) trouble.push('item: value');
  const level = rows.filter((row) => row.kind === 'evenOut');
  if (sumOf(level, (row) => row.valueMicro) !== 0) trouble.push('levelling made or lost value');
  return trouble;
}

/** At the moving average a purchase leaves every lot at the same worth of a unit, to the millionth. */
async function unlevelAfterPurchase(itemId: string): Promise<readonly string[]> {
  await perform(itemId, { do: 'buy', a: 4, b: 12_345 });
  const item = await itemNow(itemId);
  if (item.costing !== 'average') return [];
  return item.lots
    .filter((lot) => lot.qtyLeft > 0)
    .filter((lot) => {
      const exact = (BigInt(item.valueLeftMicro) * BigInt(lot.qtyLeft)) / BigInt(item.qtyLeft);
      return Math.abs(Number(BigInt(lot.valueLeftMicro) - exact)) > 1;
    })
    .map((lot) => lot.tag);
}

describe('A13', () => {
  it('value in = value out + value left, for every rule and any sequence', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...costings),
        fc.array(step, { minLength: 5, maxLength: 14 }),
        async (costing, steps) => {
          const itemId = await freshItem(costing);
          await perform(itemId, { do: 'buy', a: 5, b: 600_003 });
          for (const one of steps) await perform(itemId, one);
          expect(await troubleOf(itemId)).toEqual([]);
          expect(await unlevelAfterPurchase(itemId)).toEqual([]);
        },
      ),
      { numRuns: 25 },
    );
    const kinds = rig.db.all(rig.db.q.selectFrom('movements').select('kind').distinct());
    // A run in which nothing of a kind ever went through would prove nothing about it.
    expect(kinds.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['receipt', 'draw', 'count', 'reversal', 'evenOut', 'intoMaking', 'made']),
    );
    expect(rig.log).toEqual([]);
    expect(rig.core.books.checkJournal().sound).toBe(true);
  }, 240_000);

  it('the order of what does not touch each other changes nothing', async () => {
    const own = fc.array(
      step.filter((one) => !one.do.startsWith('mak') && one.do !== 'unmake'),
      { minLength: 2, maxLength: 6 },
    );
    const after = async (id: string) => {
      const { lots, costing } = await itemNow(id);
      return [costing, ...lots.map((lot) => [lot.qtyReceived, lot.qtyLeft, lot.valueLeftMicro])];
    };
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...costings),
        own,
        own,
        fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
        async (costing, left, right, turns) => {
          const [a1, b1, a2, b2] = [
            await freshItem(costing),
            await freshItem(costing),
            await freshItem(costing),
            await freshItem(costing),
          ];
          for (const one of left) await perform(a1, one);
          for (const one of right) await perform(b1, one);
          const queues: readonly [Step[], Step[]] = [[...left], [...right]];
          for (const turn of [...turns, ...turns.map((each) => !each)]) {
            const one = queues[turn ? 0 : 1].shift();
            if (one !== undefined) await perform(turn ? a2 : b2, one);
          }
          for (const one of queues[0]) await perform(a2, one);
          for (const one of queues[1]) await perform(b2, one);
          expect([await after(a2), await after(b2)]).toEqual([await after(a1), await after(b1)]);
        },
      ),
      { numRuns: 10 },
    );
  }, 240_000);
});
