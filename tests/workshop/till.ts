/** Orders, sales and invoices in any sequence: a stocked workshop that is made once and opened anew for each sequence. */
import fs from 'node:fs';
import fc from 'fast-check';
import type { Input } from '../../electron/api/contract.ts';
import type { Reply } from '../../electron/api/errors.ts';
import { addDays } from '../../electron/domain/calendar.ts';
import { quickFolder } from '../folders.ts';
import { openRig } from './rig.ts';
import { idOf, openShop, PIECE, plainKnife, type Shop } from './shop.ts';
import { lookDoings, stockSupporters } from './till-look.ts';
import { nothing, pick, priceOf, type Scene, type Step, type Stocked, type Till } from './till-scene.ts';

const START = '2024-11-04';
const KNIVES = 6;

const deeds = [
  ...['offer', 'offer', 'agree', 'agree', 'agree', 'further', 'link', 'link', 'unlink', 'deliver', 'deliver'],
  ...['cancel', 'cancel', 'change', 'stepBack', 'sell', 'sell', 'issue', 'draft', 'service', 'actuals'],
  ...['pay', 'pay', 'pay', 'reverse', 'reverse', 'credit', 'credit', 'refund', 'refund', 'takeBack'],
  ...['setOff', 'keep', 'bench', 'pattern', 'place', 'close', 'reopen'],
  ...[
    'release',
    'release',
    'endRelease',
    'hold',
    'hold',
    'free',
    'sellHeld',
    'hat',
    'hat',
    'bringIn',
    'bringIn',
  ],
] as const;

export const step: fc.Arbitrary<Step> = fc.record({
  do: fc.constantFrom(...deeds),
  at: fc.nat({ max: 23 }),
  part: fc.oneof(fc.constant(1000), fc.integer({ min: 1, max: 1200 })),
  days: fc.oneof(fc.constant(0), fc.nat({ max: 20 })),
  back: fc.oneof(fc.constant(0), fc.constant(0), fc.nat({ max: 40 })),
  yes: fc.boolean(),
  how: fc.nat({ max: 11 }),
});

async function stockPlaces(shop: Shop): Promise<string[]> {
  const common = { label: 'VAT', onShipping: true } as const;
  const places: readonly Input<'workshop.saveTaxPlace'>[] = [
    {
      ...{ ...common, name: 'Inside', ratePpm: 200_000, inclusive: true },
      ...{ rounding: 'invoice', depositTax: 'deposit' },
    },
    {
      ...{ ...common, name: 'By line', ratePpm: 190_000, inclusive: false },
      ...{ rounding: 'line', depositTax: 'delivery' },
    },
    {
      ...{ ...common, name: 'Forfeit', ratePpm: 77_000, inclusive: true },
      ...{ rounding: 'line', forfeitTaxed: true },
    },
    {
      ...{ ...common, name: 'Both', ratePpm: 210_000, inclusive: false, onShipping: false },
      ...{ rounding: 'invoice', depositTax: 'deposit', forfeitTaxed: true },
    },
  ];
  const ids: string[] = [];
  for (const place of places) ids.push((await shop.call('workshop.saveTaxPlace', place)).id);
  return ids;
}

async function stockPolicies(shop: Shop): Promise<string[]> {
  const days = { from: '2024-01-01', depositDays: 7, balanceDays: 7 };
  const rules = [
    { name: 'Third', percentPpm: 333_333, refundable: 'never', keptPpm: 500_000 },
    { name: 'Until work', percentPpm: 250_000, refundable: 'untilWork', keptPpm: 333_333 },
    { name: 'Always', percentPpm: 500_000, refundable: 'always', keptPpm: 0 },
    { name: 'All', percentPpm: 500_000, refundable: 'never', keptPpm: 1_000_000 },
  ] as const;
  const ids: string[] = [];
  for (const rule of rules) ids.push((await shop.call('orders.savePolicy', { ...days, ...rule })).id);
  return ids;
}

