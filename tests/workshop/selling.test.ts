import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import { idOf, makeParing, openShop, pack, type Shop, siteOf } from './shop.ts';

let shop: Shop;
const open = async (): Promise<void> => {
  shop = await openShop();
};
const close = async (): Promise<void> => {
  await shop.close();
};

type Sale = Input<'selling.sell'>;
const saleOf = (buildId: string, more: Partial<Sale> = {}): Sale => ({
  buildId,
  channelId: siteOf(shop),
  taxPlaceId: shop.places[0]?.id ?? null,
  priceMinor: 15_000,
  shippingMinor: 1200,
  postagePaidMinor: 1205,
  buyerId: shop.buyerId,
  on: '2024-08-25',
  ...more,
});

/** Finishes a further knife of the model without any material. */
async function plainKnife(): Promise<string> {
  const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2024-07-06' });
  const id = ids[0] ?? '';
  await shop.call('builds.start', { id, on: '2024-07-06' });
  await shop.call('builds.finish', { id, on: '2024-07-06' });
  return id;
}

const numbers = async (): Promise<readonly string[]> =>
  (await shop.call('selling.invoices', {})).rows.map((row) => row.number).sort();

describe('from finished knife to paid invoice', () => {
  let knife: string;
  beforeAll(async () => {
    await open();
    knife = await makeParing(shop, 'W03', 380);
    await pack(shop, knife, '2024-08-25');
  });
  afterAll(close);

  it('shows what a sale would bring and changes nothing', async () => {
    const { on: _on, buyerId: _buyer, ...terms } = saleOf(knife);
    // Demo workshop, table of sales, W03: tax 10.53, fee 5.30, contribution 102.48, 16.18 per build hour.
    expect(await shop.call('selling.figures', terms)).toEqual({
      priceMinor: 15_000,
      shippingMinor: 1200,
      taxMinor: 1053,
      taxLabel: 'Sales tax',
      taxRatePpm: 65_000,
      totalMinor: 17_253,
      feeMinor: 530,
      feeHow: '2.9 % of 172.53 and 0.30',
      packagingMinor: 680,
      directMinor: 4217,
      contributionMinor: 10_248,
      minutes: 380,
      contributionPerHourMinor: 1618,
    });
    expect(await shop.call('selling.figures', { ...terms, taxPlaceId: null, abroad: true })).toMatchObject({
      feeMinor: 743,
      feeHow: '2.9 % and 1.5 % for abroad of 162.00 and 0.30',
    });
    expect((await shop.call('selling.sales', {})).total).toBe(0);
  });

  it('sells, issues the invoice and books its payment in one step', async () => {
    const sold = await shop.call('selling.sell', saleOf(knife, { paidBy: 'card' }));
    expect(sold.invoiceNumber).toBe('2024-0001');
    const invoice = await shop.call('selling.invoice', { id: sold.invoiceId ?? '' });
    const document = fs.readFileSync(path.join(shop.folder, 'documents', '2024-0001.pdf'));
    expect(invoice).toEqual({
      id: sold.invoiceId,
      number: '2024-0001',
      kind: 'sale',
      issuedOn: '2024-08-25',
      dueOn: '2024-09-08',
      buyerId: shop.buyerId,
      buyerName: 'Ottoline Fernshaw',
      totalMinor: 17_253,
      paidMinor: 17_253,
      openMinor: 0,
      state: 'paid',
      overdue: false,
      saleId: sold.saleId,
      buildId: knife,
      supplyOn: '2024-08-25',
      currency: 'USD',
      sellerName: 'Sedgewarren Edge Shop',
      sellerAddress: '4 Quarry Lane\nThistlemere',
      buyerAddress: '1 Reed Row\nFernshaw\nUS',
      note: '',
      lines: [
        {
          description: 'Tessel paring',
          detail: 'serial W03',
          qty: 1,
          unitPriceMinor: 15_000,
          netMinor: 15_000,
          taxRatePpm: 65_000,
        },
        {
          description: 'Shipping',
          detail: '',
          qty: 1,
          unitPriceMinor: 1200,
          netMinor: 1200,
          taxRatePpm: 65_000,
        },
      ],
      netMinor: 16_200,
      taxes: [{ label: 'Sales tax', ratePpm: 65_000, baseMinor: 16_200, taxMinor: 1053 }],
      taxMinor: 1053,
      payments: [
        {
          id: expect.any(String) as string,
          on: '2024-08-25',
          amountMinor: 17_253,
          method: 'card',
          reference: '',
          reversesId: null,
          reversedById: null,
        },
      ],
      creditsId: null,
      creditsNumber: null,
      creditedById: null,
      creditedByNumber: null,
      sha256: createHash('sha256').update(document).digest('hex'),
    });
    expect((await shop.call('builds.get', { id: knife })).state).toBe('sold');
  });

  it('puts the same figures on the paper and keeps it byte for byte', async () => {
    const paper = shop.press.invoices.at(-1);
    expect(paper).toMatchObject({
      title: 'Invoice',
      number: '2024-0001',
      draftMark: null,
      totals: [
        { label: 'Net', amount: '162.00' },
        { label: 'Sales tax 6.5 %', amount: '10.53' },
        { label: 'Total to pay, USD', amount: '172.53', strong: true },
      ],
    });
    const { rows } = await shop.call('selling.invoices', {});
    const file = await shop.call('selling.invoicePdf', { id: rows[0]?.id ?? '' });
    expect([file.name, Buffer.from(file.base64, 'base64').toString()]).toEqual([
      '2024-0001.pdf',
      JSON.stringify(paper),
    ]);
  });

  it('refuses to hand out a paper that was changed on the disk', async () => {
    const { rows } = await shop.call('selling.invoices', {});
    const file = path.join(shop.folder, 'documents', '2024-0001.pdf');
    const whole = fs.readFileSync(file);
    fs.writeFileSync(file, Buffer.concat([whole, Buffer.from(' ')]));
    expect(await shop.fault('selling.invoicePdf', { id: rows[0]?.id ?? '' })).toMatchObject({
      kind: 'storage',
    });
    fs.writeFileSync(file, whole);
  });

  it('books what was really paid for postage and fee', async () => {
    const before = await shop.call('selling.sales', { text: 'fernshaw' });
    expect(before.rows).toMatchObject([
      { serial: 'W03', contributionMinor: 10_248, invoiceNumber: '2024-0001', takenBack: false },
    ]);
    const row = await shop.call('selling.actuals', {
      saleId: before.rows[0]?.id ?? '',
      postagePaidMinor: 1305,
      feeMinor: 500,
      reason: 'statement',
    });
    expect(row).toMatchObject({
      postagePaidMinor: 1305,
      feeMinor: 500,
      contributionMinor: 10_248 - 100 + 30,
    });
  });

  it('lists what a buyer bought', async () => {
    expect(await shop.call('selling.buyer', { id: shop.buyerId })).toMatchObject({
      name: 'Ottoline Fernshaw',
      country: 'US',
      bought: 1,
      spentMinor: 17_253,
      lastBoughtOn: '2024-08-25',
      sales: [{ serial: 'W03' }],
      invoices: [{ number: '2024-0001' }],
    });
    expect((await shop.call('selling.buyers', { text: 'reed row' })).total).toBe(1);
    expect((await shop.call('selling.buyers', { text: 'nobody' })).total).toBe(0);
  });
});

