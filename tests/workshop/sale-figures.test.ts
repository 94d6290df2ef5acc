/** Whatever a sale is priced and taxed at, every place that shows its figures shows the same ones, and they add up. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addDays } from '../../electron/domain/calendar.ts';
import { decimalsOf } from '../../electron/domain/currencies.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { openShop, type Shop } from './shop.ts';

const rate = fc.oneof(fc.constantFrom(0, 1, 65_000, 100_000, 190_000, 1_000_000), fc.nat({ max: 1_000_000 }));
const amount = fc.oneof(
  fc.constantFrom(0, 1, 2, 99),
  fc.nat({ max: 2_000_000 }),
  fc.nat({ max: 900_000_000 }),
);
const terms = fc.record({
  price: amount,
  shipping: amount,
  postage: fc.nat({ max: 5000 }),
  ratePpm: rate,
  onShipping: fc.boolean(),
  inclusive: fc.boolean(),
  rounding: fc.constantFrom('invoice' as const, 'line' as const),
  charges: fc.array(fc.nat({ max: 40_000_000 }), { maxLength: 4 }),
  minutes: fc.nat({ max: 700 }),
});
type Terms = typeof terms extends fc.Arbitrary<infer T> ? T : never;

/** `1,280.50` as 128050. */
const minorOf = (text: string): number => Number(text.replace(/[,.]/g, ''));

/** Nobody works more than a day in a day: every knife has one of its own. */
let days = 0;

async function knifeFor(shop: Shop, { charges, minutes }: Terms): Promise<string> {
  const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2024-07-06' });
  const buildId = ids[0] ?? '';
  await shop.call('builds.start', { id: buildId, on: '2024-07-06' });
  for (const [at, amountMicro] of charges.entries()) {
    const use = (['material', 'consumable', 'energy', 'packaging'] as const)[at % 4] ?? 'energy';
    await shop.call('builds.charge', { buildId, on: '2024-07-06', label: `Cost ${at}`, use, amountMicro });
  }
  if (minutes > 0) {
    const shares = [{ buildId }];
    days += 1;
    await shop.call('hours.book', {
      on: addDays('2024-07-06', -days),
      minutes,
      stageCode: 'GR2',
      workKind: null,
      shares,
    });
  }
  await shop.call('builds.finish', { id: buildId, on: '2024-07-07' });
  return buildId;
}

/** The printed cost sheet, read with a pencil: every sum on it is the sum of the rows above. */
async function comparePrintedSheet(shop: Shop, buildId: string): Promise<void> {
  const sheet = await shop.call('costs.sheet', { buildId });
  await shop.call('costs.sheetPdf', { buildId });
  const paper = shop.press.sheets.at(-1);
  const rowsOf = (heading: string): ReadonlyMap<string, number> => {
    const section = paper?.sections.find((each) => each.heading === heading);
    return new Map(section?.rows.map((row) => [row.label, minorOf(row.amount)]));
  };
  const adds = (rows: ReadonlyMap<string, number>, total: string): number => {
    const before = [...rows].slice(0, [...rows.keys()].indexOf(total));
    return sumOf(before, ([, amount]) => amount);
  };
  const [materials, other, sale] = ['Materials', 'Other direct cost', 'Sale'].map(rowsOf);
  if (!materials || !other || !sale) throw new Error('the sheet was not printed');
  const together = materials.get('Materials together');
  expect([together, adds(materials, 'Materials together')]).toEqual([
    sheet.materialsMinor,
    sheet.materialsMinor,
  ]);
  const direct = other.get('Direct cost');
  expect([direct, adds(other, 'Direct cost') + sheet.materialsMinor]).toEqual([
    sheet.directMinor,
    sheet.directMinor,
  ]);
  const left = sheet.sale?.contributionMinor;
  expect([sale.get('Contribution'), adds(sale, 'Contribution')]).toEqual([left, left]);
  const hours = (strong: boolean): number =>
    sumOf(paper?.hours.rows.slice(0, -1).filter((row) => row.strong === strong) ?? [], (row) =>
      minorOf(row.amount),
    );
  expect([hours(true), hours(false)]).toEqual([sheet.labour.amountMinor, sheet.labour.amountMinor]);
}

