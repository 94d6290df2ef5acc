/** The history names what each entry is about, and is found by those names. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { idOf, ONE, openShop, pack, PIECE, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
let knife: string;
beforeAll(async () => {
  shop = await openShop();
  knife = await plainKnife(shop);
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const newest = async (): Promise<string> =>
  (await shop.call('workshop.history', { limit: 1 })).rows[0]?.summary ?? '';
const found = async (text: string): Promise<readonly string[]> =>
  (await shop.call('workshop.history', { text })).rows.map((row) => row.summary);

describe('a line of history', () => {
  it('names the knife, and what went into it', async () => {
    await pack(shop, knife);
    expect(await newest()).toBe('Took stock for a knife: W04, Packaging set');
    await shop.call('builds.charge', {
      buildId: knife,
      on: '2024-08-06',
      label: 'Tape',
      use: 'packaging',
      amountMicro: ONE,
    });
    expect(await newest()).toBe('Charged a cost to a knife: W04; Tape');
    const { charges } = await shop.call('builds.get', { id: knife });
    const [movement] = (await shop.call('stock.movements', { buildId: knife })).rows;
    await shop.call('builds.reverseCharge', { chargeId: charges[0]?.id ?? '', reason: 'wrong knife' });
    expect(await newest()).toBe('Took back a charge: W04, Tape; wrong knife');
    await shop.call('stock.reverse', { movementId: movement?.id ?? '', reason: 'not used' });
    expect(await newest()).toBe('Took back a movement of stock: W04, L-0006, Packaging set; not used');
  });

  it('names the knives of a session, those of a batch together', async () => {
    const shares = ['W01', 'W02'].map((serial) => ({ buildId: idOf(shop.knives, serial) }));
    const booked = await shop.call('hours.book', {
      on: '2024-07-20',
      minutes: 60,
      stageCode: 'GR2',
      workKind: null,
      shares,
    });
    expect(await newest()).toBe('Booked hours: W01, W02');
    await shop.call('hours.cancel', { sessionId: booked.id, reason: 'twice' });
    expect(await newest()).toBe('Cancelled hours: W01, W02; twice');
  });

  it('names the lot that was counted', async () => {
    const [lot] = (await shop.call('stock.lots', { itemId: idOf(shop.items, 'belt') })).rows;
    await shop.call('stock.count', {
      lotId: lot?.id ?? '',
      countedQty: 6 * PIECE,
      reason: 'found dull',
      on: '2024-08-01',
    });
    expect(await newest()).toBe('Counted a lot: L-0005, Belt 36 grit; found dull');
  });

  it('names buyer and invoice of a sale, a payment and a credit', async () => {
    const sold = await shop.call('selling.sell', saleOf(shop, knife));
    expect(await newest()).toBe('Sold a knife: W04, Ottoline Fernshaw, 2024-0001');
    const invoiceId = sold.invoiceId ?? '';
    const paid = await shop.call('selling.pay', {
      invoiceId,
      on: '2024-08-25',
      amountMinor: 100,
      method: 'cash',
    });
    expect(await newest()).toBe('Booked a payment: 2024-0001, Ottoline Fernshaw');
    await shop.call('selling.reversePayment', { paymentId: paid.id, reason: 'bounced' });
    expect(await newest()).toBe('Took back a payment: 2024-0001, Ottoline Fernshaw; bounced');
    await shop.call('selling.credit', {
      invoiceId,
      on: '2024-08-26',
      reason: 'sent back',
      knifeComesBack: true,
    });
    expect(await newest()).toBe('Credited an invoice: 2024-0001, Ottoline Fernshaw; sent back');
  });

  it('is found by serial, buyer, invoice number and lot', async () => {
    expect((await found('w04')).every((line) => line.includes('W04'))).toBe(true);
    expect((await found('w04')).length).toBeGreaterThanOrEqual(5);
    expect(await found('fernshaw')).toEqual(
      expect.arrayContaining([
        'Sold a knife: W04, Ottoline Fernshaw, 2024-0001',
        'Saved a buyer: Ottoline Fernshaw',
      ]),
    );
    expect(await found('2024-0001')).toContain('Booked a payment: 2024-0001, Ottoline Fernshaw');
    expect(await found('L-0005')).toEqual(['Counted a lot: L-0005, Belt 36 grit; found dull']);
    expect(await found('nothing bears this')).toEqual([]);
  });
});
