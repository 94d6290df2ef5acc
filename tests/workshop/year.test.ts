/** The yearly report through the real core: what happens later changes no year gone by, and bad input is told. Invented data. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { YearReport } from '../../electron/api/year.ts';
import { setImmediate } from 'node:timers/promises';
import { openRig } from './rig.ts';
import { makeParing, openShop, pack, type Shop, siteOf } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const first = { from: '2024-01-01', to: '2024-12-31' };
const second = { from: '2025-01-01', to: '2025-12-31' };
const report = (span: typeof first): Promise<YearReport> => shop.call('year.report', span);
const value = (one: YearReport, key: string): number | null | undefined =>
  [one.income, one.costs, one.cash].flatMap((section) => section.figures).find((figure) => figure.key === key)
    ?.value;
/** All that a year says, without the place in the journal and what is still to be mended. */
const said = ({ seq: _seq, gaps: _gaps, year: _year, ...rest }: YearReport): unknown => rest;

const sell = async (serial: string, more: object = {}): Promise<string> => {
  const buildId = await makeParing(shop, serial, 400);
  await pack(shop, buildId, '2024-12-10');
  const sale = await shop.call('selling.sell', {
    ...{ buildId, channelId: siteOf(shop), taxPlaceId: shop.places[0]?.id ?? null, buyerId: shop.buyerId },
    ...{ priceMinor: 15_000, shippingMinor: 1200, postagePaidMinor: 1205, on: '2024-12-10' },
    ...more,
  });
  return sale.saleId;
};

/** Rounding may not be more than half a cent for each line of a knife; everything else is explained. */
function balanced(one: YearReport): void {
  const { goods } = one;
  expect(goods.bridge.reduce((sum, line) => sum + line.amountMinor, 0)).toBe(goods.bridgeMinor);
  const rounding = goods.bridge.find((line) => line.key === 'bridge.rounding')?.amountMinor ?? 0;
  expect(Math.abs(rounding)).toBeLessThanOrEqual(8);
  expect(one.cashBridge.reduce((sum, line) => sum + line.amountMinor, 0)).toBe(
    (one.cash.total.value ?? 0) - (one.income.total.value ?? 0),
  );
}

describe('a year gone by', () => {
  it('stays as it was when a knife comes back, with the loss in the year it came back', async () => {
    const saleId = await sell('W01', { invoice: true, paidBy: 'card' });
    const was = await report(first);
    balanced(was);
    // 150.00 and 12.00 earned; 6.5 % of them, 10.53, is the tax office's, and was paid along.
    expect([value(was, 'income.knives'), value(was, 'cash.knives'), was.taxDue.value]).toEqual([
      15_000, 16_200, 1053,
    ]);
    expect(was.tax[0]?.collectedMinor).toBe(1053);
    shop.clock.set('2025-03-10');
    await shop.call('care.takeBack', {
      saleId,
      on: '2025-03-10',
      condition: 'scratched',
      knife: 'shelf',
      refundBy: 'bank',
      keptMinor: 2130,
    });
    expect(said(await report(first))).toEqual(said(was));
    const now = await report(second);
    balanced(now);
    // 21.30 are kept without tax, and 6.5 % of them, 1.38: the rest of 162.00 and of 10.53 went back.
    expect([value(now, 'income.knives'), value(now, 'income.shipping')]).toEqual([-15_000 + 2130, -1200]);
    expect([now.income.total.value, now.taxDue.value]).toEqual([-16_200 + 2130, -1053 + 138]);
    // The knife is back on the shelf at what it had cost.
    expect(now.direct.value).toBe(-(was.direct.value ?? 0));
    expect([now.rates.sold.value, now.closing.finishedMinor]).toEqual([-1, was.direct.value]);
  });

  it('stays as it was when costs are booked late on a knife that is sold; they count when booked', async () => {
    await sell('W01', { invoice: false });
    await sell('W02', { invoice: true });
    const was = await report(first);
    balanced(was);
    // Without an invoice it was paid when sold; with one it is not paid yet.
    expect(was.cashBridge.map((line) => [line.key, line.amountMinor])).toEqual([
      ['cashBridge.notPaid', -16_200],
    ]);
    shop.clock.set('2025-02-01');
    const invoice = (await shop.call('selling.invoices', {})).rows[0];
    await shop.call('selling.pay', {
      invoiceId: invoice?.id ?? '',
      on: '2025-02-01',
      amountMinor: 17_253,
      method: 'bank',
    });
    expect(said(await report(first))).toEqual(said(was));
    const now = await report(second);
    balanced(now);
    expect([now.income.total.value, now.cash.total.value]).toEqual([0, 16_200]);
    expect(now.cashBridge.map((line) => [line.key, line.amountMinor])).toEqual([
      ['cashBridge.earlierYears', 16_200],
    ]);
    expect(now.tax[0]).toMatchObject({ dueMinor: 0, collectedMinor: 1053 });
  });
});

