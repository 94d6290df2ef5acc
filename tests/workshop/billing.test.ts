/** Invoices in full: drafts, credits in part, refunds, reminders, what is owed, statements, numbers. Invented figures. */
import fs from 'node:fs';
import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import { openShop, plainKnife, saleOf, siteOf, type Shop } from './shop.ts';

let shop: Shop;
const open = async (): Promise<void> => {
  shop = await openShop();
};
const close = async (): Promise<void> => {
  await shop.close();
};
/** Sells a knife for 150.00 with 12.00 postage at 6.5 %: 172.53. */
const soldInvoice = async (more: Partial<Input<'selling.sell'>> = {}): Promise<string> =>
  (await shop.call('selling.sell', saleOf(shop, await plainKnife(shop), more))).invoiceId ?? '';
const pay = (invoiceId: string, amountMinor: number, on = '2024-09-01') =>
  shop.call('selling.pay', { invoiceId, on, amountMinor, method: 'transfer' });
const stands = async (id: string): Promise<readonly unknown[]> => {
  const { totalMinor, creditedMinor, paidMinor, openMinor, state } = await shop.call('selling.invoice', {
    id,
  });
  return [totalMinor, creditedMinor, paidMinor, openMinor, state];
};
const credit = (invoiceId: string, amountMinor?: number, on = '2024-09-10') =>
  shop.call('selling.credit', {
    invoiceId,
    on,
    reason: 'Scratched in the post',
    ...(amountMinor === undefined ? {} : { amountMinor }),
  });
const refund = (invoiceId: string, amountMinor: number) =>
  shop.call('billing.refund', {
    invoiceId,
    on: '2024-09-12',
    amountMinor,
    method: 'transfer',
    reason: 'Scratched in the post',
  });

describe('credits in part and refunds', () => {
  let id: string;
  beforeEach(async () => {
    await open();
    id = await soldInvoice({ paidBy: 'card' });
  });
  afterEach(close);

  it('take back a part, then no more than what is left, with money following', async () => {
    await credit(id, 5000);
    expect(await stands(id)).toEqual([17_253, 5000, 17_253, -5000, 'partCreditedOver']);
    expect(
      await shop.fault('billing.refund', {
        invoiceId: id,
        on: '2024-09-12',
        amountMinor: 5001,
        method: 'cash',
        reason: 'x',
      }),
    ).toEqual({
      kind: 'refused',
      field: 'amountMinor',
      message:
        'Only 50.00 was paid on 2024-0001 beyond what it asks. To give back more, credit that part of the invoice first.',
    });
    const back = await refund(id, 5000);
    expect(back).toMatchObject({ amountMinor: -5000, reason: 'Scratched in the post', reversesId: null });
    expect(await stands(id)).toEqual([17_253, 5000, 12_253, 0, 'partCredited']);
    const sale = (await shop.call('selling.invoice', { id })).saleId;
    expect((await shop.call('selling.sales', {})).rows.find((row) => row.id === sale)?.takenBack).toBe(false);
    expect(
      await shop.fault('selling.credit', {
        invoiceId: id,
        on: '2024-09-13',
        reason: 'x',
        amountMinor: 12_254,
      }),
    ).toEqual({
      kind: 'refused',
      field: 'amountMinor',
      message: 'Only 122.53 of this invoice is left to take back. Credit that much or less.',
    });
    await credit(id);
    expect(await stands(id)).toEqual([17_253, 17_253, 12_253, -12_253, 'creditedOver']);
    expect((await shop.call('selling.sales', {})).rows[0]?.takenBack).toBe(true);
    await refund(id, 12_253);
    expect(await stands(id)).toEqual([17_253, 17_253, 0, 0, 'credited']);
    const mistaken = (await shop.call('selling.invoice', { id })).payments.at(-1)?.id ?? '';
    await shop.call('selling.reversePayment', { paymentId: mistaken, reason: 'never left the bank' });
    expect((await stands(id))[3]).toBe(-12_253);
  });

  it('keep the tax whole however an invoice is taken back in parts', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 1, max: 9000 }), { maxLength: 5 }), async (parts) => {
        const one = await soldInvoice();
        let left = 17_253;
        for (const part of parts.filter((each) => each < 17_253)) {
          if (part >= left) break;
          await credit(one, part, '2024-08-25');
          left -= part;
        }
        await credit(one, undefined, '2024-08-25');
        const rows = (await shop.call('selling.invoices', {})).rows.filter((row) => row.kind === 'credit');
        const credits = await Promise.all(rows.map((row) => shop.call('selling.invoice', { id: row.id })));
        const own = credits.filter((each) => each.creditsId === one);
        const sum = (pick: (each: (typeof own)[number]) => number): number =>
          own.reduce((so, each) => so + pick(each), 0);
        expect([sum((c) => c.netMinor), sum((c) => c.taxMinor), sum((c) => c.totalMinor)]).toEqual([
          -16_200, -1053, -17_253,
        ]);
      }),
      { numRuns: 4 },
    );
  });

  it('refuse money in another currency, and a fee where it stands with the sale', async () => {
    const paid = { invoiceId: id, on: '2024-09-01', amountMinor: 100, method: 'cash' };
    expect(await shop.fault('selling.pay', { ...paid, currency: 'eur' })).toEqual({
      kind: 'refused',
      field: 'currency',
      message: 'Invoice 2024-0001 is in USD. Enter what arrived as USD, as your bank changed it.',
    });
    expect(await shop.fault('selling.pay', { ...paid, channelId: siteOf(shop) })).toMatchObject({
      kind: 'invalid',
      field: 'channelId',
    });
    expect(await stands(id)).toEqual([17_253, 0, 17_253, 0, 'paid']);
  });
});

