import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { numbersOf, openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
const open = async (): Promise<void> => {
  shop = await openShop();
};
const close = async (): Promise<void> => {
  await shop.close();
};

describe('payments', () => {
  let invoiceId: string;
  beforeEach(async () => {
    await open();
    invoiceId = (await shop.call('selling.sell', saleOf(shop, await plainKnife(shop)))).invoiceId ?? '';
  });
  afterEach(close);
  const pay = (amountMinor: number) =>
    shop.call('selling.pay', { invoiceId, on: '2024-09-01', amountMinor, method: 'transfer' });
  const state = async (): Promise<readonly unknown[]> => {
    const { paidMinor, openMinor, state: now } = await shop.call('selling.invoice', { id: invoiceId });
    return [paidMinor, openMinor, now];
  };

  it('may come in parts and be more than asked', async () => {
    expect(await state()).toEqual([0, 17_253, 'open']);
    await pay(10_000);
    expect(await state()).toEqual([10_000, 7253, 'partPaid']);
    await pay(7253);
    expect(await state()).toEqual([17_253, 0, 'paid']);
    await pay(1);
    expect(await state()).toEqual([17_254, -1, 'overpaid']);
  });

  it('are taken back by a row of the opposite amount, once', async () => {
    const payment = await pay(10_000);
    const back = await shop.call('selling.reversePayment', { paymentId: payment.id, reason: 'bounced' });
    expect(back).toMatchObject({ amountMinor: -10_000, on: '2024-12-31', reversesId: payment.id });
    expect(await state()).toEqual([0, 17_253, 'open']);
    expect(
      await shop.fault('selling.reversePayment', { paymentId: payment.id, reason: 'again' }),
    ).toMatchObject({ kind: 'refused' });
    expect(await shop.fault('selling.reversePayment', { paymentId: back.id, reason: 'again' })).toMatchObject(
      { kind: 'invalid' },
    );
  });

  it('refuse zero and days to come', async () => {
    const paid = { invoiceId, on: '2024-09-01', amountMinor: 100, method: 'cash' };
    expect(await shop.fault('selling.pay', { ...paid, amountMinor: 0 })).toEqual({
      kind: 'invalid',
      field: 'amountMinor',
      message: 'A payment must be more than zero.',
    });
    expect(await shop.fault('selling.pay', { ...paid, on: '2025-01-01' })).toMatchObject({ field: 'on' });
    expect(await shop.fault('selling.pay', { ...paid, invoiceId: 'none' })).toMatchObject({
      kind: 'missing',
    });
    expect(await state()).toEqual([0, 17_253, 'open']);
  });

  it('sort invoices into open, overdue and paid', async () => {
    const found = async (which: 'open' | 'overdue' | 'paid'): Promise<number> =>
      (await shop.call('selling.invoices', { state: which })).total;
    expect([await found('open'), await found('overdue'), await found('paid')]).toEqual([1, 1, 0]);
    shop.clock.set('2024-09-08');
    expect(await found('overdue')).toBe(0);
    await pay(17_253);
    expect([await found('open'), await found('paid')]).toEqual([0, 1]);
  });
});

describe('taking a sale back', () => {
  let knife: string;
  let invoiceId: string;
  beforeEach(async () => {
    await open();
    knife = await plainKnife(shop);
    invoiceId = (await shop.call('selling.sell', saleOf(shop, knife, { paidBy: 'card' }))).invoiceId ?? '';
  });
  afterEach(close);
  const credit = (knifeComesBack: boolean) =>
    shop.call('selling.credit', { invoiceId, on: '2024-09-10', reason: 'Loose ferrule', knifeComesBack });

  it('issues a credit of its own number that mirrors the invoice', async () => {
    const { invoiceId: creditId, number } = await credit(true);
    expect(number).toBe('2024-0002');
    expect(await shop.call('selling.invoice', { id: creditId })).toMatchObject({
      kind: 'credit',
      state: 'credit',
      totalMinor: -17_253,
      netMinor: -16_200,
      taxMinor: -1053,
      openMinor: 0,
      creditsId: invoiceId,
      creditsNumber: '2024-0001',
      note: 'Loose ferrule',
      lines: [
        { qty: -1, unitPriceMinor: 15_000, netMinor: -15_000 },
        { qty: -1, unitPriceMinor: 1200, netMinor: -1200 },
      ],
    });
    expect(shop.press.invoices.at(-1)).toMatchObject({
      title: 'Credit note',
      facts: expect.arrayContaining([{ label: 'Takes back invoice', text: '2024-0001' }]) as unknown,
    });
    expect(await shop.call('selling.invoice', { id: invoiceId })).toMatchObject({
      state: 'creditedOver',
      openMinor: -17_253,
      creditedByNumber: '2024-0002',
    });
    expect(
      await shop.fault('selling.pay', { invoiceId, on: '2024-09-11', amountMinor: 1, method: 'cash' }),
    ).toMatchObject({ kind: 'refused', field: 'invoiceId' });
    expect(
      await shop.fault('selling.credit', { invoiceId, on: '2024-09-11', reason: 'x', knifeComesBack: true }),
    ).toMatchObject({ kind: 'refused' });
    expect(
      await shop.fault('selling.credit', {
        invoiceId: creditId,
        on: '2024-09-11',
        reason: 'x',
        knifeComesBack: true,
      }),
    ).toMatchObject({ kind: 'refused' });
  });

  it('puts the knife back among the finished ones, to be sold again', async () => {
    await credit(true);
    expect((await shop.call('builds.get', { id: knife })).state).toBe('finished');
    expect((await shop.call('selling.sales', {})).rows).toMatchObject([{ takenBack: true }]);
    const again = await shop.call('selling.sell', saleOf(shop, knife, { on: '2024-09-20' }));
    expect(again.invoiceNumber).toBe('2024-0003');
  });

  it('says so where the knife does not come back', async () => {
    await credit(false);
    expect(await shop.call('builds.get', { id: knife })).toMatchObject({
      state: 'kept',
      endReason: 'credited, not returned',
    });
  });

  it('lowers what the sale brought by a part credit, alike in the list, the margins and on the cost sheet', async () => {
    const knife = await plainKnife(shop);
    const { saleId, invoiceId } = await shop.call('selling.sell', saleOf(shop, knife));
    const brought = async () => {
      const row = (await shop.call('selling.sales', {})).rows.find((one) => one.id === saleId);
      const margin = await shop.call('margins.period', { from: '2024-01-01', to: '2024-12-31' });
      const inMargins = margin.knives.find((one) => one.saleId === saleId);
      const sheet = (await shop.call('costs.sheet', { buildId: knife })).sale;
      return {
        price: [row?.priceMinor, inMargins?.priceMinor, sheet?.priceMinor],
        tax: [row?.taxMinor, sheet?.taxMinor],
        left: [row?.contributionMinor, inMargins?.contributionMinor, sheet?.contributionMinor],
      };
    };
    const before = await brought();
    const part = { amountMinor: 5000, knifeComesBack: false };
    await shop.call('selling.credit', {
      invoiceId: invoiceId ?? '',
      on: '2024-09-02',
      reason: 'scratched',
      ...part,
    });
    const after = await brought();
    // 50.00 with 6.5 % inside is 46.95 and 3.05.
    expect(after.price).toEqual(before.price.map((minor) => (minor ?? 0) - 4695));
    expect(after.tax).toEqual(before.tax.map((minor) => (minor ?? 0) - 305));
    expect(after.left).toEqual(before.left.map((minor) => (minor ?? 0) - 4695));
  });

  it('leaves everything as it was when the paper fails', async () => {
    shop.press.jam();
    await shop.fault('selling.credit', { invoiceId, on: '2024-09-10', reason: 'x', knifeComesBack: true });
    expect(await numbersOf(shop)).toEqual(['2024-0001']);
    expect((await shop.call('builds.get', { id: knife })).state).toBe('sold');
    expect((await credit(true)).number).toBe('2024-0002');
  });
});

describe('tax by place', () => {
  beforeAll(open);
  afterAll(close);
  const place = (more: object) =>
    shop.call('workshop.saveTaxPlace', {
      name: 'P',
      label: 'VAT',
      ratePpm: 190_000,
      onShipping: true,
      inclusive: true,
      rounding: 'invoice',
      ...more,
    });

  it('takes the tax out of prices that contain it, and net and tax add up to what is paid', async () => {
    const { id } = await place({ name: 'Inside' });
    const sold = await shop.call(
      'selling.sell',
      saleOf(shop, await plainKnife(shop), { taxPlaceId: id, priceMinor: 10_000, shippingMinor: 990 }),
    );
    // 109.90 × 19 / 119 = 17.5470…; the price's part 15.97, shipping's 1.58.
    expect(await shop.call('selling.invoice', { id: sold.invoiceId ?? '' })).toMatchObject({
      netMinor: 9235,
      taxMinor: 1755,
      totalMinor: 10_990,
      lines: [{ netMinor: 8403 }, { netMinor: 832 }],
    });
    const { rows } = await shop.call('selling.sales', {});
    expect(rows.find((row) => row.id === sold.saleId)).toMatchObject({
      priceMinor: 8403,
      shippingMinor: 832,
      taxMinor: 1755,
    });
  });

  it('leaves shipping out where the place does', async () => {
    const { id } = await place({ name: 'Goods only', ratePpm: 65_000, inclusive: false, onShipping: false });
    const sold = await shop.call('selling.sell', saleOf(shop, await plainKnife(shop), { taxPlaceId: id }));
    expect(await shop.call('selling.invoice', { id: sold.invoiceId ?? '' })).toMatchObject({
      taxMinor: 975,
      totalMinor: 17_175,
      taxes: [{ baseMinor: 15_000, taxMinor: 975 }],
      lines: [{ taxRatePpm: 65_000 }, { taxRatePpm: 0 }],
    });
  });

  it('keeps a sale’s own rate when the place changes later, and prints why no tax is charged', async () => {
    const { id } = await place({
      name: 'Export',
      label: 'Tax',
      ratePpm: 0,
      inclusive: false,
      note: 'Export, no tax charged.',
    });
    const { saleId } = await shop.call(
      'selling.sell',
      saleOf(shop, await plainKnife(shop), { taxPlaceId: id, invoice: false }),
    );
    await place({ id, name: 'Export', label: 'Tax', ratePpm: 100_000, inclusive: false });
    const { invoiceId } = await shop.call('selling.issue', { saleId, issuedOn: '2024-08-25' });
    expect(await shop.call('selling.invoice', { id: invoiceId })).toMatchObject({
      taxMinor: 0,
      totalMinor: 16_200,
      taxes: [],
    });
    expect(shop.press.invoices.at(-1)?.notes).toEqual(['Export, no tax charged.']);
  });

  it('always gives an invoice that adds up, whatever the rule and the prices', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.record({
          ratePpm: fc.integer({ min: 0, max: 1_000_000 }),
          onShipping: fc.boolean(),
          inclusive: fc.boolean(),
          rounding: fc.constantFrom('invoice' as const, 'line' as const),
          priceMinor: fc.integer({ min: 0, max: 500_000 }),
          shippingMinor: fc.integer({ min: 0, max: 20_000 }),
        }),
        async ({ priceMinor, shippingMinor, ...rule }) => {
          const { id } = await place(rule);
          const sold = await shop.call(
            'selling.sell',
            saleOf(shop, await plainKnife(shop), { taxPlaceId: id, priceMinor, shippingMinor, feeMinor: 0 }),
          );
          const invoice = await shop.call('selling.invoice', { id: sold.invoiceId ?? '' });
          const sum = invoice.lines.reduce((so, line) => so + line.netMinor, 0);
          expect(sum).toBe(invoice.netMinor);
          expect(invoice.netMinor + invoice.taxMinor).toBe(invoice.totalMinor);
          const typed = priceMinor + shippingMinor;
          expect(rule.inclusive ? invoice.totalMinor : invoice.netMinor).toBe(typed);
          const base = invoice.taxes[0]?.baseMinor ?? 0;
          expect(Math.abs(invoice.taxMinor * 1_000_000 - base * rule.ratePpm)).toBeLessThanOrEqual(2_000_000);
        },
      ),
      { numRuns: 25 },
    );
  });
});
