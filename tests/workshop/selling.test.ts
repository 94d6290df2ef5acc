import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import {
  idOf,
  makeParing,
  numbersOf,
  openShop,
  pack,
  plainKnife,
  type Sale,
  saleOf,
  type Shop,
} from './shop.ts';

let shop: Shop;
const open = async (): Promise<void> => {
  shop = await openShop();
};
const close = async (): Promise<void> => {
  await shop.close();
};

describe('from finished knife to paid invoice', () => {
  let knife: string;
  beforeAll(async () => {
    await open();
    knife = await makeParing(shop, 'W03', 380);
    await pack(shop, knife, '2024-08-25');
  });
  afterAll(close);

  it('shows what a sale would bring and changes nothing', async () => {
    const { on: _on, buyerId: _buyer, ...terms } = saleOf(shop, knife);
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
    const sold = await shop.call('selling.sell', saleOf(shop, knife, { paidBy: 'card' }));
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
      prepaidMinor: 0,
      creditedMinor: 0,
      paidMinor: 17_253,
      openMinor: 0,
      state: 'paid',
      overdue: false,
      about: 'Tessel paring serial W03\nShipping ',
      saleId: sold.saleId,
      orderId: null,
      serviceId: null,
      setOff: null,
      buildId: knife,
      supplyOn: '2024-08-25',
      currency: 'USD',
      sellerName: 'Sedgewarren Edge Shop',
      sellerAddress: '4 Quarry Lane\nThistlemere',
      buyerAddress: '1 Reed Row\nFernshaw',
      language: 'en',
      taxReason: '',
      note: '',
      lines: [
        {
          description: 'Tessel paring',
          detail: 'serial W03',
          qty: 1,
          qtyScale: 0,
          unitPriceMinor: 15_000,
          netMinor: 15_000,
          taxRatePpm: 65_000,
        },
        {
          description: 'Shipping',
          detail: '',
          qty: 1,
          qtyScale: 0,
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
          reason: '',
          feeMinor: 0,
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
      // Paid on the spot: nothing says how to pay.
      payment: null,
      notes: ['Paid in full on 25 Aug 2024, with thanks. Nothing is left to pay.'],
    });
    const { rows } = await shop.call('selling.invoices', {});
    const file = await shop.call('selling.invoicePdf', { id: rows[0]?.id ?? '' });
    expect([file.name, Buffer.from(file.base64, 'base64').toString()]).toEqual([
      '2024-0001.pdf',
      JSON.stringify(paper),
    ]);
  });

  it('hands out no paper that was changed on the disk, but what the books still hold of it', async () => {
    const { rows } = await shop.call('selling.invoices', {});
    const file = path.join(shop.folder, 'documents', '2024-0001.pdf');
    const whole = fs.readFileSync(file);
    const change = () => {
      fs.writeFileSync(file, Buffer.concat([whole, Buffer.from(' ')]));
    };
    change();
    const { base64 } = await shop.call('selling.invoicePdf', { id: rows[0]?.id ?? '' });
    expect(Buffer.from(base64, 'base64')).toEqual(whole);
    shop.core.books.papers.settle();
    expect(fs.readFileSync(file)).toEqual(whole);
    fs.rmSync(path.join(shop.folder, 'documents', '2024-0001 (2).pdf'));
    change();
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
    knife = await plainKnife(shop);
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
    const fault = await shop.fault('selling.sell', { ...saleOf(shop, knife), ...wrong() });
    expect(fault.field).toBe(field);
    expect(fault.message).toMatch(message);
    expect((await shop.call('selling.sales', {})).total).toBe(0);
    expect(await numbersOf(shop)).toEqual([]);
  });

  it('refuses an unknown buyer', async () => {
    expect(await shop.fault('selling.sell', saleOf(shop, knife, { buyerId: 'nobody' }))).toMatchObject({
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
    await shop.call('selling.sell', saleOf(shop, knife, { invoice: false }));
    expect((await shop.fault('selling.sell', saleOf(shop, knife))).message).toMatch(/is sold already/);
  });
});

describe('numbers without gaps', () => {
  beforeEach(open);
  afterEach(close);

  it('follow on although papers fail and sales are refused between', async () => {
    let failures = 0;
    for (let n = 0; n < 6; n += 1) {
      const knife = await plainKnife(shop);
      if (n % 2 === 1) {
        shop.press.jam();
        expect(await shop.fault('selling.sell', saleOf(shop, knife))).toMatchObject({ kind: 'internal' });
        expect((await shop.call('builds.get', { id: knife })).state).toBe('finished');
        failures += 1;
      }
      await shop.fault('selling.sell', saleOf(shop, knife, { buyerId: 'nobody' }));
      await shop.call('selling.sell', saleOf(shop, knife));
    }
    expect(failures).toBe(3);
    expect(await numbersOf(shop)).toEqual([
      '2024-0001',
      '2024-0002',
      '2024-0003',
      '2024-0004',
      '2024-0005',
      '2024-0006',
    ]);
    expect(fs.readdirSync(path.join(shop.folder, 'documents')).sort()).toEqual(
      (await numbersOf(shop)).map((number) => `${number}.pdf`),
    );
  });

  it('begin again with the year and follow the days within it', async () => {
    const [a, b, c] = [await plainKnife(shop), await plainKnife(shop), await plainKnife(shop)];
    shop.clock.set('2025-02-01');
    await shop.call('selling.sell', saleOf(shop, a, { on: '2024-12-30' }));
    await shop.call('selling.sell', saleOf(shop, b, { on: '2025-01-10' }));
    expect(await shop.fault('selling.sell', saleOf(shop, c, { on: '2025-01-09' }))).toEqual({
      kind: 'invalid',
      field: 'on',
      message:
        'The last invoice was issued on 2025-01-10; numbers follow the days. Use that day or a later one.',
    });
    await shop.call('selling.sell', saleOf(shop, c, { on: '2024-12-31' }));
    expect(await numbersOf(shop)).toEqual(['2024-0001', '2024-0002', '2025-0001']);
  });

  it('go on in the same series after the pattern is written otherwise, and begin anew in another', async () => {
    const [a, b, c] = [await plainKnife(shop), await plainKnife(shop), await plainKnife(shop)];
    await shop.call('selling.sell', saleOf(shop, a));
    const { workshop } = await shop.call('workshop.state', {});
    if (!workshop) throw new Error('the workshop is set up');
    await shop.call('workshop.update', { ...workshop, invoicePattern: '20{YY}-{NNNNN}' });
    await shop.call('selling.sell', saleOf(shop, b));
    await shop.call('workshop.update', { ...workshop, invoicePattern: 'S/{YYYY}/{NN}' });
    await shop.call('selling.sell', saleOf(shop, c));
    expect(await numbersOf(shop)).toEqual(['2024-0001', '2024-00002', 'S/2024/01'].sort());
    expect(fs.readdirSync(path.join(shop.folder, 'documents'))).toContain('S-2024-01.pdf');
  });

  it('are drawn for invoices issued after the sale too', async () => {
    const knife = await plainKnife(shop);
    const { saleId } = await shop.call('selling.sell', saleOf(shop, knife, { invoice: false }));
    const draft = await shop.call('selling.draftPdf', { saleId });
    expect(draft.name).toBe('Draft invoice W04.pdf');
    expect(shop.press.invoices.at(-1)).toMatchObject({
      draftMark: 'Draft',
      number: '',
      totals: [{}, {}, { amount: '172.53' }],
    });
    expect(await numbersOf(shop)).toEqual([]);
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