const line = (more: Partial<Input<'billing.saveDraft'>['lines'][number]> = {}) => ({
  description: 'Sharpening',
  qty: 1,
  unitPriceMinor: 1500,
  ...more,
});

describe('drafts', () => {
  beforeAll(open);
  afterAll(close);

  it('are free until issued, then an invoice with a fee on its own payment', async () => {
    const taxPlaceId = shop.places[0]?.id ?? null;
    const draft = await shop.call('billing.saveDraft', {
      buyerId: shop.buyerId,
      taxPlaceId,
      lines: [
        line({ qty: 25, qtyScale: 1 }),
        line({ description: 'Postage', taxed: false, unitPriceMinor: 800 }),
      ],
    });
    // 2.5 × 15.00 = 37.50, tax 6.5 % of it 2.4375, rounded half up: 2.44 (D4).
    expect(
      await shop.call('billing.figures', { taxPlaceId, lines: draft.lines.map((one) => ({ ...one })) }),
    ).toMatchObject({ amountsMinor: [3750, 800], netMinor: 4550, taxMinor: 244, totalMinor: 4794 });
    expect(await shop.call('billing.drafts', {})).toMatchObject([
      { about: 'Sharpening', lines: 2, totalMinor: 4794 },
    ]);
    await shop.call('billing.draftPdf', { id: draft.id });
    expect(shop.press.invoices.at(-1)).toMatchObject({ draftMark: 'Draft', number: '' });
    const { invoiceId, number } = await shop.call('billing.issueDraft', {
      id: draft.id,
      issuedOn: '2024-09-02',
    });
    expect(number).toBe('2024-0001');
    expect(await shop.call('billing.drafts', {})).toEqual([]);
    expect(await shop.fault('billing.draft', { id: draft.id })).toMatchObject({ kind: 'missing' });
    const invoice = await shop.call('selling.invoice', { id: invoiceId });
    expect(invoice).toMatchObject({ kind: 'service', saleId: null, buildId: null, totalMinor: 4794 });
    expect(invoice.lines[0]).toMatchObject({ qty: 25, qtyScale: 1, unitPriceMinor: 1500, netMinor: 3750 });
    const paid = await shop.call('selling.pay', {
      invoiceId,
      on: '2024-09-03',
      amountMinor: 4794,
      method: 'card',
      channelId: siteOf(shop),
    });
    // 2.9 % of 47.94 = 1.39026, and 0.30.
    expect(paid.feeMinor).toBe(169);
    expect(await stands(invoiceId)).toEqual([4794, 0, 4794, 0, 'paid']);
  });

  it('count prices that hold the tax, by line or once, so that the lines add up', async () => {
    const place = await shop.call('workshop.saveTaxPlace', {
      name: 'Home, tax included',
      label: 'VAT',
      ratePpm: 190_000,
      onShipping: true,
      inclusive: true,
      rounding: 'invoice',
    });
    const lines = [
      line({ qty: 3, unitPriceMinor: 999 }),
      line({ unitPriceMinor: 1 }),
      line({ unitPriceMinor: 1 }),
    ];
    const figures = await shop.call('billing.figures', { taxPlaceId: place.id, lines });
    // 29.99 with 19 % in it: 29.99 × 19 / 119 = 4.7883; of the first line 29.97 × 19 / 119 = 4.7851 (CALC).
    expect(figures).toMatchObject({ taxMinor: 479, netMinor: 2520, totalMinor: 2999, inclusive: true });
    const draft = await shop.call('billing.saveDraft', {
      buyerId: shop.buyerId,
      taxPlaceId: place.id,
      lines,
    });
    const { invoiceId } = await shop.call('billing.issueDraft', { id: draft.id, issuedOn: '2024-09-04' });
    const invoice = await shop.call('selling.invoice', { id: invoiceId });
    expect(invoice.lines[0]).toMatchObject({ qty: 1, netMinor: 2518, detail: '3 × 9.99, tax included' });
    expect(invoice.lines.reduce((sum, one) => sum + one.netMinor, 0)).toBe(2520);
    // On a German paper the same words and a part taken back are German, with a decimal comma.
    const { id: buyerId } = await shop.call('selling.saveBuyer', { name: 'Orla Fennwick', language: 'de' });
    const german = await shop.call('billing.saveDraft', { buyerId, taxPlaceId: place.id, lines });
    const own = await shop.call('billing.issueDraft', { id: german.id, issuedOn: '2024-09-04' });
    const said = async (id: string) => (await shop.call('selling.invoice', { id })).lines[0];
    expect(await said(own.invoiceId)).toMatchObject({ detail: '3 × 9,99, Steuer enthalten' });
    const part = await shop.call('selling.credit', {
      invoiceId: own.invoiceId,
      on: '2024-09-04',
      reason: 'Kratzer',
      amountMinor: 500,
    });
    expect(await said(part.invoiceId)).toMatchObject({ description: `Teil der Rechnung ${own.number}` });
  });

  it('are paid in the step that issues them where said how, with the fee; asking nothing, they are never due', async () => {
    const issued = async (unitPriceMinor: number, more: Partial<Input<'billing.issueDraft'>>) => {
      const lines = [line({ unitPriceMinor })];
      const { id } = await shop.call('billing.saveDraft', { buyerId: shop.buyerId, lines });
      const made = await shop.call('billing.issueDraft', { id, issuedOn: '2024-09-04', ...more });
      return shop.call('selling.invoice', { id: made.invoiceId });
    };
    const paid = await issued(1500, { paidBy: 'card', channelId: siteOf(shop) });
    // 2.9 % of 15.00 is 0.435, rounded half away from zero 0.44, and 0.30 for the charge.
    expect([paid.state, paid.openMinor, paid.payments.map((one) => one.feeMinor)]).toEqual(['paid', 0, [74]]);
    expect(shop.press.invoices.at(-1)?.notes.join()).toContain('Paid in full');
    const free = await issued(0, { paidBy: 'cash' });
    expect([free.state, free.payments, shop.press.invoices.at(-1)?.facts.map((fact) => fact.label)]).toEqual([
      'paid',
      [],
      ['Invoice date', 'Date of supply'],
    ]);
  });

  it('hold 200 lines and names in any script; one line more is refused', async () => {
    const buyer = await shop.call('selling.saveBuyer', { name: 'שרה אבן 🔪 李雷', address: 'רחוב 1' });
    const lines = Array.from({ length: 200 }, (_, at) =>
      line({ description: `Schärfen 研ぐ 🔪 ${String(at)}` }),
    );
    const draft = await shop.call('billing.saveDraft', { buyerId: buyer.id, lines });
    const { invoiceId } = await shop.call('billing.issueDraft', { id: draft.id, issuedOn: '2024-09-05' });
    expect(await shop.call('selling.invoice', { id: invoiceId })).toMatchObject({
      buyerName: 'שרה אבן 🔪 李雷',
      totalMinor: 300_000,
    });
    expect(
      await shop.fault('billing.saveDraft', { buyerId: buyer.id, lines: [...lines, line()] }),
    ).toMatchObject({ kind: 'invalid', field: 'lines' });
    expect(
      await shop.fault('billing.saveDraft', { buyerId: buyer.id, lines: [line({ qty: -1 })] }),
    ).toMatchObject({ kind: 'invalid', field: 'lines' });
  });
});

