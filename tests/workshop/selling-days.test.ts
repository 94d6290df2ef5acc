/** Where days, fees and papers of a sale must not contradict each other. Invented data; texts are our own. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { LetterPaper } from '../../electron/documents/types.ts';
import { taxDueIn } from '../../electron/storage/queries/sheet-money.ts';
import { idOf, openShop, PIECE, plainKnife, saleOf, type Shop, siteOf } from './shop.ts';

let shop: Shop;
beforeAll(async () => {
  shop = await openShop({ now: '2025-06-30', currency: 'EUR' });
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

/** An order of 400.00, agreed on 5 January 2025 with its deposit paid by card. */
async function agreed(placeId: string | null, percentPpm: number): Promise<{ id: string; deposit: string }> {
  const terms = { percentPpm, keptPpm: 0, depositDays: 7, balanceDays: 7, refundable: 'always' } as const;
  const policy = await shop.call('orders.savePolicy', { name: 'Usual', from: '2024-01-01', ...terms });
  const wish = { buyerId: shop.buyerId, modelId: shop.modelId, wish: '', on: '2025-01-02' };
  const { id } = await shop.call('orders.ask', wish);
  const spec = { modelId: shop.modelId, wish: '', priceMinor: 40_000, channelId: siteOf(shop) };
  await shop.call('orders.offer', { id, on: '2025-01-02', ...spec, taxPlaceId: placeId });
  const done = await shop.call('orders.agree', { id, policyId: policy.id, on: '2025-01-05', paidBy: 'card' });
  return { id, deposit: done.invoiceId ?? '' };
}

it('a tiny deposit costs no more than it brings, and the order follows its days', async () => {
  // 0.01 % of 400.00 is 0.04; the channel’s fixed part alone would be 0.30.
  const { id, deposit } = await agreed(null, 100);
  expect((await shop.call('selling.invoice', { id: deposit })).payments).toMatchObject([
    { amountMinor: 4, feeMinor: 4 },
  ]);
  const knife = await plainKnife(shop);
  await shop.call('orders.link', { id, buildId: knife, on: '2025-02-10' });
  expect((await shop.fault('promises.list', { firstOrderId: id })).message).toContain('is finished already');
  const early = await shop.fault('orders.unlink', { id, on: '2025-02-09', reason: 'another one' });
  expect([early.field, early.message]).toEqual(['on', expect.stringContaining('since 2025-02-10') as string]);
  const pay = { invoiceId: deposit, on: '2025-02-20', amountMinor: 900, method: 'transfer' };
  await shop.call('selling.pay', pay);
  expect(await shop.fault('orders.deliver', { id, on: '2025-02-15' })).toMatchObject({
    field: 'on',
    message: expect.stringContaining('is booked on 2025-02-20') as string,
  });
  await shop.call('orders.deliver', { id, on: '2025-02-21', paidBy: 'card' });
  // 9.00 more than the deposit asked for came in.
  expect(await shop.call('orders.get', { id })).toMatchObject({ next: 'giveBack', giveBackMinor: 900 });
});

it('tax at delivery counts on the day of delivery, whenever the invoice is written', async () => {
  const place = {
    label: 'VAT',
    ratePpm: 190_000,
    onShipping: true,
    inclusive: true,
    rounding: 'invoice',
  } as const;
  const days: (string | null)[] = [];
  for (const depositTax of ['balance', 'delivery'] as const) {
    const { id: taxPlaceId } = await shop.call('workshop.saveTaxPlace', {
      ...place,
      name: depositTax,
      depositTax,
    });
    const knife = await plainKnife(shop);
    const sold = { on: '2025-03-28', taxPlaceId, invoice: false };
    const { saleId } = await shop.call('selling.sell', saleOf(shop, knife, sold));
    const { invoiceId } = await shop.call('selling.issue', { saleId, issuedOn: '2025-04-02' });
    const row = shop.db.one(shop.db.q.selectFrom('invoices').select('tax_on').where('id', '=', invoiceId));
    days.push(row?.tax_on ?? null);
  }
  // Null: the day it was issued. Ledgers of states differ in exactly this (trade notes, deposits by state).
  expect(days).toEqual([null, '2025-03-28']);
  const placesDue = (from: string, to: string) =>
    taxDueIn(shop.db, { from, to }).map(({ place: name }) => name);
  expect(placesDue('2025-03-01', '2025-03-31')).toEqual(['delivery']);
  expect(placesDue('2025-04-01', '2025-04-30')).toEqual(['balance']);
});