/** Makes the books once; each till is a copy of them. */
export async function stockTill(): Promise<Stocked> {
  const shop = await openShop({ now: START });
  for (let at = 0; at < KNIVES; at += 1) {
    const buildId = await plainKnife(shop);
    const walnut = { buildId, itemId: idOf(shop.items, 'walnut'), qty: PIECE, use: 'material' } as const;
    await shop.call('stock.draw', { ...walnut, on: '2024-07-06' });
  }
  const other = await shop.call('selling.saveBuyer', { name: 'Hesper Quill', address: '2 Reed Row' });
  await stockSupporters(shop, shop.buyerId);
  const stocked = {
    folder: shop.folder,
    buyers: [shop.buyerId, other.id],
    places: [null, shop.places[0]?.id ?? null, ...(await stockPlaces(shop))],
    channels: shop.channels.map((channel) => channel.id),
    policies: await stockPolicies(shop),
    modelId: shop.modelId,
  };
  await shop.close({ keep: true });
  return stocked;
}

/** Opens a copy of the books, as they were stocked. */
export async function openTill(stocked: Stocked): Promise<Till> {
  const folder = quickFolder('knifewright-till-');
  fs.cpSync(stocked.folder, folder, { recursive: true });
  const press = { invoice: () => Promise.resolve(new Uint8Array([1])) };
  const rig = await openRig({ now: START, folder, renderer: press as never });
  return { ...rig, stocked };
}

const shareOf = (part: number, whole: number): number => Math.max(1, Math.floor((whole * part) / 1000));

const orders = (till: Till, ...states: readonly string[]) =>
  till.db.all(till.db.q.selectFrom('orders').selectAll().where('state', 'in', states).orderBy('number'));
const invoices = (till: Till) =>
  till.db
    .all(till.db.q.selectFrom('invoices').select(['id', 'kind']).orderBy('id'))
    .filter(({ kind }) => kind !== 'credit')
    .map(({ id }) => id);

const specOf = ({ till, step }: Scene) => ({
  ...priceOf(step),
  modelId: till.stocked.modelId,
  channelId: pick(till.stocked.channels, step.at) ?? null,
  taxPlaceId: pick(till.stocked.places, step.how) ?? null,
  options: step.how % 3 === 0 ? [{ name: 'Mosaic pins', priceMinor: 1_111 }] : [],
  specialMinor: step.how % 4 === 0 ? 2_345 : 0,
});

async function offer(scene: Scene): Promise<Reply> {
  const { till, step, on, send } = scene;
  const buyerId = pick(till.stocked.buyers, step.at) ?? '';
  const asked = await send('orders.ask', { buyerId, modelId: till.stocked.modelId, on });
  if (!asked.ok) return asked;
  return send('orders.offer', { id: (asked.value as { id: string }).id, on, ...specOf(scene) });
}

async function agree(scene: Scene): Promise<Reply> {
  const { till, step, on, send } = scene;
  if (orders(till, 'offered').length === 0) await offer(scene);
  const order = pick(orders(till, 'offered'), step.at);
  if (order === undefined) return nothing;
  const depositMinor = step.how % 5 === 0 ? { depositMinor: shareOf(step.part, order.price_minor ?? 0) } : {};
  const policyId = step.how === 1 ? null : pick(till.stocked.policies, step.how);
  const invoice = step.how !== 2;
  const paidBy = step.yes && invoice ? 'card' : '';
  return send('orders.agree', { id: order.id, on, policyId, invoice, paidBy, ...depositMinor });
}

/** An agreed order; one is agreed first where there is none. */
async function agreedOne(scene: Scene) {
  const { till, step } = scene;
  if (orders(till, 'agreed').length === 0) await agree(scene);
  return pick(orders(till, 'agreed'), step.at);
}

async function cancel(scene: Scene): Promise<Reply> {
  const { step, on, send } = scene;
  const order = await agreedOne(scene);
  if (order === undefined) return nothing;
  const less = step.how % 3 === 0 ? { keptMinor: shareOf(step.part, order.deposit_minor / 4) } : {};
  const refundBy = step.yes ? 'card' : '';
  return send('orders.cancel', { id: order.id, on, reason: 'lost heart', refundBy, ...less });
}