describe('what is owed', () => {
  let ids: string[];
  beforeAll(async () => {
    await open();
    ids = [];
    for (const dueOn of ['2024-12-31', '2024-12-30', '2024-11-30', '2024-10-31', '2024-10-01', '2024-09-01'])
      ids.push(await soldInvoice({ dueOn }));
  });
  afterAll(close);

  it('stands in bands of thirty days, on any day gone by', async () => {
    const today = await shop.call('billing.ageing', { on: '2024-12-31' });
    // Due today; 1, 31, 61, 91 and 121 days ago.
    expect(today.rows.map((row) => [row.daysLate, row.band])).toEqual([
      [121, 'over90'],
      [91, 'over90'],
      [61, 'to90'],
      [31, 'to60'],
      [1, 'to30'],
      [0, 'notDue'],
    ]);
    expect(today.bands.map((band) => [band.count, band.openMinor])).toEqual([
      [1, 17_253],
      [1, 17_253],
      [1, 17_253],
      [1, 17_253],
      [2, 34_506],
    ]);
    await pay(ids[0] ?? '', 20_000, '2024-12-30');
    await credit(ids[1] ?? '', 253, '2024-12-31');
    const after = await shop.call('billing.ageing', { on: '2024-12-31' });
    expect([after.owedMinor, after.toGiveBackMinor, after.toGiveBack.length]).toEqual([86_012, 2747, 1]);
    const before = await shop.call('billing.ageing', { on: '2024-12-29' });
    expect([before.owedMinor, before.rows.length]).toEqual([103_518, 6]);
    await shop.call('billing.ageingPdf', { on: '2024-12-31' });
    expect(shop.press.others.at(-1)).toMatchObject({ kind: 'letter', data: { recipient: null } });
  });

  it('is asked for by letters that are kept as they were set', async () => {
    const id = ids[5] ?? '';
    const asked = { invoiceId: id, on: '2024-12-31', payBy: '2025-01-14' };
    expect(await shop.fault('billing.remind', { ...asked, payBy: '2024-12-30' })).toMatchObject({
      field: 'payBy',
    });
    expect(await shop.fault('billing.remind', { ...asked, on: '2024-09-01' })).toMatchObject({ field: 'on' });
    expect(await shop.fault('billing.remind', { ...asked, invoiceId: ids[0] ?? '' })).toMatchObject({
      kind: 'refused',
      message: 'Nothing is open on this invoice, so there is nothing to remind of.',
    });
    const first = await shop.call('billing.remind', asked);
    const second = await shop.call('billing.remind', asked);
    expect([first.nth, second.nth, second.openMinor]).toEqual([1, 2, 17_253]);
    expect((await shop.call('billing.reminders', { invoiceId: id })).map((one) => one.nth)).toEqual([1, 2]);
    const kept = await shop.call('billing.reminderPdf', { id: second.id });
    expect(Buffer.from(kept.base64, 'base64').toString()).toBe(
      JSON.stringify(shop.press.others.at(-1)?.data),
    );
    expect(shop.press.others.at(-1)?.data).toMatchObject({
      title: 'Reminder no. 2',
      totals: [{ label: 'Still open, USD', amount: '172.53', strong: true }],
    });
    const owed = await shop.call('billing.ageing', { on: '2024-12-31' });
    expect(owed.rows.find((row) => row.invoiceId === id)?.reminders).toBe(2);
  });

  it('adds up for each buyer: opening, what moved it, closing', async () => {
    const period = { buyerId: shop.buyerId, from: '2024-12-30', to: '2024-12-31' };
    const { openingMinor, rows, closingMinor } = await shop.call('billing.statement', period);
    expect(openingMinor).toBe(6 * 17_253);
    expect(rows.map((row) => [row.what, row.amountMinor])).toEqual([
      ['payment', -20_000],
      ['credit', -253],
    ]);
    expect(closingMinor).toBe(openingMinor - 20_253);
    const { owedMinor, toGiveBackMinor } = await shop.call('billing.ageing', { on: '2024-12-31' });
    expect(closingMinor).toBe(owedMinor - toGiveBackMinor);
    expect(await shop.fault('billing.statement', { ...period, to: '2024-12-29' })).toMatchObject({
      field: 'to',
    });
    await shop.call('billing.statementPdf', period);
    expect(shop.press.others.at(-1)).toMatchObject({
      kind: 'letter',
      data: { title: 'Statement of account' },
    });
  });
});