/** Income of the sheet, goods, tax and fees say what the report of the same days says. */
async function sameOnTheSheet(span: typeof first): Promise<YearReport> {
  const [told, sheet] = [await report(span), await shop.call('preparer.sheet', span)];
  balanced(told);
  const from = sheet.lines.flatMap((line) => line.from);
  const of = (view: 'cashMinor' | 'earnedMinor', names: string): number =>
    from.filter(({ source }) => source.startsWith(names)).reduce((sum, one) => sum + one[view], 0);
  expect([of('earnedMinor', 'income.'), of('cashMinor', 'income.')]).toEqual([
    told.income.total.value,
    told.cash.total.value,
  ]);
  expect([of('earnedMinor', 'costs.fees'), of('earnedMinor', 'costs.freight')]).toEqual([
    value(told, 'costs.fees'),
    told.overhead.total.value,
  ]);
  const { goods } = told;
  expect([sheet.goods.openingMinor, sheet.goods.closingMinor, sheet.goods.byCountMinor]).toEqual([
    goods.openingMinor,
    goods.closingMinor,
    goods.byCountMinor,
  ]);
  expect(sheet.materials).toMatchObject({ boughtMinor: goods.boughtMinor, soldMinor: goods.soldMinor });
  const tax = (rows: readonly { baseMinor: number; dueMinor: number; collectedMinor: number }[]) =>
    (['baseMinor', 'dueMinor', 'collectedMinor'] as const).map((key) =>
      rows.reduce((sum, row) => sum + row[key], 0),
    );
  expect(tax(sheet.tax)).toEqual(tax(told.tax));
  return told;
}

