/** Money paid ahead where it goes astray most easily: paid twice, credited, taken back, kept. Invented data. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { InvoiceDetail } from '../../electron/api/selling.ts';
import { openShop, plainKnife, saleOf, type Shop, siteOf } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop({ now: '2025-06-30' });
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const spec = (placeId: string | null, priceMinor = 40_000) => ({
  modelId: shop.modelId,
  wish: 'Walnut',
  priceMinor,
  channelId: siteOf(shop),
  taxPlaceId: placeId,
});

/** An order of 400.00 with a quarter paid ahead by card. */
async function agreed(
  placeId: string | null,
  keptPpm = 500_000,
  name = 'Usual',
): Promise<{ id: string; deposit: string }> {
  const terms = {
    percentPpm: 250_000,
    keptPpm,
    depositDays: 7,
    balanceDays: 7,
    refundable: 'never',
  } as const;
  const policy = await shop.call('orders.savePolicy', { name, from: '2024-01-01', ...terms });
  const { id } = await shop.call('orders.ask', {
    buyerId: shop.buyerId,
    modelId: shop.modelId,
    wish: '',
    on: '2024-09-01',
  });
  await shop.call('orders.offer', { id, on: '2024-09-01', ...spec(placeId) });
  const done = await shop.call('orders.agree', { id, policyId: policy.id, on: '2024-09-12', paidBy: 'card' });
  return { id, deposit: done.invoiceId ?? '' };
}

const invoice = (id: string): Promise<InvoiceDetail> => shop.call('selling.invoice', { id });
const receivedIn2025 = async (): Promise<number | null> =>
  (await shop.call('year.report', { from: '2025-01-01', to: '2025-12-31' })).cash.total.value;
const home = (): string | null => shop.places[0]?.id ?? null;

