/** The shop-made billet: fifteen layers restacked twice, weighed after every step, and the blanks cut from it. */
import { amount, micro } from './amounts.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { billet } from './tables/billet.ts';
import type { ItemKey } from './tables/items.ts';

async function make(ledger: Ledger): Promise<void> {
  const { ask, house } = ledger;
  const making = await ask('makings.start', {
    title: billet.title,
    kind: 'billet',
    on: billet.start,
    shareKey: 'weight',
    labourOver: 'taken',
    startLayers: billet.layers,
  });
  const makingId = making.id;
  for (const [key, qty, unit] of billet.took) {
    const base = amount(qty, unit);
    await ask('makings.take', { makingId, itemId: house.items[key], qty: base, on: billet.start });
    ledger.left.set(key, (ledger.left.get(key) ?? 0) - base);
  }
  for (const [label, price] of billet.charges)
    await ask('makings.charge', { makingId, on: billet.end, label, amountMicro: micro(price) });
  for (const [on, minutes, stageCode] of billet.sessions)
    await ask('hours.book', { on, minutes, stageCode, workKind: null, shares: [], makingId });
  for (const { on, kind, label, grams, pieces } of billet.steps)
    await ask('makings.step', {
      makingId,
      on,
      kind,
      label,
      weightAfterNg: grams === null ? null : amount(grams, 'g'),
      pieces,
    });
  const done = await ask('makings.finish', {
    makingId,
    on: billet.end,
    outputs: [{ itemId: house.items.billet, qty: amount(billet.good, 'g'), place: 'Steel rack' }],
  });
  const [output] = done.outputs;
  if (output === undefined) throw new Error('The billet gave nothing');
  ledger.lotIds.set('billet', [output.lot.id]);
}

/** The blanks are weighed out on the day their batch begins. */
async function drawBlank(ledger: Ledger, serial: string, grams: string): Promise<void> {
  const key: ItemKey = 'billet';
  const lotId = ledger.lotIds.get(key)?.[0];
  if (lotId === undefined) throw new Error('There is no billet to cut from');
  await ledger.ask('stock.draw', {
    buildId: idOf(ledger, serial),
    itemId: ledger.house.items[key],
    lotId,
    qty: amount(grams, 'g'),
    use: 'material',
    stageCode: 'CUT',
    on: billet.cutOn,
  });
}

export const billetSteps = (): readonly Step[] => [
  { on: billet.end, order: 2, run: make },
  ...billet.blanks.map(([serial, grams]): Step => ({
    on: billet.cutOn,
    order: 2,
    run: (ledger) => drawBlank(ledger, serial, grams),
  })),
];