describe('what cannot be sold', () => {
  let knife: string;
  beforeAll(async () => {
    await open();
    knife = await plainKnife();
  });
  afterAll(close);

  it.each<[string, () => Partial<Record<keyof Sale, unknown>>, string, string | RegExp]>([
    [
      'a knife still planned',
      () => ({ buildId: idOf(shop.knives, 'W01') }),
      'buildId',
      'W01 is not finished yet. Finish it first, then sell it.',
    ],
    [
      'before it was finished',
      () => ({ on: '2024-07-05' }),
      'buildId',
      /was finished on 2024-07-06 and cannot be sold before/,
    ],
    ['on a day to come', () => ({ on: '2025-01-01' }), 'on', /still to come/],
    ['below zero', () => ({ priceMinor: -1 }), 'priceMinor', 'An amount here cannot be below zero.'],
    [
      'through an unknown channel',
      () => ({ channelId: 'nowhere' }),
      'channelId',
      /way of selling is not in the books/,
    ],
    [
      'in an unknown tax place',
      () => ({ taxPlaceId: 'nowhere' }),
      'taxPlaceId',
      /tax place is not in the books/,
    ],
    [
      'for a fee above the whole sale',
      () => ({ feeMinor: 99_999 }),
      'feeMinor',
      /more than the whole sale of 172.53/,
    ],
    ['paid without an invoice', () => ({ invoice: false, paidBy: 'cash' }), 'paidBy', /booked on an invoice/],
    [
      'due before it is issued',
      () => ({ dueOn: '2024-08-01' }),
      'dueOn',
      /cannot be due before it is issued/,
    ],
  ])('refuses a sale %s', async (_, wrong, field, message) => {
    const fault = await shop.fault('selling.sell', { ...saleOf(knife), ...wrong() });
    expect(fault.field).toBe(field);
    expect(fault.message).toMatch(message);
    expect((await shop.call('selling.sales', {})).total).toBe(0);
    expect(await numbers()).toEqual([]);
  });

  it('refuses an unknown buyer', async () => {
    expect(await shop.fault('selling.sell', saleOf(knife, { buyerId: 'nobody' }))).toMatchObject({
      kind: 'missing',
    });
  });

  it('refuses a tax above the whole price where the place is entered', async () => {
    const place = {
      name: 'Odd',
      label: 'Tax',
      ratePpm: 1_000_001,
      onShipping: true,
      inclusive: false,
      rounding: 'invoice',
    };
    expect(await shop.fault('workshop.saveTaxPlace', place)).toEqual({
      kind: 'invalid',
      field: 'ratePpm',
      message: 'A rate cannot be above 100 %.',
    });
  });

  it('refuses to sell the same knife twice', async () => {
    await shop.call('selling.sell', saleOf(knife, { invoice: false }));
    expect((await shop.fault('selling.sell', saleOf(knife))).message).toMatch(/is sold already/);
  });
});