describe('a deposit', () => {
  it('paid too much is kept as far as it was asked; the rest goes back', async () => {
    const { id, deposit } = await agreed(null, 1_000_000);
    await shop.call('selling.pay', {
      invoiceId: deposit,
      on: '2024-09-13',
      amountMinor: 5000,
      method: 'transfer',
    });
    const order = await shop.call('orders.get', { id });
    expect(order.cancelling).toMatchObject({ paidMinor: 15_000, keptMinor: 10_000, refundMinor: 5000 });
    const done = await shop.call('orders.cancel', {
      id,
      on: '2024-09-20',
      reason: 'lost heart',
      refundBy: 'card',
    });
    expect(done).toMatchObject({ keptMinor: 10_000, refundMinor: 5000 });
    expect(await invoice(deposit)).toMatchObject({ paidMinor: 10_000, openMinor: 0 });
    expect(await shop.call('orders.head', {})).toMatchObject({
      keptMinor: 10_000,
      giveBackMinor: 0,
      heldMinor: 0,
    });
  });

  it('lets the price sink once a part of it was credited', async () => {
    const { id, deposit } = await agreed(home());
    const lower = { id, on: '2024-09-14', reason: 'without the bolster', ...spec(home(), 5000) };
    expect(await shop.fault('orders.change', lower)).toMatchObject({ kind: 'refused', field: 'priceMinor' });
    const part = { on: '2024-09-13', reason: 'a smaller knife', knifeComesBack: true };
    await shop.call('selling.credit', { invoiceId: deposit, amountMinor: 6000, ...part });
    expect((await shop.call('orders.change', lower)).totalMinor).toBe(5000);
  });

  it('never comes to more than the knife where prices hold the tax', async () => {
    const { id: placeId } = await shop.call('workshop.saveTaxPlace', {
      name: 'Inside',
      label: 'VAT',
      ratePpm: 200_000,
      onShipping: true,
      inclusive: true,
      rounding: 'invoice',
      depositTax: 'deposit',
    });
    const { id, deposit } = await agreed(placeId);
    expect(await invoice(deposit)).toMatchObject({ totalMinor: 10_000, taxMinor: 1667 });
    const more = { id, on: '2024-09-13', amountMinor: 30_001 };
    expect(await shop.fault('orders.invoiceDeposit', more)).toMatchObject({ field: 'amountMinor' });
    await shop.call('orders.invoiceDeposit', { ...more, amountMinor: 30_000, paidBy: 'card' });
    await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2024-10-01' });
    const done = await shop.call('orders.deliver', { id, on: '2024-10-02' });
    // 400.00 with 66.67 in it; both deposits hold 16.67 and 50.00 of that.
    expect(await invoice(done.invoiceId)).toMatchObject({
      totalMinor: 40_000,
      taxMinor: 6667,
      prepaidMinor: 40_000,
      openMinor: 0,
    });
  });

  it('has cost its fee already where a doubtful knife is weighed', async () => {
    const { id } = await agreed(home());
    const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2024-09-13' });
    const buildId = ids[0] ?? '';
    await shop.call('orders.link', { id, buildId, on: '2024-10-01' });
    const { ways } = await shop.call('ways.reckon', { buildId });
    const found = (way: string) => ways.find((one) => one.way === way);
    // 400.00 and 6.5 % are 426.00; 100.00 are paid ahead, so 2.9 % of 326.00 are 9.45, and 0.30.
    expect(found('asPlanned')).toMatchObject({ priceMinor: 40_000, feeMinor: 975 });
    // A second is sold anew: 30 % less is 280.00, with tax 298.20, its fee 8.65 and 0.30.
    expect(found('second')).toMatchObject({ priceMinor: 28_000, feeMinor: 895 });
  });

  it('taken out of the books takes its fee along', async () => {
    const { id, deposit } = await agreed(home());
    const [paid] = (await invoice(deposit)).payments;
    expect(paid?.feeMinor).toBe(320);
    await shop.call('selling.reversePayment', { paymentId: paid?.id ?? '', reason: 'booked twice' });
    await shop.call('selling.pay', {
      invoiceId: deposit,
      on: '2024-09-13',
      amountMinor: 10_000,
      method: 'cash',
    });
    await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2024-10-01' });
    await shop.call('orders.deliver', { id, on: '2024-10-02', feeMinor: 0 });
    expect((await shop.call('selling.sales', {})).rows[0]?.feeMinor).toBe(0);
  });

  it('kept and then credited too is kept no more', async () => {
    const { id, deposit } = await agreed(home());
    await shop.call('orders.cancel', { id, on: '2024-09-20', reason: 'lost heart', refundBy: 'card' });
    const credit = { invoiceId: deposit, on: '2024-09-21', reason: 'goodwill', knifeComesBack: false };
    await shop.call('selling.credit', { ...credit, amountMinor: 2000 });
    expect(await shop.call('orders.head', {})).toMatchObject({ keptMinor: 3000, giveBackMinor: 2000 });
    await shop.call('selling.credit', credit);
    expect(await shop.call('orders.head', {})).toMatchObject({ keptMinor: 0, giveBackMinor: 5000 });
    // A year that ended between keeps what was kept in it; the one after gives it back, and owes the money.
    const told = async (from: string, to: string) => {
      const { income, heldMinor, cashBridge, cash } = await shop.call('year.report', { from, to });
      const kept = income.figures.find((one) => one.key === 'income.kept')?.value;
      const apart = cashBridge.reduce((sum, line) => sum + line.amountMinor, 0);
      expect(apart).toBe((cash.total.value ?? 0) - (income.total.value ?? 0));
      return [kept, heldMinor];
    };
    expect(await told('2024-01-01', '2024-09-20')).toEqual([5000, 0]);
    expect(await told('2024-09-21', '2025-06-30')).toEqual([-5000, 5000]);
  });

  it('that was kept goes back after its year was closed too, in the year of the credit; the seal holds', async () => {
    const { id, deposit } = await agreed(home());
    await shop.call('orders.cancel', { id, on: '2024-09-20', reason: 'lost heart', refundBy: 'card' });
    const span = { from: '2024-01-01', to: '2024-12-31' };
    const { checks } = await shop.call('seals.outlook', span);
    const accepted = checks.filter((check) => !check.passed).map((check) => check.key);
    const seal = await shop.call('seals.close', { ...span, accepted });
    const credit = { invoiceId: deposit, on: '2025-02-03', reason: 'goodwill', amountMinor: 2000 };
    await shop.call('selling.credit', credit);
    // 100.00 were paid and 50.00 kept; 20.00 of those are owed now, and go back by card.
    expect(await shop.call('orders.get', { id })).toMatchObject({ keptMinor: 3000, giveBackMinor: 2000 });
    expect(await shop.call('orders.head', {})).toMatchObject({ keptMinor: 3000, giveBackMinor: 2000 });
    const kept = async (from: string, to: string) =>
      (await shop.call('year.report', { from, to })).income.figures.find((one) => one.key === 'income.kept')
        ?.value;
    expect([await kept(span.from, span.to), await kept('2025-01-01', '2025-06-30')]).toEqual([5000, -2000]);
    expect(await shop.call('seals.prove', { id: seal.id })).toMatchObject({ holds: true });
    const money = { invoiceId: deposit, on: '2025-02-03', method: 'card', reason: 'goodwill' };
    await shop.call('billing.refund', { ...money, amountMinor: 2000 });
    expect((await shop.call('orders.head', {})).giveBackMinor).toBe(0);
  });

  it('goes back once: with the final invoice that took it off, not on its own as well', async () => {
    const { id, deposit } = await agreed(home());
    await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2024-10-01' });
    const { invoiceId } = await shop.call('orders.deliver', { id, on: '2024-10-02', paidBy: 'card' });
    const back = { on: '2024-10-05', reason: 'came home', knifeComesBack: true };
    await shop.call('selling.credit', { invoiceId, ...back });
    // 400.00 and 6.5 % were paid, 100.00 of it ahead; the final invoice gives all of it back.
    expect((await invoice(invoiceId)).openMinor).toBe(-42_600);
    const fault = await shop.fault('selling.credit', { invoiceId: deposit, ...back });
    expect(fault).toMatchObject({ kind: 'refused', field: 'invoiceId' });
    expect(fault.message).toContain('with the deposit in it');
  });

  it('is cancelled, and money goes back, no earlier than it came in', async () => {
    const { id, deposit } = await agreed(home());
    const pay = { invoiceId: deposit, on: '2024-09-18', amountMinor: 3000, method: 'card' };
    await shop.call('selling.pay', pay);
    const early = { id, on: '2024-09-15', reason: 'lost heart', refundBy: 'card' };
    expect((await shop.fault('orders.cancel', early)).message).toMatch(
      /is booked on 2024-09-18; the order is cancelled that day or later/u,
    );
    const back = { invoiceId: deposit, method: 'card', reason: 'paid twice', amountMinor: 3000 };
    const credit = { invoiceId: deposit, on: '2024-09-19', reason: 'not wanted', amountMinor: 10_000 };
    await shop.call('selling.credit', credit);
    // On the 17th the first 100.00 were there, the 30.00 of the 18th were not.
    const soon = await shop.fault('billing.refund', { ...back, on: '2024-09-17', amountMinor: 13_000 });
    expect(soon).toMatchObject({ kind: 'invalid', field: 'on' });
    expect(soon.message).toContain('only 100.00 had come in');
    await shop.call('billing.refund', { ...back, on: '2024-09-19', amountMinor: 13_000 });
  });

  it('whose payment the bank takes back after its refund is owed again, and can be paid', async () => {
    const { id, deposit } = await agreed(null, 0);
    await shop.call('orders.cancel', { id, on: '2024-09-20', reason: 'lost heart', refundBy: 'card' });
    const [paid] = (await invoice(deposit)).payments;
    await shop.call('selling.reversePayment', { paymentId: paid?.id ?? '', reason: 'the bank took it back' });
    // Nobody else's money is less for it.
    const { heldMinor } = await shop.call('year.report', { from: '2025-01-01', to: '2025-12-31' });
    expect([(await invoice(deposit)).openMinor, heldMinor]).toEqual([10_000, 0]);
    expect((await shop.call('orders.get', { id })).next).toBe('payBalance');
    const pay = { invoiceId: deposit, on: '2025-06-30', amountMinor: 10_000, method: 'cash' };
    await shop.call('selling.pay', pay);
    expect((await invoice(deposit)).openMinor).toBe(0);
    expect((await shop.fault('selling.pay', pay)).kind).toBe('refused');
  });

  it('that bounced is set off against the final invoice taken back with it, and both come back together', async () => {
    const { id, deposit } = await agreed(null);
    await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2024-09-20' });
    const final = (await shop.call('orders.deliver', { id, on: '2024-09-21', paidBy: 'card' })).invoiceId;
    const paid = (await invoice(deposit)).payments[0]?.id ?? '';
    await shop.call('selling.reversePayment', { paymentId: paid, reason: 'the bank took it back' });
    const credit = { invoiceId: final, on: '2025-06-01', reason: 'not as agreed', knifeComesBack: true };
    await shop.call('selling.credit', credit);
    // 400.00, of which 300.00 were paid: they go back. The 100.00 neither came in nor go back.
    const back = { invoiceId: final, on: '2025-06-02', method: 'card', reason: 'credited' };
    await shop.call('billing.refund', { ...back, amountMinor: 30_000 });
    const stand = async (): Promise<unknown[]> =>
      (await Promise.all([deposit, final].map(invoice))).map((one) => [
        one.state,
        one.openMinor,
        one.setOff?.minor ?? 0,
      ]);
    expect(await stand()).toEqual([
      ['open', 10_000, 10_000],
      ['creditedOver', -10_000, 10_000],
    ]);
    const order = async (): Promise<unknown[]> => {
      const { next, money, giveBackMinor } = await shop.call('orders.get', { id });
      return [next, money?.prepaidMinor, money?.balanceMinor, giveBackMinor];
    };
    // The final invoice of 400.00 took 100.00 off, whatever the bank did.
    expect(await order()).toEqual(['setOff', 10_000, 30_000, 10_000]);
    const received = await receivedIn2025();
    expect(await shop.call('selling.setOff', { invoiceId: final })).toMatchObject({ invoiceId: deposit });
    expect(await stand()).toEqual([
      ['paid', 0, 0],
      ['credited', 0, 0],
    ]);
    expect(await order()).toEqual(['none', 10_000, 30_000, 0]);
    expect((await shop.fault('selling.setOff', { invoiceId: deposit })).kind).toBe('refused');
    const told = { buyerId: shop.buyerId, from: '2025-06-30', to: '2025-06-30' };
    const { rows, openingMinor, closingMinor } = await shop.call('billing.statement', told);
    expect(rows.filter((row) => row.what === 'moved').map((row) => row.amountMinor)).toEqual([
      10_000, -10_000,
    ]);
    expect([openingMinor, closingMinor]).toEqual([-10_000, 0]);
    expect(await receivedIn2025()).toBe(received);
    const half = (await invoice(deposit)).payments.at(-1);
    expect(half).toMatchObject({ on: '2025-06-30', amountMinor: 10_000, method: 'set off' });
    await shop.call('selling.reversePayment', {
      paymentId: half?.id ?? '',
      reason: 'the bank paid after all',
    });
    expect(await stand()).toEqual([
      ['open', 10_000, 10_000],
      ['creditedOver', -10_000, 10_000],
    ]);
  });

  it('kept and taxed anew moves for good', async () => {
    const { id: placeId } = await shop.call('workshop.saveTaxPlace', {
      name: 'Forfeit',
      label: 'VAT',
      ratePpm: 200_000,
      onShipping: true,
      inclusive: false,
      rounding: 'invoice',
      forfeitTaxed: true,
    });
    const { id, deposit } = await agreed(placeId);
    await shop.call('orders.cancel', { id, on: '2024-09-20', reason: 'lost heart', refundBy: 'card' });
    const { payments, openMinor } = await invoice(deposit);
    expect([openMinor, payments.reduce((sum, row) => sum + row.amountMinor, 0)]).toEqual([0, 0]);
    const moved = payments.find((row) => row.method === 'moved');
    const fault = await shop.fault('selling.reversePayment', { paymentId: moved?.id, reason: 'x' });
    expect(fault).toMatchObject({ kind: 'refused', field: 'paymentId' });
  });
});