it('a reminder says how to pay what is still open, with the code of a transfer in euro', async () => {
  // The example account of the IBAN registry (ISO 13616).
  await shop.call('papers.save', { language: 'en', size: 'A4', iban: 'DE89 3704 0044 0532 0130 00' });
  const knife = await plainKnife(shop);
  const sold = await shop.call('selling.sell', saleOf(shop, knife, { on: '2025-04-10', taxPlaceId: null }));
  expect(shop.press.invoices.at(-1)?.payment?.code).not.toBeNull();
  const invoiceId = sold.invoiceId ?? '';
  await shop.call('selling.pay', { invoiceId, on: '2025-04-11', amountMinor: 6200, method: 'transfer' });
  await shop.call('billing.remind', { invoiceId, on: '2025-05-20', payBy: '2025-06-03' });
  const letter = shop.press.others.findLast(({ kind }) => kind === 'letter')?.data as LetterPaper;
  expect(letter.payment?.facts.find(({ text }) => text.includes('100.00'))?.label).toBe('Amount');
  // EPC069-12: line eight is the amount.
  expect(letter.payment?.code?.text.split('\n')[7]).toBe('EUR100');
});

it('a listed species inside a billet is named on the paper of the knife', async () => {
  const item = { kind: 'handle', form: 'piece', unit: 'piece', pieceWord: 'block' } as const;
  const billet = await shop.call('stock.saveItem', { name: 'Laminated scale', ...item });
  const walnut = idOf(shop.items, 'walnut');
  const [lot] = (await shop.call('stock.lots', { itemId: walnut })).rows;
  const papers = {
    species: 'Dalbergia cochinchinensis',
    listing: 'CITES II',
    origin: 'TH',
    paperNumber: 'P-77',
  };
  const kept = { heatNumber: '', place: '', note: '' };
  await shop.call('stock.moveLot', { lotId: lot?.id ?? '', ...kept, ...papers });
  const on = '2025-04-20';
  const { id: makingId } = await shop.call('makings.start', { title: 'LS-1', kind: 'billet', on });
  await shop.call('makings.take', { makingId, itemId: walnut, qty: PIECE, on });
  await shop.call('makings.finish', {
    makingId,
    on,
    outputs: [{ itemId: billet.id, qty: PIECE, share: 1_000_000_000 }],
  });
  const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on });
  const buildId = ids[0] ?? '';
  await shop.call('builds.start', { id: buildId, on });
  await shop.call('stock.draw', { buildId, itemId: billet.id, qty: PIECE, use: 'material', on });
  await shop.call('builds.finish', { id: buildId, on });
  await shop.call('selling.sell', saleOf(shop, buildId, { on: '2025-04-21', ticks: ['wildlife'] }));
  const text = shop.press.invoices
    .at(-1)
    ?.remarks.map((remark) => remark.text)
    .join('\n');
  expect(text).toContain('Dalbergia cochinchinensis');
});

it('two who look like one can be said to be two; the free first sharpening lasts as the maker says', async () => {
  const { id: otherId } = await shop.call('selling.saveBuyer', {
    name: 'Ottoline Fernshaw',
    address: '9 Hill',
  });
  expect(await shop.call('buyers.twins', {})).toHaveLength(1);
  await shop.call('buyers.keepApart', { oneId: otherId, otherId: shop.buyerId });
  expect(await shop.call('buyers.twins', {})).toEqual([]);
  const same = { oneId: otherId, otherId };
  expect(await shop.fault('buyers.keepApart', same)).toMatchObject({ field: 'otherId' });

  const buildId = await plainKnife(shop);
  await shop.call('selling.sell', saleOf(shop, buildId, { on: '2025-04-25' }));
  const terms = () => shop.call('care.serviceTerms', { buildId, kind: 'sharpening', on: '2025-05-30' });
  expect([await shop.call('care.settings', {}), (await terms()).free]).toEqual([{ freeMonths: 12 }, true]);
  await shop.call('care.saveSettings', { freeMonths: 1 });
  expect((await terms()).free).toBe(false);
  expect((await shop.fault('care.saveSettings', { freeMonths: 121 })).field).toBe('freeMonths');
});

it('a knife kept for somebody outside of a release says for whom, and shows no price of one', async () => {
  const buildId = await plainKnife(shop);
  await shop.call('releases.hold', { buildId, buyerId: shop.buyerId });
  expect(await shop.call('releases.ofBuild', { buildId })).toMatchObject({
    release: null,
    asked: null,
    claim: { buyerId: shop.buyerId },
  });
});
