/** Parcels, service and certificates through the real core. Invented data. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input } from '../../electron/api/contract.ts';
import type { PaperKind, Papers } from '../../electron/documents/types.ts';
import { idOf, makeParing, openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const GRAM = 1_000_000_000;
const paperOf = <K extends PaperKind>(kind: K): Papers[K] =>
  shop.press.others.findLast((one) => one.kind === kind)?.data as Papers[K];

/** Sells a knife on 25 August 2024. */
async function sold(buildId: string, more: Partial<Input<'selling.sell'>> = {}): Promise<string> {
  return (await shop.call('selling.sell', saleOf(shop, buildId, more))).saleId;
}

const sharpening = { kind: 'sharpening', receivedOn: '2024-11-02' } as const;

describe('a service', () => {
  it('follows its days, and stands with its knife and its person until it is sent', async () => {
    const buildId = await plainKnife(shop);
    await sold(buildId);
    const input = { buildId, buyerId: shop.buyerId, ...sharpening, priceMinor: 1500 };
    const { id } = await shop.call('care.saveService', input);
    expect(await shop.call('care.services', { state: 'here', buildId })).toMatchObject({
      total: 1,
      rows: [
        { id, knife: 'W04 Tessel paring', buyerName: 'Ottoline Fernshaw', state: 'here', invoiceId: null },
      ],
    });
    const done = { ...input, id, doneOn: '2024-11-03', sentOn: '2024-11-05', postagePaidMinor: 980 };
    expect(await shop.call('care.saveService', done)).toMatchObject({ state: 'sent', postagePaidMinor: 980 });
    expect((await shop.call('care.services', { state: 'here' })).total).toBe(0);
    expect((await shop.call('care.services', { text: 'fernshaw' })).total).toBe(1);
  });

  it('takes a knife of another hand by what it is called', async () => {
    expect(await shop.fault('care.saveService', sharpening)).toMatchObject({
      kind: 'invalid',
      field: 'knife',
    });
    const made = await shop.call('care.saveService', { ...sharpening, knife: 'Old chef, carbon' });
    expect(made).toMatchObject({ buildId: null, knife: 'Old chef, carbon', priceMinor: 0, buyerName: '' });
    const off = { id: made.id, on: '2024-11-04', reason: 'Too thin to grind' };
    expect(await shop.call('care.cancelService', off)).toMatchObject({
      state: 'cancelled',
      note: 'Too thin to grind',
    });
    expect(await shop.fault('care.cancelService', off)).toMatchObject({ kind: 'refused' });
    expect(await shop.fault('care.saveService', { id: made.id, ...sharpening, knife: 'x' })).toMatchObject({
      kind: 'refused',
    });
  });

  it('refuses days that run backwards or are to come, and knives that are not finished', async () => {
    const knife = { ...sharpening, knife: 'Old chef' };
    const faults = [
      [{ ...knife, receivedOn: '2025-01-01' }, 'receivedOn'],
      [{ ...knife, doneOn: '2024-11-01' }, 'doneOn'],
      [{ ...knife, sentOn: '2024-11-01' }, 'sentOn'],
      [{ ...knife, doneOn: '2024-11-09', sentOn: '2024-11-08' }, 'sentOn'],
      [{ ...sharpening, buildId: idOf(shop.knives, 'W01') }, 'buildId'],
    ] as const;
    for (const [input, field] of faults)
      expect(await shop.fault('care.saveService', input)).toMatchObject({ field });
  });

  // Common practice, no source: the first sharpening within a year of the sale costs nothing.
  it('is proposed free once within a year of the sale, and else at what was asked last', async () => {
    const buildId = await plainKnife(shop);
    const terms = (on: string, kind: 'sharpening' | 'warranty' | 'repair' = 'sharpening') =>
      shop.call('care.serviceTerms', { buildId, kind, on });
    expect(await terms('2024-11-02')).toMatchObject({ free: false, why: '', buyerId: null });
    await sold(buildId);
    expect(await terms('2024-11-02')).toMatchObject({
      free: true,
      lastPriceMinor: null,
      buyerId: shop.buyerId,
    });
    expect(await terms('2025-08-24')).toMatchObject({ free: true });
    expect(await terms('2025-08-25')).toMatchObject({ free: false });
    await shop.call('care.saveService', { buildId, ...sharpening });
    await shop.call('care.saveService', { ...sharpening, knife: 'Old chef', priceMinor: 1500 });
    expect(await terms('2024-12-02')).toMatchObject({
      free: false,
      why: 'It was sharpened free on 2024-11-02 already.',
      lastPriceMinor: 1500,
    });
    expect(await terms('2028-12-02', 'warranty')).toMatchObject({ free: true });
    expect(await terms('2024-12-02', 'repair')).toMatchObject({ free: false, lastPriceMinor: null });
  });
});