it('what was kept of a returned knife is credited without touching the knife, which is sold again', async () => {
  const buildId = await plainKnife(shop);
  const { saleId, invoiceId } = await shop.call('selling.sell', saleOf(shop, buildId));
  const back = { saleId, on: '2024-09-10', condition: 'unused', knife: 'shelf' } as const;
  await shop.call('care.takeBack', { ...back, keptMinor: 2000 });
  await shop.call('selling.sell', saleOf(shop, buildId, { on: '2024-09-20' }));
  const credit = { invoiceId: invoiceId ?? '', on: '2024-09-21', reason: 'goodwill', knifeComesBack: true };
  await shop.call('selling.credit', credit);
  expect((await shop.call('builds.get', { id: buildId })).state).toBe('sold');
  expect(shop.db.one(shop.db.q.selectFrom('sales').selectAll().where('id', '=', saleId))).toMatchObject({
    taken_back_on: '2024-09-10',
    kept_minor: 0,
  });
});

it('what was kept of a returned knife is credited to the cent where shipping bears no tax', async () => {
  const common = { label: 'VAT', onShipping: false, inclusive: false, rounding: 'invoice' } as const;
  const place = await shop.call('workshop.saveTaxPlace', { ...common, name: 'Goods', ratePpm: 210_000 });
  const sale = saleOf(shop, await plainKnife(shop), { taxPlaceId: place.id, priceMinor: 10_000 });
  const { saleId, invoiceId } = await shop.call('selling.sell', sale);
  const back = { saleId, on: '2024-09-10', condition: 'unused', knife: 'shelf' } as const;
  await shop.call('care.takeBack', { ...back, keptMinor: 1000 });
  // 10.00 and 2.10 of tax were kept, nothing of the shipping: so much is left to credit, in two parts.
  const credit = { invoiceId: invoiceId ?? '', on: '2024-09-11', reason: 'goodwill' };
  await shop.call('selling.credit', { ...credit, amountMinor: 605 });
  await shop.call('selling.credit', credit);
  const { q } = shop.db;
  const all = shop.db.all(q.selectFrom('invoices').selectAll().where('credits_id', '=', invoiceId));
  expect(all.map((row) => [row.net_minor, row.tax_minor]).slice(1)).toEqual([
    [-500, -105],
    [-500, -105],
  ]);
  expect((await invoice(invoiceId ?? '')).openMinor).toBe(0);
});