describe('what goes back in a later year', () => {
  const taxOf = (one: YearReport) =>
    one.tax.map((row) => [row.place, row.baseMinor, row.dueMinor, row.collectedMinor]);

  /** 400.00 and 10 % on it; a quarter was paid ahead with its own tax, so 300.00 and 30.00 are left at delivery. */
  it('gives the tax of a deposit back as well, and counts once what it was on', async () => {
    const { id: taxPlaceId } = await shop.call('workshop.saveTaxPlace', {
      ...{ name: 'Yonder', label: 'VAT', ratePpm: 100_000, onShipping: true, inclusive: false },
      ...{ rounding: 'invoice', depositTax: 'deposit' },
    });
    const policy = await shop.call('orders.savePolicy', {
      ...{ name: 'Usual', from: '2024-01-01', percentPpm: 250_000, keptPpm: 0, refundable: 'never' },
      ...{ depositDays: 7, balanceDays: 7 },
    });
    const asked = { modelId: shop.modelId, wish: 'Walnut', on: '2024-09-01' };
    const { id } = await shop.call('orders.ask', { ...asked, buyerId: shop.buyerId });
    const offer = { priceMinor: 40_000, channelId: siteOf(shop), taxPlaceId };
    await shop.call('orders.offer', { ...asked, ...offer, id });
    await shop.call('orders.agree', { id, policyId: policy.id, on: '2024-09-12', paidBy: 'card' });
    await shop.call('orders.link', { id, buildId: await makeParing(shop, 'W01', 400), on: '2024-10-01' });
    expect(taxOf(await sameOnTheSheet(first))).toEqual([['Yonder', 10_000, 1000, 1000]]);
    shop.clock.set('2025-07-10');
    const { saleId } = await shop.call('orders.deliver', { id, on: '2025-02-02', paidBy: 'card' });
    const sold = await sameOnTheSheet(second);
    expect(taxOf(sold)).toEqual([['Yonder', 30_000, 3000, 3000]]);
    const back = { on: '2025-07-10', condition: 'As new', knife: 'shelf', refundBy: 'bank' } as const;
    await shop.call('care.takeBack', { ...back, saleId, keptMinor: 0 });
    const now = await sameOnTheSheet(second);
    // Of 440.00 given back 40.00 are tax: 30.00 of this year and 10.00 of the deposit's.
    expect([taxOf(now), now.cash.total.value]).toEqual([[['Yonder', -10_000, -1000, -1000]], -10_000]);
  });

  it('leaves the sheet of a year gone by as it was: a return, a bounced payment, goods sent back', async () => {
    const saleId = await sell('W01', { invoice: true, paidBy: 'card' });
    await sell('W02', { invoice: true, paidBy: 'card' });
    const line = {
      itemId: shop.items['walnut'] ?? '',
      pieces: 1,
      qtyEach: 1_000_000,
      priceMicro: 15_000_000,
    };
    const bought = await shop.call('stock.buy', {
      ...{ supplierId: shop.supplierId, on: '2024-12-21', lines: [line] },
      ...{ freightMicro: 12_000_000, freightRule: 'overhead' },
    });
    const service = await shop.call('care.saveService', {
      ...{ kind: 'sharpening', buyerId: shop.buyerId, knife: 'An old one' },
      ...{ receivedOn: '2024-12-01', doneOn: '2024-12-20', priceMinor: 4000 },
    });
    const { invoiceId } = await shop.call('care.invoiceService', {
      ...{ serviceId: service.id, taxPlaceId: null, issuedOn: '2024-12-20' },
      ...{ channelId: siteOf(shop), paidBy: 'card' },
    });
    const was = await sameOnTheSheet(first);
    expect(was.overhead.figures.map(({ key, value: minor }) => [key, minor])).toEqual([
      ['overhead.freight', 1200],
    ]);
    shop.clock.set('2025-03-10');
    const sheet = await shop.call('preparer.sheet', first);
    const [paid] = (await shop.call('selling.invoice', { id: invoiceId })).payments;
    await shop.call('selling.reversePayment', { paymentId: paid?.id ?? '', reason: 'It bounced' });
    const wrong = { kind: 'return', reason: 'The wrong wood', on: '2025-03-10', qty: 1_000_000 } as const;
    await shop.call('stock.takeOut', { lotId: bought.lotIds[0] ?? '', ...wrong });
    const back = { on: '2025-03-10', condition: 'scratched', knife: 'shelf', refundBy: 'bank' } as const;
    await shop.call('care.takeBack', { ...back, saleId, keptMinor: 2130 });
    const invoices = (await shop.call('selling.invoices', {})).rows;
    const lost = invoices.find((one) => one.paidMinor === 17_253)?.id ?? '';
    const gone = { on: '2025-03-10', reason: 'Lost in the post', knifeComesBack: false };
    await shop.call('selling.credit', { invoiceId: lost, ...gone });
    expect(said(await sameOnTheSheet(first))).toEqual(said(was));
    expect(await shop.call('preparer.sheet', first)).toEqual(sheet);
    const now = await sameOnTheSheet(second);
    // A knife lost on its way is a loss at what it had cost, and nobody's own use.
    expect([value(now, 'costs.scrap'), (was.direct.value ?? 0) / 2]).toEqual([4217, 4217]);
    expect((await shop.call('preparer.sheet', second)).goods.personalMinor).toBe(0);
    // What was bought last year and went back this year is bought less this year; 2.9 % of 40.00 and 0.30 came back.
    expect([now.goods.boughtMinor, value(now, 'costs.fees')]).toEqual([-1500, -146]);
  });
});

