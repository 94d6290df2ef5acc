import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { demoSetUp, openRig, type Rig, wholeBooks } from './rig.ts';
import { stockShelf } from './shelf.ts';

describe('setting up a workshop', () => {
  let rig: Rig;
  beforeEach(async () => {
    rig = await openRig({ bare: true });
  });
  afterEach(() => rig.close());

  it('is not set up at first, and says so before anything else is done', async () => {
    const state = await rig.call('workshop.state', {});
    expect(state).toEqual({
      isSetUp: false,
      demo: false,
      today: '2024-07-06',
      now: '2024-07-06T12:00:00.000Z',
      workshop: null,
      decimals: 2,
      lastVerifiedCopy: null,
      changedByItself: null,
    });
    const refusals = await Promise.all([
      rig.fault('stock.saveSupplier', { name: 'Greyfen' }),
      rig.fault('workshop.setRate', { kind: 'labour', from: '2024-07-01', perHourMicro: 1 }),
      rig.fault('builds.plan', { modelId: 'x', on: '2024-07-06' }),
      rig.fault('stock.draw', { buildId: 'x', itemId: 'x', qty: 1, use: 'material', on: '2024-07-06' }),
      rig.fault('files.attach', {
        ownerKind: 'item',
        ownerId: 'x',
        role: 'photo',
        name: 'a',
        base64: 'AAAA',
      }),
    ]);
    expect(refusals.map((fault) => fault.message)).toEqual(refusals.map(() => 'Set up the workshop first.'));
  });

  it('sets up once, with stages, channels, rates and a home tax place', async () => {
    const workshop = await rig.call('workshop.setUp', demoSetUp);
    const places = await rig.call('workshop.taxPlaces', {});
    expect(workshop).toEqual({
      name: 'Sedgewarren Edge Shop',
      maker: 'Jorun Sedgewarren',
      address: '4 Quarry Lane\nThistlemere',
      city: '',
      region: '',
      postcode: '',
      country: 'US',
      email: '',
      phone: '',
      website: '',
      taxNumber: '',
      registerNumber: '',
      currency: 'USD',
      lengthHabit: 'inch',
      weightHabit: 'oz',
      paper: 'Letter',
      homeTaxPlaceId: places[0]?.id,
      invoicePattern: '{YYYY}-{NNNN}',
      invoiceTermsDays: 14,
      invoiceNote: '',
    });
    expect(places.map(({ id: _, ...place }) => place)).toEqual([
      {
        ...demoSetUp.taxPlace,
        note: '',
        depositTax: 'balance',
        forfeitTaxed: false,
        category: '',
        reasonCode: '',
        archived: false,
      },
    ]);
    const rates = await rig.call('workshop.rates', {});
    expect(rates.map(({ id: _, ...rate }) => rate)).toEqual([
      { kind: 'labour', from: '2024-07-01', perHourMicro: 35_000_000, note: '' },
      { kind: 'overhead', from: '2024-07-01', perHourMicro: 8_030_000, note: '' },
    ]);
    const channels = await rig.call('workshop.channels', {});
    expect(channels.map(({ id: _, ...channel }) => channel)).toEqual([
      { name: 'Cash or transfer', feePpm: 0, feeFixedMinor: 0, abroadExtraPpm: 0, archived: false },
      { name: 'Own website', feePpm: 29_000, feeFixedMinor: 30, abroadExtraPpm: 15_000, archived: false },
    ]);
    const stages = await rig.call('workshop.stages', {});
    expect(stages.map((stage) => stage.code).join(' ')).toBe(
      'DES CUT BIL FRG GR1 HTA STR GR2 BLT HND ETC FIT HDL FIN SHP SHE PHO LST PCK MSG',
    );
    expect(stages[1]).toEqual({
      code: 'CUT',
      name: 'Cut and profile',
      position: 20,
      attended: true,
      archived: false,
    });
    const again = await rig.fault('workshop.setUp', demoSetUp);
    expect(again).toEqual({
      kind: 'refused',
      message: 'This workshop is set up already. Change its details under Workshop.',
    });
  });

  it('keeps fees in a currency without decimals and honours its decimals', async () => {
    await rig.call('workshop.setUp', { ...demoSetUp, currency: 'JPY' });
    expect((await rig.call('workshop.state', {})).decimals).toBe(0);
    const fixed = (await rig.call('workshop.channels', {})).map((channel) => channel.feeFixedMinor);
    // 0.30 of a unit rounds to nothing where the smallest coin is one unit.
    expect(fixed).toEqual([0, 0]);
  });

  it('refuses a currency that is none and an invoice pattern without a counter, and changes nothing', async () => {
    const before = wholeBooks(rig.db);
    const currency = await rig.fault('workshop.setUp', { ...demoSetUp, currency: 'ZZZ' });
    const metal = await rig.fault('workshop.setUp', { ...demoSetUp, currency: 'XAU' });
    const pattern = await rig.fault('workshop.setUp', { ...demoSetUp, invoicePattern: 'INV' });
    expect([currency.field, metal.field, pattern.field]).toEqual(['currency', 'currency', 'invoicePattern']);
    expect(pattern.message).toContain('{NNNN}');
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});

describe('keeping a workshop', () => {
  let rig: Rig;
  beforeEach(async () => {
    rig = await openRig();
  });
  afterEach(() => rig.close());

  const details = async () => {
    const { workshop } = await rig.call('workshop.state', {});
    if (workshop === null) throw new Error('not set up');
    return workshop;
  };

  it('changes details, and the currency only while no amount stands in the books', async () => {
    const euro = await rig.call('workshop.update', {
      ...(await details()),
      currency: 'EUR',
      email: 'bench@example.org',
    });
    expect([euro.currency, euro.email]).toEqual(['EUR', 'bench@example.org']);
    const shelf = await stockShelf(rig);
    const fault = await rig.fault('workshop.update', { ...(await details()), currency: 'USD' });
    expect(fault).toEqual({
      kind: 'refused',
      field: 'currency',
      message:
        'The books hold amounts in EUR; the currency cannot change any more. Make a new workshop for another currency.',
    });
    expect(shelf.modelId).not.toBe('');
    expect((await rig.call('workshop.update', { ...(await details()), name: 'Sedge & Warren' })).name).toBe(
      'Sedge & Warren',
    );
  });

  it('corrects a rate that began on the same day instead of adding another', async () => {
    const first = await rig.call('workshop.setRate', {
      kind: 'labour',
      from: '2025-01-01',
      perHourMicro: 38_000_000,
    });
    const second = await rig.call('workshop.setRate', {
      kind: 'labour',
      from: '2025-01-01',
      perHourMicro: 40_000_000,
      note: 'raised',
    });
    expect(second.id).toBe(first.id);
    const labour = (await rig.call('workshop.rates', {})).filter((rate) => rate.kind === 'labour');
    expect(labour.map((rate) => [rate.from, rate.perHourMicro])).toEqual([
      ['2025-01-01', 40_000_000],
      ['2024-07-01', 35_000_000],
    ]);
  });

  it('never puts the home tax place away, nor makes an unknown one home', async () => {
    const { homeTaxPlaceId } = await details();
    const place = (await rig.call('workshop.taxPlaces', {})).find((each) => each.id === homeTaxPlaceId);
    const away = await rig.fault('workshop.saveTaxPlace', { ...place, archived: true });
    const unknown = await rig.fault('workshop.update', { ...(await details()), homeTaxPlaceId: 'nowhere' });
    expect([away.field, unknown.field]).toEqual(['archived', 'homeTaxPlaceId']);
    const rate = await rig.fault('workshop.saveTaxPlace', { ...place, ratePpm: 1_000_001 });
    expect(rate.message).toBe('A rate cannot be above 100 %.');
  });

  it('refuses two channels of one name', async () => {
    const fault = await rig.fault('workshop.saveChannel', {
      name: 'Own website',
      feePpm: 0,
      feeFixedMinor: 0,
      abroadExtraPpm: 0,
    });
    expect(fault.field).toBe('name');
  });

  it('adds a stage of its own and changes one by its code', async () => {
    await rig.call('workshop.saveStage', {
      code: 'cryo',
      name: 'Cold treatment',
      position: 65,
      attended: false,
    });
    await rig.call('workshop.saveStage', { code: 'CRYO', name: 'Deep cold', position: 65, attended: false });
    const stages = await rig.call('workshop.stages', {});
    const around = stages.findIndex((stage) => stage.code === 'CRYO');
    expect(stages.slice(around - 1, around + 2).map((stage) => stage.name)).toEqual([
      'Harden and temper',
      'Deep cold',
      'Straighten and check',
    ]);
  });

  it('tells its history in words, newest first, searchable and in pages', async () => {
    await rig.call('stock.saveSupplier', { name: 'Greyfen Bar & Strip' });
    await rig.call('stock.saveSupplier', { name: 'Pellwick Grit House' });
    const all = await rig.call('workshop.history', {});
    expect(all.total).toBe(3);
    expect(all.rows.map((row) => row.summary)).toEqual([
      'Saved a supplier: Pellwick Grit House',
      'Saved a supplier: Greyfen Bar & Strip',
      'Set up the workshop: Sedgewarren Edge Shop',
    ]);
    const found = await rig.call('workshop.history', { text: 'pellwick' });
    expect(found.rows.map((row) => row.seq)).toEqual([3]);
    const said = await rig.call('workshop.history', { text: 'saved a supplier', limit: 1, beforeSeq: 3 });
    expect([said.total, said.rows.map((row) => row.seq)]).toEqual([2, [2]]);
  });
});