it('a part of an invoice rounded line by line is credited to the unit where money has no decimals', async () => {
  const yen = await openShop({ now: '2025-06-30', currency: 'JPY' });
  const place = await yen.call('workshop.saveTaxPlace', {
    name: 'By line',
    label: 'VAT',
    ratePpm: 100_000,
    onShipping: true,
    inclusive: false,
    rounding: 'line',
  });
  const line = { description: 'Rivet', detail: '', qty: 1, qtyScale: 0, unitPriceMinor: 5, taxed: true };
  const { id } = await yen.call('billing.saveDraft', {
    buyerId: yen.buyerId,
    taxPlaceId: place.id,
    lines: Array.from({ length: 12 }, () => line),
    note: '',
  });
  const { invoiceId } = await yen.call('billing.issueDraft', { id, issuedOn: '2025-01-04' });
  // A tenth of 5 is 0.5, rounded half away from zero to 1 on each of twelve lines.
  const credit = { invoiceId, on: '2025-01-05', reason: 'broken', knifeComesBack: true };
  for (const amountMinor of [40, 7, undefined]) await yen.call('selling.credit', { ...credit, amountMinor });
  const credits = yen.db.all(
    yen.db.q.selectFrom('invoices').select(['total_minor', 'tax_minor']).where('credits_id', '=', invoiceId),
  );
  const sum = (key: 'total_minor' | 'tax_minor'): number => credits.reduce((so, row) => so + row[key], 0);
  expect([sum('total_minor'), sum('tax_minor')]).toEqual([-72, -12]);
  await yen.close();
});