describe('what is opened and poured', () => {
  it('is stock while it waits, but for supplies that were an expense when bought, and every line opens', async () => {
    const item = { kind: 'oil', form: 'volume', unit: 'gal' } as const;
    const { id: counted } = await shop.call('stock.saveItem', { ...item, name: 'Fast oil' });
    const { id: loose } = await shop.call('stock.saveItem', { ...item, name: 'Slow oil', incidental: true });
    const roll = { kind: 'belt', form: 'piece', unit: 'piece', pieceWord: 'piece' } as const;
    const byOpening = { ...roll, consumedBy: 'opening' } as const;
    const { id: tape } = await shop.call('stock.saveItem', { ...byOpening, name: 'Tape', incidental: true });
    const { id: belt } = await shop.call('stock.saveItem', { ...byOpening, name: 'Belt 60 grit' });
    const [gallons, one] = [4_000_000_000, 1_000_000];
    const each = { pieces: 1, qtyEach: gallons, priceMicro: 100_000_000 };
    const lines = [
      { ...each, itemId: counted },
      { ...each, itemId: loose },
      { ...each, itemId: tape, qtyEach: one, pieces: 2, priceMicro: 9_000_000 },
      { ...each, itemId: belt, qtyEach: one, pieces: 3, priceMicro: 29_400_000 },
    ];
    await shop.call('stock.buy', { supplierId: shop.supplierId, on: '2024-07-03', lines });
    const knife = await makeParing(shop, 'W01', 400);
    for (const itemId of [counted, loose]) {
      const { id: bathId } = await shop.call('baths.save', {
        name: `Tank of ${itemId}`,
        itemId,
        lifeQuenches: 10,
      });
      await shop.call('baths.pour', { bathId, kind: 'fill', qty: gallons, on: '2024-07-11' });
      await shop.call('baths.quench', { bathId, on: '2024-07-12', buildIds: [knife] });
    }
    await shop.call('consumables.open', { itemId: belt, on: '2024-07-13' });
    const worn = await shop.call('consumables.open', { itemId: belt, on: '2024-07-13' });
    await shop.call('consumables.peg', { openingId: worn.id, to: 'gone', on: '2024-07-20' });
    await shop.call('consumables.open', { itemId: tape, on: '2024-07-13', shares: [{ buildId: knife }] });
    const told = await sameOnTheSheet(first);
    // One belt of 9.80 waits and one is worn out; 90.00 of the counted oil are left in its tank; a roll of 4.50 is in the knife.
    const bridge = Object.fromEntries(told.goods.bridge.map((line) => [line.key, line.amountMinor]));
    expect(bridge).toMatchObject({ 'bridge.openings': -980, 'bridge.baths': 1000, 'bridge.loose': 450 });
    expect(told.goods.suppliesMinor).toBe(10_900);
    const opens = told.goods.bridge.filter((line) => line.opens).map((line) => line.key);
    expect(opens).toEqual(expect.arrayContaining(['bridge.openings', 'bridge.baths', 'bridge.loose']));
    for (const key of [...opens, 'stock.raw.closing', 'goods.supplies']) {
      const { rows, sum } = await shop.call('year.entries', { ...first, key });
      expect([key, rows.reduce((so, row) => so + row.amount, 0)]).toEqual([key, sum]);
    }
  });
});