function sell({ till, step, on, send }: Scene): Promise<Reply> {
  const { db, stocked } = till;
  const free = db.all(db.q.selectFrom('builds').select('id').where('state', '=', 'finished').orderBy('id'));
  const invoice = step.how % 4 !== 0;
  return send('selling.sell', {
    ...priceOf(step),
    buildId: pick(free, step.at)?.id ?? 'none',
    buyerId: pick(stocked.buyers, step.how),
    channelId: pick(stocked.channels, step.at),
    taxPlaceId: pick(stocked.places, step.how) ?? null,
    on,
    invoice,
    paidBy: invoice && step.yes ? 'cash' : '',
    postagePaidMinor: step.part,
  });
}

function linesOf(step: Step) {
  const line = { description: 'Sharpening', qty: 1 + (step.at % 3), unitPriceMinor: 1 + step.part * 3 };
  const other = { description: 'Rivet', qty: 25, qtyScale: 1, unitPriceMinor: 333, taxed: step.yes };
  return step.how % 2 === 0 ? [line] : [line, other];
}

async function draft({ till, step, on, send }: Scene): Promise<Reply> {
  const taxPlaceId = pick(till.stocked.places, step.how) ?? null;
  const buyerId = pick(till.stocked.buyers, step.at);
  const saved = await send('billing.saveDraft', { buyerId, taxPlaceId, lines: linesOf(step) });
  if (!saved.ok) return saved;
  const paid = step.yes ? { paidBy: 'card', channelId: pick(till.stocked.channels, step.at) } : {};
  return send('billing.issueDraft', { id: (saved.value as { id: string }).id, issuedOn: on, ...paid });
}

async function service({ till, step, on, send }: Scene): Promise<Reply> {
  const saved = await send('care.saveService', {
    ...{ knife: 'an old bread knife', kind: 'repair', receivedOn: on, doneOn: on, sentOn: on },
    ...{ buyerId: pick(till.stocked.buyers, step.at), priceMinor: step.part * 7, postagePaidMinor: step.at },
  });
  if (!saved.ok) return saved;
  return send('care.invoiceService', {
    serviceId: (saved.value as { id: string }).id,
    taxPlaceId: pick(till.stocked.places, step.how) ?? null,
    issuedOn: on,
    paidBy: step.yes ? 'card' : '',
    channelId: step.yes ? pick(till.stocked.channels, step.how) : null,
  });
}

/** What an invoice asks beyond what was paid; below zero is money to give back. */
export async function openOn(till: Till, invoiceId: string): Promise<number> {
  return (await till.call('selling.invoice', { id: invoiceId })).openMinor;
}

/** Those that wait for it, where any do. */
async function waiting({ till, step }: Scene): Promise<string | undefined> {
  const all = invoices(till);
  const wanted: string[] = [];
  for (const id of all) {
    const open = await openOn(till, id);
    if (step.do === 'refund' ? open < 0 : open > 0) wanted.push(id);
  }
  return pick(wanted.length > 0 && step.how % 4 !== 0 ? wanted : all, step.at);
}

async function money(scene: Scene): Promise<Reply> {
  const { till, step, on, send } = scene;
  const invoiceId = await waiting(scene);
  if (invoiceId === undefined) return nothing;
  const openMinor = await openOn(till, invoiceId);
  const amountMinor = shareOf(step.part, Math.abs(openMinor) || 1_000);
  const given = { invoiceId, on, amountMinor, method: 'transfer' };
  if (step.do === 'refund') return send('billing.refund', { ...given, reason: 'paid too much' });
  const channelId = step.how % 3 === 0 ? pick(till.stocked.channels, step.how) : null;
  return send('selling.pay', { ...given, channelId });
}

async function credit({ till, step, on, send }: Scene): Promise<Reply> {
  const invoiceId = pick(invoices(till), step.at);
  if (invoiceId === undefined) return nothing;
  const { totalMinor } = await till.call('selling.invoice', { id: invoiceId });
  const part = step.part === 1000 ? {} : { amountMinor: shareOf(step.part, totalMinor) };
  return send('selling.credit', { invoiceId, on, reason: 'goodwill', knifeComesBack: step.yes, ...part });
}