describe('numbers without gaps', () => {
  beforeEach(open);
  afterEach(close);

  it('follow on although papers fail and sales are refused between', async () => {
    let failures = 0;
    for (let n = 0; n < 6; n += 1) {
      const knife = await plainKnife();
      if (n % 2 === 1) {
        shop.press.jam();
        expect(await shop.fault('selling.sell', saleOf(knife))).toMatchObject({ kind: 'internal' });
        expect((await shop.call('builds.get', { id: knife })).state).toBe('finished');
        failures += 1;
      }
      await shop.fault('selling.sell', saleOf(knife, { buyerId: 'nobody' }));
      await shop.call('selling.sell', saleOf(knife));
    }
    expect(failures).toBe(3);
    expect(await numbers()).toEqual([
      '2024-0001',
      '2024-0002',
      '2024-0003',
      '2024-0004',
      '2024-0005',
      '2024-0006',
    ]);
    expect(fs.readdirSync(path.join(shop.folder, 'documents')).sort()).toEqual(
      (await numbers()).map((number) => `${number}.pdf`),
    );
  });

  it('begin again with the year and follow the days within it', async () => {
    const [a, b, c] = [await plainKnife(), await plainKnife(), await plainKnife()];
    shop.clock.set('2025-02-01');
    await shop.call('selling.sell', saleOf(a, { on: '2024-12-30' }));
    await shop.call('selling.sell', saleOf(b, { on: '2025-01-10' }));
    expect(await shop.fault('selling.sell', saleOf(c, { on: '2025-01-09' }))).toEqual({
      kind: 'invalid',
      field: 'on',
      message:
        'The last invoice was issued on 2025-01-10; numbers follow the days. Use that day or a later one.',
    });
    await shop.call('selling.sell', saleOf(c, { on: '2024-12-31' }));
    expect(await numbers()).toEqual(['2024-0001', '2024-0002', '2025-0001']);
  });

  it('go on in the same series after the pattern is written otherwise, and begin anew in another', async () => {
    const [a, b, c] = [await plainKnife(), await plainKnife(), await plainKnife()];
    await shop.call('selling.sell', saleOf(a));
    const { workshop } = await shop.call('workshop.state', {});
    if (!workshop) throw new Error('the workshop is set up');
    await shop.call('workshop.update', { ...workshop, invoicePattern: '20{YY}-{NNNNN}' });
    await shop.call('selling.sell', saleOf(b));
    await shop.call('workshop.update', { ...workshop, invoicePattern: 'S/{YYYY}/{NN}' });
    await shop.call('selling.sell', saleOf(c));
    expect(await numbers()).toEqual(['2024-0001', '2024-00002', 'S/2024/01'].sort());
    expect(fs.readdirSync(path.join(shop.folder, 'documents'))).toContain('S-2024-01.pdf');
  });

  it('are drawn for invoices issued after the sale too', async () => {
    const knife = await plainKnife();
    const { saleId } = await shop.call('selling.sell', saleOf(knife, { invoice: false }));
    const draft = await shop.call('selling.draftPdf', { saleId });
    expect(draft.name).toBe('Draft invoice W04.pdf');
    expect(shop.press.invoices.at(-1)).toMatchObject({
      draftMark: 'Draft',
      number: '',
      totals: [{}, {}, { amount: '172.53' }],
    });
    expect(await numbers()).toEqual([]);
    expect((await shop.fault('selling.issue', { saleId, issuedOn: '2024-08-24' })).field).toBe('issuedOn');
    const issued = await shop.call('selling.issue', {
      saleId,
      issuedOn: '2024-09-01',
      note: 'Thank you.\n\nOil the blade.',
    });
    expect(issued.number).toBe('2024-0001');
    expect(shop.press.invoices.at(-1)).toMatchObject({
      draftMark: null,
      notes: ['Thank you.', 'Oil the blade.'],
    });
    expect((await shop.fault('selling.issue', { saleId, issuedOn: '2024-09-01' })).message).toBe(
      'This sale has its invoice already: 2024-0001.',
    );
    expect(await shop.fault('selling.draftPdf', { saleId })).toMatchObject({ kind: 'refused' });
  });
});