describe('numbers', () => {
  beforeAll(open);
  afterAll(close);

  it('run without gaps in each series and year, also when a pattern changes in the middle of one', async () => {
    const first = await soldInvoice();
    await shop.call('billing.setPattern', { kind: 'credit', pattern: 'C{YY}-{NNN}' });
    expect((await credit(first, 100)).number).toBe('C24-001');
    expect((await credit(first, 100)).number).toBe('C24-002');
    await shop.call('billing.setPattern', { kind: 'credit', pattern: '' });
    expect((await credit(first, 100)).number).toBe('2024-0002');
    const { workshop } = await shop.call('workshop.state', {});
    if (workshop === null) throw new Error('not set up');
    const { homeTaxPlaceId, ...details } = workshop;
    const change = (invoicePattern: string) =>
      shop.call('workshop.update', { ...details, homeTaxPlaceId, invoicePattern });
    await change('{YYYY}/{NN}');
    expect((await credit(first, 100, '2024-09-11')).number).toBe('2024/01');
    await change('{YYYY}-{NNNN}');
    expect((await credit(first, 100, '2024-09-11')).number).toBe('2024-0003');
    await change('{YYYY}-{NNN}');
    expect((await credit(first, 100, '2024-09-11')).number).toBe('2024-004');
    expect(await shop.fault('billing.setPattern', { kind: 'deposit', pattern: 'D-2024' })).toMatchObject({
      field: 'pattern',
    });
    expect(await shop.call('billing.patterns', {})).toEqual([
      { kind: 'deposit', pattern: '' },
      { kind: 'credit', pattern: '' },
      { kind: 'service', pattern: '' },
    ]);
  });

  it('are drawn in one transaction, without a flush of the paper or its folder before the answer', async () => {
    const knife = await plainKnife(shop);
    const entries = (): number =>
      shop.db.one(shop.db.q.selectFrom('journal').select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;
    const before = entries();
    const flush = vi.spyOn(fs, 'fsyncSync');
    try {
      await shop.call('selling.sell', saleOf(shop, knife, { on: '2024-12-01' }));
      // The books' own flush and those that follow later are counted from outside, in tests/storage/disk.test.ts.
      expect([flush.mock.calls.length, entries() - before]).toEqual([0, 1]);
    } finally {
      flush.mockRestore();
    }
  });

  it('and tax places refuse what contradicts itself', async () => {
    const place = {
      name: 'Within the Union',
      label: 'VAT',
      onShipping: true,
      inclusive: false,
      rounding: 'invoice' as const,
    };
    const fault = (ratePpm: number, category: 'S' | 'AE') =>
      shop.fault('workshop.saveTaxPlace', { ...place, ratePpm, category });
    expect([(await fault(0, 'S')).field, (await fault(190_000, 'AE')).field]).toEqual([
      'ratePpm',
      'category',
    ]);
    expect((await fault(1_000_001, 'S')).message).toBe('A rate cannot be above 100 %.');
    const { id } = await shop.call('workshop.saveTaxPlace', {
      ...place,
      ratePpm: 0,
      category: 'AE',
      note: 'Reverse charge',
    });
    const draft = await shop.call('billing.saveDraft', {
      buyerId: shop.buyerId,
      taxPlaceId: id,
      lines: [line()],
    });
    expect(await shop.fault('billing.issueDraft', { id: draft.id, issuedOn: '2024-09-20' })).toMatchObject({
      kind: 'refused',
      message: expect.stringContaining('tax number') as unknown,
    });
    // Outside the Union nothing is held against its article.
    expect(await shop.call('billing.check', { draftId: draft.id })).toEqual({ applies: false, missing: [] });
    const { workshop } = await shop.call('workshop.state', {});
    if (workshop === null) throw new Error('not set up');
    await shop.call('workshop.update', { ...workshop, country: 'DE' });
    const check = await shop.call('billing.check', { draftId: draft.id });
    expect([check.applies, check.missing.map((one) => one.item)]).toEqual([true, ['3', '4']]);
  });
});