describe('fiscal years', () => {
  it('end on a leap day, refuse to overlap, and are still told with the clock a year back', async () => {
    const rule = { fromOn: '2023-03-01', month: 3, day: 1 };
    await shop.call('year.saveRule', rule);
    const names = async (): Promise<readonly string[]> =>
      (await shop.call('year.years', {})).years.map(({ from, to, state }) => `${from} ${to} ${state}`);
    expect(await names()).toEqual(['2024-03-01 2025-02-28 running', '2023-03-01 2024-02-29 past']);
    const overlap = await shop.fault('year.saveRule', { fromOn: '2024-07-01', month: 7, day: 1 });
    expect([overlap.kind, overlap.field, overlap.message]).toEqual([
      'invalid',
      'fromOn',
      'It would overlap the year from 2024-03-01 to 2025-02-28. Let it begin on 2024-03-01 or on 2025-03-01.',
    ]);
    expect((await shop.fault('year.saveRule', { ...rule, day: 31, month: 4 })).field).toBe('fromOn');
    expect((await shop.fault('year.dropRule', { fromOn: '2020-01-01' })).kind).toBe('refused');
    await sell('W01');
    const year = { from: '2024-03-01', to: '2025-02-28' };
    const then = await report(year);
    expect((await report({ from: '2023-03-01', to: '2024-02-29' })).rates.sold.value).toBe(0);
    shop.clock.set('2023-12-31');
    expect(await names()).toEqual(['2024-03-01 2025-02-28 toCome', '2023-03-01 2024-02-29 running']);
    expect((await report(year)).left.value).toBe(then.left.value);
    await shop.call('year.dropRule', { fromOn: '2023-03-01' });
    expect(await names()).toContain('2024-01-01 2024-12-31 toCome');
  });

  it('keep their days once they are closed', async () => {
    const rule = { fromOn: '2023-03-01', month: 3, day: 1 };
    await shop.call('year.saveRule', rule);
    const over = { from: '2023-03-01', to: '2024-02-29' };
    const { checks } = await shop.call('seals.outlook', over);
    const accepted = checks
      .filter((check) => !check.passed && check.weight === 'soft')
      .map((check) => check.key);
    await shop.call('seals.close', { ...over, accepted });
    for (const fromOn of ['2023-03-01', '2024-02-29'])
      expect(await shop.fault('year.saveRule', { ...rule, fromOn, month: 1 })).toMatchObject({
        kind: 'refused',
        field: 'fromOn',
      });
    expect((await shop.fault('year.dropRule', { fromOn: '2023-03-01' })).kind).toBe('refused');
    await shop.call('year.saveRule', { fromOn: '2024-03-01', month: 1, day: 1 });
  });

  it('must end after they begin and within twelve months', async () => {
    expect(await shop.fault('year.report', { from: '2024-12-31', to: '2024-01-01' })).toMatchObject({
      field: 'to',
    });
    expect(await shop.fault('year.report', { from: '2024-01-01', to: '2025-02-01' })).toMatchObject({
      field: 'to',
    });
    expect(await shop.fault('year.entries', { ...first, key: '' })).toMatchObject({ field: 'key' });
  });
});

describe('the report', () => {
  it('is of one moment, whatever is booked while it reckons', async () => {
    await sell('W01');
    const under = report(first);
    await setImmediate();
    const bought = {
      itemId: shop.items['walnut'] ?? '',
      pieces: 1,
      qtyEach: 1_000_000,
      priceMicro: 14_000_000,
    };
    await shop.call('stock.buy', { supplierId: shop.supplierId, on: '2024-12-12', lines: [bought] });
    const done = await under;
    balanced(done);
    expect(done.goods.boughtMinor).toBe(52_076 + 1400);
    expect(done).toEqual(await report(first));
  });

  it('names a stocktake that is not there, and stands empty in empty books, in yen too', async () => {
    await sell('W01', { invoice: false });
    shop.clock.set('2026-01-05');
    expect((await report(second)).gaps.map((gap) => gap.key)).toEqual(['openingCount', 'closingCount']);
    expect((await report(first)).gaps.map((gap) => gap.key)).toEqual(['noInvoice', 'closingCount']);
    const yen = await openRig({ currency: 'JPY' });
    const empty = await yen.call('year.report', first);
    expect([empty.decimals, empty.income.total.value, empty.rates.perHour.value, empty.gaps]).toEqual([
      0,
      0,
      null,
      [],
    ]);
    await yen.call('money.addIncome', {
      kind: 'content',
      payer: 'A reader',
      earnedOn: '2024-07-01',
      receivedOn: '2024-07-01',
      grossMinor: 5000,
    });
    const one = await yen.call('year.report', first);
    expect([one.income.total.value, one.cash.total.value, one.left.value]).toEqual([5000, 5000, 5000]);
    const below = { kind: 'content', payer: 'x', earnedOn: '2024-07-01', receivedOn: null, grossMinor: -1 };
    expect((await yen.fault('money.addIncome', below)).kind).toBe('invalid');
    await yen.close();
  });
});