function takeBack({ till, step, on, send }: Scene): Promise<Reply> {
  const sale = pick(
    till.db.all(till.db.q.selectFrom('sales').selectAll().where('taken_back_on', 'is', null).orderBy('id')),
    step.at,
  );
  if (sale === undefined) return Promise.resolve(nothing);
  const invoiced = till.db.one(
    till.db.q.selectFrom('invoices').select('id').where('sale_id', '=', sale.id).limit(1),
  );
  return send('care.takeBack', {
    ...{ saleId: sale.id, on, condition: 'edge chipped' },
    keptMinor: step.how % 2 === 0 ? 0 : shareOf(step.part, sale.price_minor),
    knife: pick(['shelf', 'shelf', 'kept', 'scrapped'], step.how),
    refundBy: step.yes && invoiced !== undefined ? 'card' : '',
  });
}

const year = { from: '2024-01-01', to: '2024-12-31' };

async function close({ till, send }: Scene): Promise<Reply> {
  const { checks } = await till.call('seals.outlook', year);
  const accepted = checks.filter((check) => !check.passed).map((check) => check.key);
  return send('seals.close', { ...year, accepted });
}

function knife({ till, step, on, send }: Scene): Promise<Reply> {
  const { db } = till;
  const id = (...states: readonly string[]): string =>
    pick(db.all(db.q.selectFrom('builds').select('id').where('state', 'in', states).orderBy('id')), step.at)
      ?.id ?? 'none';
  const order = pick(orders(till, 'offered', 'agreed'), step.how)?.id ?? 'none';
  if (step.do === 'link') return send('orders.link', { id: order, buildId: id('finished'), on, reason: 'x' });
  if (step.do === 'unlink') return send('orders.unlink', { id: order, on, reason: 'another one' });
  if (step.do === 'keep') {
    const as = step.yes ? 'kept' : 'scrapped';
    return send('builds.end', { id: id('finished'), as, on, reason: 'a gift' });
  }
  return send('builds.reopen', { id: id('kept', 'scrapped', 'finished'), reason: 'once more' }).then(
    (back) => (back.ok ? send('builds.finish', { id: (back.value as { id: string }).id, on }) : back),
  );
}

function change(scene: Scene): Promise<Reply> {
  const { till, step, on, send } = scene;
  const order = pick(orders(till, 'offered', 'agreed'), step.at);
  return send('orders.change', { id: order?.id ?? 'none', on, reason: 'other wood', ...specOf(scene) });
}

function sale({ till, step, on, send }: Scene): Promise<Reply> {
  const all = till.db.all(till.db.q.selectFrom('sales').select('id').orderBy('id'));
  const saleId = pick(all, step.at)?.id ?? 'none';
  if (step.do === 'issue') return send('selling.issue', { saleId, issuedOn: on });
  const spent = { postagePaidMinor: step.part, feeMinor: step.at };
  return send('selling.actuals', { saleId, ...spent, reason: 'as charged' });
}

function pattern({ till, step, send }: Scene): Promise<Reply> {
  const kind = pick(['deposit', 'credit', 'service'], step.at);
  if (step.do === 'pattern')
    return send('billing.setPattern', { kind, pattern: step.yes ? `${kind ?? ''}-{NNN}` : '' });
  const place = till.db.all(till.db.q.selectFrom('tax_places').selectAll().orderBy('id')).at(step.at % 5);
  return send('workshop.saveTaxPlace', {
    ...{ id: place?.id, name: place?.name, label: place?.label, ratePpm: 50_000 + step.part * 10 },
    ...{ onShipping: step.yes, inclusive: step.how % 2 === 0, rounding: 'invoice' },
    ...{ depositTax: pick(['deposit', 'balance', 'delivery'], step.how), forfeitTaxed: step.yes },
  });
}

/** Links a finished knife and pays the deposits. */
async function makeReady({ till, step, on, send }: Scene, orderId: string): Promise<void> {
  const { db } = till;
  const free = db.all(db.q.selectFrom('builds').select('id').where('state', '=', 'finished').orderBy('id'));
  const buildId = pick(free, step.at)?.id ?? 'none';
  await send('orders.link', { id: orderId, buildId, on, reason: 'it is done' });
  const papers = db.all(db.q.selectFrom('invoices').select('id').where('order_id', '=', orderId));
  for (const { id } of papers) {
    const open = await openOn(till, id);
    if (open > 0) await send('selling.pay', { invoiceId: id, on, amountMinor: open, method: 'card' });
  }
}