describe('a parcel', () => {
  /** What is asked before anything leaves the country. */
  const ticks = ['law', 'age'];
  const line = { what: 'Tessel paring, serial W04', qty: 1, weightNg: 90 * GRAM, valueMinor: 15_000 };

  async function abroad(): Promise<{ saleId: string; buildId: string }> {
    const buyer = await shop.call('selling.saveBuyer', {
      name: 'Katya Ferrowind',
      address: '9 Foundry Wharf\nFerrowind',
      country: 'GB',
    });
    const buildId = await plainKnife(shop);
    return { saleId: await sold(buildId, { buyerId: buyer.id, ticks }), buildId };
  }

  it('begins with the knife, its price, its weight at the gate and the wrapping of the last one', async () => {
    const { saleId, buildId } = await abroad();
    const first = await shop.call('care.parcelDraft', { saleId });
    expect(first).toMatchObject({
      serial: 'W04',
      weightNg: null,
      insuredMinor: 15_000,
      postagePaidMinor: 1205,
      addressId: null,
      addresses: [{ id: null, lines: 'Katya Ferrowind\n9 Foundry Wharf\nFerrowind\nUNITED KINGDOM' }],
      contents: [
        { what: 'Tessel paring, serial W04', qty: 1, weightNg: null, valueMinor: 15_000, origin: 'US' },
      ],
    });
    const weigh = (id: string, grams: number) =>
      shop.call('gates.check', {
        measure: 'weight',
        on: '2024-08-20',
        knives: [{ buildId: id, readings: [{ value: grams * GRAM }], verdict: 'pass' }],
      });
    await weigh(buildId, 90);
    const customs = { customs: 'Kitchen knife of steel', tariff: '8211.92', origin: 'US' };
    const contents = [{ ...line, ...customs }];
    const carrier = 'Letter post';
    await shop.call('care.pack', {
      saleId,
      on: '2024-08-26',
      weightNg: 250 * GRAM,
      contents,
      carrier,
      ticks,
    });
    const next = await plainKnife(shop);
    await weigh(next, 80);
    expect(await shop.call('care.parcelDraft', { saleId: await sold(next) })).toMatchObject({
      weightNg: (80 + 250 - 90) * GRAM,
      contents: [{ ...customs, weightNg: 80 * GRAM }],
      carriers: [carrier],
    });
  });

  it('keeps the label’s lines, and puts the postage paid into the sale', async () => {
    const { saleId, buildId } = await abroad();
    const packed = await shop.call('care.pack', {
      saleId,
      on: '2024-08-26',
      contents: [line],
      insuredMinor: 15_000,
      postagePaidMinor: 4620,
      ticks,
    });
    expect(packed).toMatchObject({ abroad: true, country: 'GB', cancelledOn: null });
    await shop.call('selling.saveBuyer', { id: packed.buyerId, name: 'Katya Ferrowind', address: 'Moved' });
    expect((await shop.call('care.parcels', { buildId })).rows).toMatchObject([{ address: packed.address }]);
    expect((await shop.call('selling.sales', {})).rows).toMatchObject([
      { postagePaidMinor: 4620, feeMinor: 530 },
    ]);
    const ticked = await shop.call('shipping.ticked', { kind: 'shipment', subjectId: packed.id });
    expect(ticked.map((one) => one.key)).toEqual(ticks);
    const known = { id: packed.id, carrier: 'Air mail', tracking: 'RR 123', note: '' };
    expect(await shop.call('care.changeParcel', known)).toMatchObject({ tracking: 'RR 123' });
    expect((await shop.call('care.parcels', { text: 'rr 123' })).total).toBe(1);
    await shop.call('care.cancelParcel', { id: packed.id, on: '2024-09-01', reason: 'Came back' });
    expect(await shop.fault('care.changeParcel', known)).toMatchObject({ kind: 'refused' });
  });

  it('refuses a day before the sale, a weight under its contents, a strange address and a sale taken back', async () => {
    const { saleId } = await abroad();
    const input = { saleId, on: '2024-08-26', contents: [line], ticks };
    const faults = [
      [{ ...input, on: '2024-08-24' }, 'on'],
      [{ ...input, on: '2025-01-01' }, 'on'],
      [{ ...input, weightNg: 89 * GRAM }, 'weightNg'],
      [{ ...input, addressId: 'nobody' }, 'addressId'],
      [{ ...input, ticks: ['law'] }, 'ticks'],
      [{ ...input, contents: [] }, 'contents'],
      [{ ...input, contents: [{ ...line, tariff: 'knife' }] }, 'contents.0.tariff'],
    ] as const;
    for (const [given, field] of faults)
      expect(await shop.fault('care.pack', given)).toMatchObject({ field });
    const [sale] = (await shop.call('selling.sales', {})).rows;
    await shop.call('selling.credit', {
      invoiceId: sale?.invoiceId ?? '',
      on: '2024-08-27',
      reason: 'Changed mind',
      knifeComesBack: true,
    });
    expect(await shop.fault('care.pack', { ...input, on: '2024-08-28' })).toMatchObject({ kind: 'refused' });
    expect((await shop.call('care.parcels', {})).total).toBe(0);
  });

  it('prints a slip without values unless wanted, and a list for the customs form with them', async () => {
    const { saleId } = await abroad();
    const sheath = {
      what: 'Sheath',
      customs: 'Leather sheath',
      qty: 1,
      weightNg: 60 * GRAM,
      valueMinor: 2000,
    };
    const { id } = await shop.call('care.pack', {
      saleId,
      on: '2024-08-26',
      weightNg: 300 * GRAM,
      ticks,
      contents: [{ ...line, customs: 'Kitchen knife', tariff: '8211.92', origin: 'us' }, sheath],
    });
    await shop.call('care.packingSlipPdf', { id });
    const slip = paperOf('packingSlip');
    expect(JSON.stringify(slip)).not.toContain('150.00');
    expect(slip.lines.map((one) => one.what)).toEqual(['Tessel paring, serial W04', 'Sheath']);
    await shop.call('care.packingSlipPdf', { id, withPrices: true });
    expect(paperOf('packingSlip').total?.value).toBe('170.00 USD');
    await shop.call('care.contentListPdf', { id });
    const list = paperOf('contentList');
    expect(list.sender.lines.at(-1)).toBe('UNITED STATES');
    expect(list.recipient.lines.at(-1)).toBe('UNITED KINGDOM');
    expect(list.lines[0]).toEqual({
      what: 'Kitchen knife (Tessel paring, serial W04)',
      cells: ['1', '3.2 oz (90 g)', '150.00 USD', '8211.92', 'UNITED STATES'],
    });
    // 90 g + 60 g; 150.00 + 20.00.
    expect(list.total).toEqual(['Together', '2', '5.3 oz (150 g)', '170.00 USD', '', '']);
    expect(list.facts).toContainEqual({ label: 'Gross weight', text: '10.6 oz (300 g)' });
    expect(list.caution).toContain('check the rule in force');
  });
});

