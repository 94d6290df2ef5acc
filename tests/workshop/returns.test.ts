/** Invoices for service, and knives that come back, through the real core. Invented data. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import { restocking } from '../../electron/domain/restocking.ts';
import { makeParing, numbersOf, openShop, plainKnife, saleOf, siteOf, type Shop } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(async () => {
  expect(shop.log.filter((line) => !line.includes('the press is jammed'))).toEqual([]);
  await shop.close();
});

const home = (): string | null => shop.places[0]?.id ?? null;

describe('the invoice of a service', () => {
  const done = { kind: 'sharpening', receivedOn: '2024-11-02', doneOn: '2024-11-03' } as const;
  const enter = (more: Partial<Input<'care.saveService'>> = {}) =>
    shop.call('care.saveService', {
      ...done,
      knife: 'Old chef',
      buyerId: shop.buyerId,
      priceMinor: 1500,
      ...more,
    });
  const bill = (serviceId: string, more: Partial<Input<'care.invoiceService'>> = {}) =>
    shop.call('care.invoiceService', { serviceId, taxPlaceId: home(), issuedOn: '2024-11-03', ...more });

  it('charges tax by the place, takes the fee of the way it was paid, and stands on the service', async () => {
    const { id } = await enter();
    const terms = { serviceId: id, taxPlaceId: home(), channelId: siteOf(shop) };
    // 6.5 % of 15.00 is 0.975, rounded half away from zero 0.98; 2.9 % of 15.98 is 0.46, and 0.30 for the charge.
    const figures = { netMinor: 1500, taxMinor: 98, totalMinor: 1598, feeMinor: 76 };
    expect(await shop.call('care.serviceFigures', terms)).toMatchObject(figures);
    const { invoiceId, number } = await bill(id, { paidBy: 'card', channelId: siteOf(shop) });
    expect(await shop.call('selling.invoice', { id: invoiceId })).toMatchObject({
      kind: 'service',
      supplyOn: '2024-11-03',
      totalMinor: 1598,
      openMinor: 0,
      lines: [{ description: 'Sharpening', detail: 'Old chef, received 2 Nov 2024', netMinor: 1500 }],
    });
    expect(shop.db.all(shop.db.q.selectFrom('payments').select('fee_minor'))).toEqual([{ fee_minor: 76 }]);
    expect(await shop.call('care.service', { id })).toMatchObject({ invoiceId, invoiceNumber: number });
    expect(await shop.fault('care.invoiceService', { ...terms, issuedOn: '2024-11-04' })).toMatchObject({
      kind: 'refused',
    });
    expect(
      await shop.fault('care.saveService', { ...done, id, knife: 'Old chef', priceMinor: 1 }),
    ).toMatchObject({
      kind: 'refused',
      field: 'priceMinor',
    });
    expect(await shop.fault('care.cancelService', { id, on: '2024-11-04', reason: 'x' })).toMatchObject({
      kind: 'refused',
    });
    const credit = { invoiceId, on: '2024-11-05', reason: 'Meant to be free', knifeComesBack: true };
    await shop.call('selling.credit', credit);
    expect(await shop.call('care.service', { id })).toMatchObject({ invoiceId: null });
    expect((await bill(id, { issuedOn: '2024-11-06' })).number).toBe('2024-0003');
  });

  it('is refused while something is missing, in words', async () => {
    const cases = [
      [await enter({ priceMinor: 0 }), 'free'],
      [await enter({ buyerId: null }), 'who pays'],
      [await enter({ doneOn: null }), 'not done'],
    ] as const;
    for (const [{ id: serviceId }, words] of cases) {
      const fault = await shop.fault('care.invoiceService', {
        serviceId,
        taxPlaceId: null,
        issuedOn: '2024-11-03',
      });
      expect(fault).toMatchObject({ kind: 'refused', message: expect.stringContaining(words) as unknown });
    }
    expect(await numbersOf(shop)).toEqual([]);
  });
});

describe('a knife that comes back', () => {
  const sell = async (more: Partial<Input<'selling.sell'>> = {}) => {
    const buildId = await plainKnife(shop);
    const sold = await shop.call('selling.sell', saleOf(shop, buildId, { paidBy: 'card', ...more }));
    return { buildId, ...sold, invoiceId: sold.invoiceId ?? '' };
  };
  const back = (saleId: string, more: Partial<Input<'care.takeBack'>> = {}): Input<'care.takeBack'> => ({
    saleId,
    on: '2024-09-10',
    condition: 'Unused',
    knife: 'shelf',
    ...more,
  });

  it('whole: the credit mirrors the invoice, the money goes back, and the knife is for sale again', async () => {
    const { saleId, invoiceId, buildId } = await sell();
    expect(await shop.call('care.returnFigures', { saleId })).toMatchObject({
      creditMinor: 17_253,
      refundMinor: 17_253,
      keptNetMinor: 0,
    });
    const done = await shop.call('care.takeBack', back(saleId, { refundBy: 'card' }));
    expect(done).toMatchObject({ creditNumber: '2024-0002', refundedMinor: 17_253 });
    expect(await shop.call('selling.invoice', { id: invoiceId })).toMatchObject({
      state: 'credited',
      openMinor: 0,
      paidMinor: 0,
    });
    const knife = await shop.call('builds.get', { id: buildId });
    expect(knife.state).toBe('finished');
    expect(knife.notes.at(-1)?.text).toBe('Came back from Ottoline Fernshaw on 2024-09-10: Unused');
    expect(await shop.fault('care.takeBack', back(saleId))).toMatchObject({
      kind: 'refused',
      field: 'saleId',
    });
  });

  it('with restocking: what is kept keeps its tax, and is income of the return', async () => {
    const { saleId, invoiceId, buildId } = await sell();
    // 20 % of 150.00 is 30.00, with 6.5 % tax 31.95; of 172.53 that leaves 140.58 to go back.
    const figures = { keptNetMinor: 3000, keptTaxMinor: 195, creditMinor: 14_058, refundMinor: 14_058 };
    expect(await shop.call('care.returnFigures', { saleId, keptMinor: 3000 })).toMatchObject(figures);
    const done = await shop.call(
      'care.takeBack',
      back(saleId, { keptMinor: 3000, refundBy: 'card', knife: 'scrapped', condition: 'Tip bent' }),
    );
    expect(await shop.call('selling.invoice', { id: done.creditId ?? '' })).toMatchObject({
      totalMinor: -14_058,
      netMinor: -13_200,
      taxMinor: -858,
      lines: [
        { netMinor: -15_000 },
        { netMinor: -1200 },
        { description: 'Kept for restocking', netMinor: 3000 },
      ],
    });
    expect(await shop.call('selling.invoice', { id: invoiceId })).toMatchObject({ openMinor: 0 });
    expect((await shop.call('builds.get', { id: buildId })).state).toBe('scrapped');
    // Kept 30.00, less 12.05 postage and the fee of 5.30.
    const margins = await shop.call('margins.period', { from: '2024-01-01', to: '2024-12-31' });
    expect(margins.total).toMatchObject({ count: 0, salesMinor: 3000, contributionMinor: 3000 - 1205 - 530 });
    expect((await shop.call('selling.sales', {})).rows).toMatchObject([
      { takenBack: true, contributionMinor: 3000 - 1205 - 530 },
    ]);
    const sheet = await shop.call('costs.sheet', { buildId });
    expect(sheet.remarks[0]).toContain('came back on 2024-09-10: $30.00 of its price was kept');
  });

  it('refuses more than the price, a day before the sale, and money back without an invoice', async () => {
    const { saleId } = await sell();
    const faults = [
      [back(saleId, { keptMinor: 15_001 }), 'keptMinor'],
      [back(saleId, { on: '2024-08-24' }), 'on'],
      [back(saleId, { on: '2025-01-01' }), 'on'],
      [back(saleId, { condition: '' }), 'condition'],
      [back((await sell({ invoice: false, paidBy: '' })).saleId, { refundBy: 'cash' }), 'refundBy'],
    ] as const;
    for (const [input, field] of faults)
      expect(await shop.fault('care.takeBack', input)).toMatchObject({ field });
    expect(await numbersOf(shop)).toEqual(['2024-0001']);
  });

  it('without an invoice ends the sale and books no paper', async () => {
    const { saleId, buildId } = await sell({ invoice: false, paidBy: '' });
    const done = await shop.call('care.takeBack', back(saleId, { knife: 'kept', keptMinor: 1000 }));
    expect(done).toEqual({ creditId: null, creditNumber: null, refundedMinor: 0 });
    expect(await shop.call('builds.get', { id: buildId })).toMatchObject({
      state: 'kept',
      endReason: 'came back: Unused',
    });
    expect((await shop.call('selling.sales', {})).rows[0]?.contributionMinor).toBe(1000 - 1205 - 530);
  });

  it('leaves everything as it was when the paper fails', async () => {
    const { saleId, buildId } = await sell();
    shop.press.jam();
    await shop.fault('care.takeBack', back(saleId));
    expect(await numbersOf(shop)).toEqual(['2024-0001']);
    expect((await shop.call('builds.get', { id: buildId })).state).toBe('sold');
  });

  it('counts nothing of the knife itself, whose cost stays with it', async () => {
    const buildId = await makeParing(shop, 'W01');
    const { saleId } = await shop.call('selling.sell', saleOf(shop, buildId));
    const before = (await shop.call('costs.sheet', { buildId })).directMinor;
    await shop.call('care.takeBack', back(saleId));
    const after = await shop.call('costs.sheet', { buildId });
    expect([after.directMinor, after.sale]).toEqual([before, null]);
  });
});

describe('what is kept and what goes back', () => {
  it('add up to what was asked, with tax on top or inside, at any rate', () => {
    const money = fc.integer({ min: 0, max: 1_000_000 });
    fc.assert(
      fc.property(
        money,
        money,
        fc.integer({ min: 0, max: 1_000_000 }),
        fc.boolean(),
        money,
        (price, more, rate, inclusive, kept) => {
          const tax = inclusive ? 0 : Math.round((price * rate) / 1_000_000);
          const totalMinor = price + more + tax;
          const parted = restocking({ priceMinor: price, ratePpm: rate, inclusive, totalMinor }, kept);
          if (!parted.ok) {
            expect(kept > price || kept > 0).toBe(true);
            return;
          }
          const { keptNetMinor, keptTaxMinor, backMinor } = parted.value;
          expect(keptNetMinor + keptTaxMinor + backMinor).toBe(totalMinor);
          expect(inclusive ? keptNetMinor + keptTaxMinor : keptNetMinor).toBe(kept);
          expect(backMinor).toBeGreaterThanOrEqual(0);
        },
      ),
      { numRuns: 200 },
    );
  });
});