async function order(scene: Scene): Promise<Reply> {
  const { step, on, send } = scene;
  const agreed = await agreedOne(scene);
  const id = agreed?.id ?? 'none';
  const paidBy = step.yes ? 'card' : '';
  if (step.do === 'stepBack') return send('orders.stepBack', { id, reason: 'too early' });
  if (step.do === 'deliver' && step.how % 3 !== 0) await makeReady(scene, id);
  if (step.do === 'deliver') return send('orders.deliver', { id, on, paidBy, postagePaidMinor: step.part });
  const amountMinor = shareOf(step.part, (agreed?.price_minor ?? 0) / 4);
  return send('orders.invoiceDeposit', { id, on, amountMinor, paidBy });
}

async function reverse({ till, step, send }: Scene): Promise<Reply> {
  const all = till.db.all(till.db.q.selectFrom('payments').select('id').orderBy('seq'));
  const paymentId = pick(all, step.at)?.id ?? 'none';
  return send('selling.reversePayment', { paymentId, reason: 'the bank took it back' });
}

/** The deposit of a delivered order comes back from the bank, and its final invoice is taken back. @returns that one */
async function bounced({ till, step, on, send }: Scene): Promise<string> {
  const { q } = till.db;
  const finals = q.selectFrom('invoices').selectAll().where('kind', '=', 'balance').orderBy('id');
  const final = pick(till.db.all(finals), step.at);
  const deposits = q.selectFrom('invoices').select('id').where('kind', '=', 'deposit');
  const paid = q.selectFrom('payments').select('id').where('amount_minor', '>', 0).orderBy('seq');
  const own = paid.where('invoice_id', 'in', deposits.where('order_id', '=', final?.order_id ?? ''));
  for (const { id } of till.db.all(own))
    await send('selling.reversePayment', { paymentId: id, reason: 'the bank took it back' });
  const invoiceId = final?.id ?? 'none';
  await send('selling.credit', { invoiceId, on, reason: 'not as agreed', knifeComesBack: step.yes });
  return invoiceId;
}

/** Two invoices of an order against each other, where any stand so. */
async function setOff({ till, step, on, send }: Scene): Promise<Reply> {
  const found: string[] = [];
  for (const id of invoices(till))
    if ((await till.call('selling.invoice', { id })).setOff !== null) found.push(id);
  if (found.length === 0 && step.yes) found.push(await bounced({ till, step, on, send }));
  const wanted = found.length > 0 ? found : invoices(till);
  return send('selling.setOff', { invoiceId: pick(wanted, step.at) ?? 'none' });
}

async function reopen({ till, send }: Scene): Promise<Reply> {
  const [seal] = (await till.call('seals.list', {})).seals;
  return send('seals.reopen', { id: seal?.id ?? 'none', reason: 'a receipt turned up' });
}

const doings: Readonly<Record<string, (scene: Scene) => Promise<Reply>>> = {
  ...{ offer, agree, cancel, change, sell, draft, service, credit, takeBack, close, reverse, reopen, setOff },
  ...lookDoings,
  ...{ further: order, deliver: order, stepBack: order, pay: money, refund: money },
  ...{ link: knife, unlink: knife, keep: knife, bench: knife, issue: sale, actuals: sale },
  ...{ pattern, place: pattern },
};

/** Does one thing as a screen would; where it takes two calls, the answer is of the last one. */
export async function perform(
  till: Till,
  wanted: Step,
  send: Scene['send'] = (name, input) => till.core.call(name, input),
): Promise<Reply> {
  const today = addDays(till.clock.today(), wanted.days);
  till.clock.set(today);
  const on = addDays(today, -wanted.back);
  return (doings[wanted.do] ?? (() => Promise.resolve(nothing)))({ till, step: wanted, on, send });
}