describe('a certificate', () => {
  it('tells what the books know of a finished knife, and refuses one still in work', async () => {
    const buildId = idOf(shop.knives, 'W01');
    expect(await shop.fault('care.certificatePdf', { buildId })).toMatchObject({ kind: 'refused' });
    await makeParing(shop, 'W01');
    const oil = await shop.call('stock.saveItem', {
      name: 'Canola',
      kind: 'oil',
      form: 'volume',
      unit: 'gal',
    });
    const bath = await shop.call('baths.save', { name: 'Canola tank', itemId: oil.id });
    await shop.call('heats.save', {
      on: '2024-07-20',
      buildIds: [buildId],
      bathId: bath.id,
      steps: [
        { kind: 'soak', tempMilliC: 1_070_000, minutes: 10 },
        { kind: 'temper', tempMilliC: 200_000, minutes: 120 },
        { kind: 'temper', tempMilliC: 200_000, minutes: 120 },
      ],
    });
    const check = (
      measure: 'hardness' | 'behindEdge' | 'weight',
      readings: readonly { place?: string; value: number }[],
    ) =>
      shop.call('gates.check', {
        measure,
        on: '2024-07-21',
        knives: [{ buildId, readings: [...readings], verdict: 'pass' }],
      });
    await check('hardness', [{ value: 61_000 }, { value: 62_000 }]);
    await check('behindEdge', [{ place: 'heel', value: 254_000 }]);
    await check('weight', [{ value: 90 * GRAM }]);
    await shop.call('care.certificatePdf', { buildId });
    const paper = paperOf('certificate');
    const rows = paper.groups.flatMap((group) => group.rows);
    const text = (label: string): string | undefined => rows.find((row) => row.label === label)?.text;
    expect(paper).toMatchObject({ serial: 'W01', name: 'Tessel paring', photo: null });
    expect(text('Steel')).toBe('Stainless strip 0.070 × 1.25');
    // 1070 °C = 1958 °F and 200 °C = 392 °F by definition of the scales.
    expect(text('Hardened')).toBe('10 min at 1070 °C (1958 °F), quenched in Canola tank');
    expect(text('Tempered')).toBe('2 × 2 h at 200 °C (392 °F)');
    // ASTM E140: 61 HRC is 720 HV, 62 HRC 746 HV; half way between them 733.
    expect(text('Hardness')).toBe('61.5 HRC (733 HV), mean of 2 readings');
    expect(text('Behind the edge')).toBe('heel 10 thou (0.25 mm)');
    expect(text('Weight')).toBe('3.2 oz (90 g)');
    expect(text('Handle')).toBe('Walnut scales');
    expect(paper.papers.lines).toEqual([]);
  });
});