describe('payments', () => {
  let invoiceId: string;
  beforeEach(async () => {
    await open();
    invoiceId = (await shop.call('selling.sell', saleOf(await plainKnife()))).invoiceId ?? '';
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
    knife = await plainKnife();
    invoiceId = (await shop.call('selling.sell', saleOf(knife, { paidBy: 'card' }))).invoiceId ?? '';
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
      state: 'credited',
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
    const again = await shop.call('selling.sell', saleOf(knife, { on: '2024-09-20' }));
    expect(again.invoiceNumber).toBe('2024-0003');
  });

  it('says so where the knife does not come back', async () => {
    await credit(false);
    expect(await shop.call('builds.get', { id: knife })).toMatchObject({
      state: 'kept',
      endReason: 'credited, not returned',
    });
  });

  it('leaves everything as it was when the paper fails', async () => {
    shop.press.jam();
    await shop.fault('selling.credit', { invoiceId, on: '2024-09-10', reason: 'x', knifeComesBack: true });
    expect(await numbers()).toEqual(['2024-0001']);
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
      saleOf(await plainKnife(), { taxPlaceId: id, priceMinor: 10_000, shippingMinor: 990 }),
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
    const sold = await shop.call('selling.sell', saleOf(await plainKnife(), { taxPlaceId: id }));
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
      saleOf(await plainKnife(), { taxPlaceId: id, invoice: false }),
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
            saleOf(await plainKnife(), { taxPlaceId: id, priceMinor, shippingMinor, feeMinor: 0 }),
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