it('tax is due at the place and rate each invoice was written with, whatever its order is changed to', async () => {
  const common = { label: 'VAT', onShipping: true, inclusive: false, rounding: 'invoice' } as const;
  const places = [
    await shop.call('workshop.saveTaxPlace', { ...common, name: 'Low', ratePpm: 70_000 }),
    await shop.call('workshop.saveTaxPlace', { ...common, name: 'High', ratePpm: 190_000 }),
    await shop.call('workshop.saveTaxPlace', { ...common, name: 'Also high', ratePpm: 190_000 }),
  ];
  const line = { description: 'Sharpening', qty: 1, unitPriceMinor: 10_000 };
  for (const { id: taxPlaceId } of places) {
    const draft = await shop.call('billing.saveDraft', { buyerId: shop.buyerId, taxPlaceId, lines: [line] });
    await shop.call('billing.issueDraft', { id: draft.id, issuedOn: '2025-01-04' });
    const buildId = await plainKnife(shop);
    const sale = { taxPlaceId, priceMinor: 10_000, shippingMinor: 0, on: '2025-01-04' };
    await shop.call('selling.sell', saleOf(shop, buildId, sale));
  }
  const due = async (from: string, to: string) =>
    (await shop.call('year.report', { from, to })).tax
      .map((row) => [row.place, row.ratePpm, row.dueMinor, row.collectedMinor])
      .toSorted();
  // A hundred for each service and each knife, and nothing paid.
  expect(await due('2025-01-01', '2025-12-31')).toEqual([
    ['Also high', 190_000, 3800, 0],
    ['High', 190_000, 3800, 0],
    ['Low', 70_000, 1400, 0],
  ]);
  const ahead = { ...common, name: 'Ahead', ratePpm: 100_000, depositTax: 'deposit' } as const;
  const { id } = await agreed((await shop.call('workshop.saveTaxPlace', ahead)).id);
  const moved = { ...spec(null), id, on: '2024-10-01', reason: 'it goes abroad' };
  const was = await due('2024-01-01', '2024-12-31');
  expect(was).toEqual([['Ahead', 100_000, 1000, 1000]]);
  await shop.call('orders.change', moved);
  expect(await due('2024-01-01', '2024-12-31')).toEqual(was);
  // The final invoice charges none: what was due on the deposit is due no more, at the place and rate it was due at.
  await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2025-02-01' });
  await shop.call('orders.deliver', { id, on: '2025-02-03' });
  const { tax, taxDue } = await shop.call('year.report', { from: '2025-01-01', to: '2025-12-31' });
  expect(tax.find((row) => row.place === 'Ahead')).toMatchObject({ baseMinor: -10_000, dueMinor: -1000 });
  expect(taxDue.value).toBe(9000 - 1000);
});