async function sellAndCompare(shop: Shop, day: number, given: Terms): Promise<void> {
  const on = new Date(Date.UTC(2024, 7, 1 + day)).toISOString().slice(0, 10);
  const { ratePpm, onShipping, inclusive, rounding } = given;
  const place = await shop.call('workshop.saveTaxPlace', {
    ...(shop.places[0] ?? expect.fail('no tax place')),
    ...{ ratePpm, onShipping, inclusive, rounding },
  });
  const buildId = await knifeFor(shop, given);
  const asked = {
    buildId,
    channelId: shop.channels.find((channel) => channel.feePpm === 0)?.id ?? '',
    taxPlaceId: place.id,
    priceMinor: given.price,
    shippingMinor: given.shipping,
    postagePaidMinor: given.postage,
  };
  const figures = await shop.call('selling.figures', asked);
  const sold = await shop.call('selling.sell', { ...asked, buyerId: shop.buyerId, on, invoice: true });
  const invoice = await shop.call('selling.invoice', { id: sold.invoiceId ?? '' });
  const sheet = await shop.call('costs.sheet', { buildId });
  const row = (await shop.call('selling.sales', { from: on, to: on })).rows[0];
  const margins = await shop.call('margins.period', { from: on, to: on });
  const page = await shop.call('builds.get', { id: buildId });
  const knife = margins.knives[0];
  const paper = shop.press.invoices.at(-1);

  // Every place says the same.
  const { priceMinor, shippingMinor, taxMinor, contributionMinor } = figures;
  const same = { priceMinor, shippingMinor, taxMinor, contributionMinor };
  expect(row).toMatchObject(same);
  expect(sheet.sale).toMatchObject(same);
  expect(knife).toMatchObject({
    priceMinor,
    shippingMinor,
    contributionMinor,
    directMinor: sheet.directMinor,
  });
  expect(margins.total).toMatchObject({ contributionMinor, taxCollectedMinor: taxMinor });
  expect(sheet.sale?.contributionPerHourMinor).toBe(figures.contributionPerHourMinor);
  expect([knife?.perHourMinor, figures.minutes]).toEqual([figures.contributionPerHourMinor, sheet.minutes]);
  expect(page.costMicro).toBe(sheet.directMinor * 10 ** (6 - margins.decimals));
  expect(sumOf(margins.went, (part) => part.amountMinor)).toBe(priceMinor + shippingMinor);

  await comparePrintedSheet(shop, buildId);

  // And it adds up, on the screen and on paper.
  const total = inclusive ? given.price + given.shipping : given.price + given.shipping + taxMinor;
  expect([figures.totalMinor, invoice.totalMinor]).toEqual([total, total]);
  expect(Math.min(priceMinor, shippingMinor, taxMinor)).toBeGreaterThanOrEqual(0);
  expect(sumOf(invoice.lines, (line) => line.netMinor)).toBe(invoice.netMinor);
  expect([invoice.netMinor, invoice.taxMinor]).toEqual([priceMinor + shippingMinor, taxMinor]);
  const printed = paper?.totals.map((each) => minorOf(each.amount)) ?? [];
  expect(printed).toEqual(ratePpm > 0 ? [invoice.netMinor, taxMinor, total] : [total]);
  expect(sumOf(paper?.lines ?? [], (line) => minorOf(line.amount))).toBe(invoice.netMinor);
}

describe.each([
  ['JPY', 0],
  ['USD', 2],
  ['KWD', 3],
])('a sale in %s', (currency, decimals) => {
  let shop: Shop;
  beforeAll(async () => {
    shop = await openShop({ now: '2026-11-25', currency });
    // The knives' days of work lie before the day the workshop's own rates begin.
    for (const kind of ['labour', 'overhead'] as const)
      await shop.call('workshop.setRate', { kind, from: '2023-01-01', perHourMicro: 35_000_000 });
  });
  afterAll(() => shop.close());

  it('shows the same figures on the sale, the invoice, the cost sheet, the list and the margin table', async () => {
    expect(decimalsOf(currency)).toBe(decimals);
    let day = 0;
    await fc.assert(
      fc.asyncProperty(terms, async (given) => {
        day += 1;
        await sellAndCompare(shop, day, given);
      }),
      { numRuns: 30 },
    );
    expect(shop.log).toEqual([]);
  }, 120_000);
});

it('issues an invoice for every yen amount with ten percent inside, also where no whole net amount meets the rate', async () => {
  const shop = await openShop({ currency: 'JPY' });
  const given = { shipping: 0, postage: 0, onShipping: true, inclusive: true, charges: [], minutes: 0 };
  const tenPercent = { ...given, ratePpm: 100_000, rounding: 'invoice' as const };
  // 11,000 ÷ 11 = 1,000 exactly; of 11,005 the tax is 1,000 (1,000.45…), and a tenth of 10,005 would be 1,001.
  for (const [day, price] of [11_000, 11_005, 5, 16].entries())
    await sellAndCompare(shop, day, { ...tenPercent, price });
  expect((await shop.call('selling.invoices', {})).rows.map((row) => row.totalMinor)).toEqual([
    16, 5, 11_005, 11_000,
  ]);
  await shop.close();
});