it('tax is collected where it became due, also where the deposit was taxed at another rate', async () => {
  const common = { label: 'VAT', onShipping: true, inclusive: true, rounding: 'invoice' } as const;
  const ahead = { ...common, depositTax: 'deposit' } as const;
  const then = await shop.call('workshop.saveTaxPlace', { ...ahead, name: 'Then', ratePpm: 100_000 });
  const now = await shop.call('workshop.saveTaxPlace', { ...common, name: 'Now', ratePpm: 190_000 });
  const delivered = async (ahead: number): Promise<string> => {
    const { id } = await agreed(then.id, 500_000, `Usual ${String(ahead)}`);
    if (ahead > 0)
      await shop.call('orders.invoiceDeposit', { id, on: '2024-09-20', amountMinor: ahead, paidBy: 'card' });
    const changed = { ...spec(now.id), id, on: '2024-10-01', reason: 'the rate rose' };
    await shop.call('orders.change', changed);
    await shop.call('orders.link', { id, buildId: await plainKnife(shop), on: '2025-02-01' });
    return (await shop.call('orders.deliver', { id, on: '2025-02-03' })).invoiceId;
  };
  const tax = async (): Promise<unknown[]> =>
    (await shop.call('year.report', { from: '2025-01-01', to: '2025-12-31' })).tax
      .map((row) => [row.place, row.dueMinor, row.collectedMinor])
      .toSorted();
  // 400.00 with the tax in it, a quarter ahead: 9.09 of 100.00 at 10 %. At 19 % the knife holds 63.87; 300.00 are left.
  const invoiceId = await delivered(0);
  const pay = { invoiceId, amountMinor: 15_000, method: 'card' };
  await shop.call('selling.pay', { ...pay, on: '2025-03-01' });
  // Half of 54.78, which is 63.87 less 9.09; of it 4.55, half of 9.09, is off again at the old rate.
  expect(await tax()).toEqual([
    ['Now', 6387, 2739 + 455],
    ['Then', -909, -455],
  ]);
  await shop.call('selling.pay', { ...pay, on: '2025-04-01' });
  expect(await tax()).toEqual([
    ['Now', 6387, 6387],
    ['Then', -909, -909],
  ]);
  // 100.00 and 300.00 ahead, with 9.09 and 27.27 in them, pay the knife whole: nobody pays again, but the tax moves.
  await delivered(30_000);
  expect(await tax()).toEqual([
    ['Now', 2 * 6387, 2 * 6387],
    ['Then', -909 - 3636, -909 - 3636],
  ]);
  const sheet = await shop.call('preparer.sheet', { from: '2025-01-01', to: '2025-12-31' });
  expect(sheet.tax.map((row) => [row.place, row.from, row.dueMinor, row.collectedMinor])).toEqual([
    ['Now', '2025-01-01', 2 * 6387, 3194 + 6387],
    ['Then', '2025-01-01', -909 - 3636, -455 - 3636],
    ['Now', '2025-04-01', 0, 3193],
    ['Then', '2025-04-01', 0, -454],
  ]);
  const entries = { from: '2025-01-01', to: '2025-12-31', limit: 10 };
  const { rows } = await shop.call('year.entries', { ...entries, key: 'taxGot.Then|VAT|100000' });
  expect(rows.map((row) => row.amount).toSorted((a, b) => a - b)).toEqual([-2727, -909, -455, -454]);
});
