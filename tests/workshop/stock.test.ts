import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const inch = (n: number): number => n * toBase(1, 'in');
const BAR = inch(48);

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

describe('items', () => {
  it('keeps an item with every field and finds it by name', async () => {
    const [row] = await rig.call('stock.items', { text: 'stainless', kinds: ['steel'] });
    expect(row).toEqual({
      id: shelf.itemIds.bar,
      name: 'Stainless bar 0.070 × 1.25',
      kind: 'steel',
      form: 'length',
      unit: 'in',
      pieceWord: 'bar',
      costing: 'fifo',
      usefulRemnant: 0,
      kerfNm: 1_587_500,
      thicknessNm: null,
      widthNm: null,
      densityMilli: null,
      supplierId: null,
      lowLevel: 0,
      note: '',
      archived: false,
      supplierName: null,
      qtyLeft: 0,
      valueLeftMicro: 0,
      lotsLeft: 0,
      lastUnitPriceMicro: null,
      low: false,
    });
  });

  it('refuses a unit that does not measure the form, a name taken twice and an unknown supplier', async () => {
    const unit = await rig.fault('stock.saveItem', {
      name: 'Rod',
      kind: 'fitting',
      form: 'length',
      unit: 'oz',
    });
    expect(unit).toEqual({
      kind: 'invalid',
      field: 'unit',
      message:
        '“oz” does not measure a length. Choose one of: inches, feet, yards, millimetres, centimetres, metres.',
    });
    const name = await rig.fault('stock.saveItem', {
      name: 'Walnut pair',
      kind: 'handle',
      form: 'pair',
      unit: 'pair',
    });
    const supplier = await rig.fault('stock.saveItem', {
      name: 'Rod',
      kind: 'fitting',
      form: 'length',
      unit: 'in',
      supplierId: 'x',
    });
    expect([name.field, supplier.field]).toEqual(['name', 'supplierId']);
  });

  it('keeps how an item is measured once there are lots of it', async () => {
    const walnut = {
      id: shelf.itemIds.walnut,
      name: 'Walnut pair',
      kind: 'handle',
      unit: 'piece',
      form: 'piece',
    } as const;
    expect((await rig.call('stock.saveItem', walnut)).form).toBe('piece');
    await rig.call('stock.saveItem', { ...walnut, form: 'pair', unit: 'pair' });
    await shelf.buy('walnut', 8, 1_000_000, 112);
    expect((await rig.fault('stock.saveItem', walnut)).field).toBe('form');
  });

  it('tells the last price per unit with freight, and warns when little is left', async () => {
    await shelf.buy('belt', 2, 1_000_000, 19.6);
    const line = { itemId: shelf.itemIds.belt, pieces: 1, qtyEach: 1_000_000, priceMicro: micro(9.8) };
    await rig.call('stock.buy', {
      supplierId: shelf.supplierId,
      on: '2024-07-03',
      freightMicro: micro(1.2),
      lines: [line],
    });
    const belt = await rig.call('stock.item', { id: shelf.itemIds.belt });
    expect([belt.lastUnitPriceMicro, belt.qtyLeft, belt.valueLeftMicro, belt.lotsLeft, belt.low]).toEqual([
      micro(11),
      3_000_000,
      micro(30.6),
      2,
      false,
    ]);
    const newest = first([...belt.lots].reverse());
    const [receipt] = (await rig.call('stock.lot', { id: newest.id })).movements;
    await rig.call('stock.reverse', { movementId: receipt?.id ?? '', reason: 'entered twice' });
    await rig.call('stock.takeOut', {
      lotId: first(belt.lots).id,
      kind: 'scrap',
      qty: 1,
      reason: 'torn',
      on: '2024-07-06',
    });
    const after = await rig.call('stock.item', { id: shelf.itemIds.belt });
    expect([after.lastUnitPriceMicro, after.qtyLeft, after.low]).toEqual([micro(9.8), 1_999_999, true]);
  });
});

describe('purchases', () => {
  it('makes each bar a lot of its own and spreads price and freight over them to the last millionth', async () => {
    const lines = [
      {
        itemId: shelf.itemIds.bar,
        pieces: 3,
        qtyEach: BAR,
        priceMicro: micro(100),
        heatNumber: 'H-77',
        place: 'Rack A',
      },
      { itemId: shelf.itemIds.walnut, pieces: 8, qtyEach: 1_000_000, priceMicro: micro(50) },
    ];
    const bought = {
      supplierId: shelf.supplierId,
      on: '2024-07-02',
      reference: 'GB-1',
      freightMicro: micro(10),
      lines,
    };
    const { purchaseId, lotIds } = await rig.call('stock.buy', bought);
    expect(lotIds).toHaveLength(4);
    const purchase = await rig.call('stock.purchase', { id: purchaseId });
    const [steel, wood] = purchase.lineItems;
    expect([steel?.freightShareMicro, wood?.freightShareMicro]).toEqual([6_666_667, 3_333_333]);
    expect(steel?.lots.map((lot) => [lot.tag, lot.qtyReceived, lot.valueReceivedMicro])).toEqual([
      ['L-0001', BAR, 35_555_556],
      ['L-0002', BAR, 35_555_556],
      ['L-0003', BAR, 35_555_555],
    ]);
    expect(wood?.lots.map((lot) => [lot.tag, lot.qtyReceived, lot.valueReceivedMicro])).toEqual([
      ['L-0004', 8_000_000, 53_333_333],
    ]);
    const { lineItems: _, note, ...row } = purchase;
    expect([note, row]).toEqual([
      '',
      {
        id: purchaseId,
        on: '2024-07-02',
        supplierId: shelf.supplierId,
        supplierName: 'Greyfen Bar & Strip',
        reference: 'GB-1',
        lines: 2,
        goodsMicro: micro(150),
        freightMicro: micro(10),
        freightRule: 'spread',
        totalMicro: micro(160),
      },
    ]);
    expect(await rig.call('stock.purchases', { text: 'walnut' })).toEqual({ rows: [row], total: 1 });
    expect((await rig.call('stock.purchases', { text: '%' })).total).toBe(0);
  });

  it('leaves freight out of the lots when it counts as overhead', async () => {
    const line = { itemId: shelf.itemIds.bar, pieces: 1, qtyEach: BAR, priceMicro: micro(24) };
    const bought = { supplierId: shelf.supplierId, on: '2024-07-02', freightMicro: micro(9), lines: [line] };
    const { lotIds } = await rig.call('stock.buy', { ...bought, freightRule: 'overhead' });
    expect((await rig.call('stock.lot', { id: first(lotIds) })).valueReceivedMicro).toBe(micro(24));
  });

  it('refuses unknown items and suppliers and what the books cannot hold, naming the field, and keeps nothing', async () => {
    const before = wholeBooks(rig.db);
    const good = { itemId: shelf.itemIds.walnut, pieces: 1, qtyEach: 1_000_000, priceMicro: 1 };
    const bad = { ...good, itemId: 'gone' };
    const huge = { ...good, pieces: 10_000, qtyEach: Number.MAX_SAFE_INTEGER };
    const dear = { ...good, priceMicro: Number.MAX_SAFE_INTEGER };
    const buy = { supplierId: shelf.supplierId, on: '2024-07-02' };
    const faults = [
      await rig.fault('stock.buy', { ...buy, lines: [good, bad] }),
      await rig.fault('stock.buy', { ...buy, lines: [huge] }),
      await rig.fault('stock.buy', { ...buy, lines: [dear, good] }),
      await rig.fault('stock.buy', { ...buy, supplierId: 'gone', lines: [good] }),
      await rig.fault('stock.buy', { ...buy, lines: [{ ...good, qtyEach: 0 }] }),
      await rig.fault('stock.buy', { ...buy, on: '2024-02-30', lines: [good] }),
    ];
    expect(faults.map((fault) => [fault.kind, fault.field])).toEqual([
      ['invalid', 'lines.1.itemId'],
      ['invalid', 'lines.0.qtyEach'],
      ['invalid', 'lines.0.priceMicro'],
      ['invalid', 'supplierId'],
      ['invalid', 'lines.0.qtyEach'],
      ['invalid', 'on'],
    ]);
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});

describe('taking stock for a knife', () => {
  const draw = (over: object = {}) => ({
    itemId: shelf.itemIds.belt,
    qty: 150_000,
    use: 'consumable' as const,
    on: '2024-07-07',
    ...over,
  });

  it('takes the oldest first across lots, starts a planned knife and adds to its cost', async () => {
    await shelf.buy('belt', 1, 1_000_000, 9.8, '2024-07-02');
    await shelf.buy('belt', 1, 1_000_000, 10.4, '2024-07-03');
    const knife = first(await shelf.plan());
    const taken = await rig.call('stock.draw', {
      ...draw({ qty: 1_500_000 }),
      buildId: knife,
      stageCode: 'GR2',
    });
    expect(taken.valueMicro).toBe(micro(9.8) + micro(5.2));
    const build = await rig.call('builds.get', { id: knife });
    expect([build.state, build.startedOn, build.costMicro]).toEqual(['inWork', '2024-07-07', micro(15)]);
    expect(
      build.movements.map((m) => [m.lotTag, m.qty, m.valueMicro, m.use, m.stageCode, m.buildSerial]),
    ).toEqual([
      ['L-0002', -500_000, -micro(5.2), 'consumable', 'GR2', 'W01'],
      ['L-0001', -1_000_000, -micro(9.8), 'consumable', 'GR2', 'W01'],
    ]);
    expect(build.parts.find((part) => part.label === 'Belt 36')?.takenQty).toBe(1_500_000);
    expect(build.movements.map((m) => m.id).sort()).toEqual([...taken.movementIds].sort());
  });

  it('refuses more than is left, says how much there is, and changes nothing', async () => {
    await shelf.buy('belt', 2, 1_000_000, 19.6);
    const knife = first(await shelf.plan());
    const before = wholeBooks(rig.db);
    const fault = await rig.fault('stock.draw', { ...draw({ qty: 2_500_000 }), buildId: knife });
    expect(fault).toEqual({
      kind: 'refused',
      field: 'qty',
      message:
        'Only 2 belts left; 2.5 belts were asked for. Take less, enter a purchase or choose another lot.',
    });
    const zero = await rig.fault('stock.draw', { ...draw({ qty: 0 }), buildId: knife });
    const nobody = await rig.fault('stock.draw', { ...draw(), buildId: 'nobody' });
    const nothing = await rig.fault('stock.draw', { ...draw({ itemId: 'gone' }), buildId: knife });
    const stage = await rig.fault('stock.draw', { ...draw({ stageCode: 'ZZZ' }), buildId: knife });
    expect([zero, nobody, nothing, stage].map((each) => each.kind)).toEqual([
      'invalid',
      'missing',
      'invalid',
      'invalid',
    ]);
    expect(wholeBooks(rig.db)).toEqual(before);
  });

  it('refuses a draw dated before the stock came in, by lot and by age', async () => {
    const lotId = first(await shelf.buy('belt', 1, 1_000_000, 9.8, '2024-07-05'));
    const knife = first(await shelf.plan());
    const named = await rig.fault('stock.draw', { ...draw({ on: '2024-07-04', lotId }), buildId: knife });
    expect(named.message).toBe(
      'L-0001 came in on 2024-07-05, after 2024-07-04. Change the date or choose an older lot.',
    );
    const oldest = await rig.fault('stock.draw', { ...draw({ on: '2024-07-04' }), buildId: knife });
    expect(oldest.message).toBe(
      'On 2024-07-04 nothing of Belt 36 ceramic was on the rack; the next came in on 2024-07-05. Take less or change the date.',
    );
  });

  it('asks which lot of an item whose lots are told apart, until one is left', async () => {
    const burl = await rig.call('stock.saveItem', {
      name: 'Burl block',
      kind: 'handle',
      form: 'piece',
      unit: 'piece',
      pieceWord: 'block',
      costing: 'specific',
    });
    const line = { itemId: burl.id, pieces: 1, qtyEach: 1_000_000, priceMicro: micro(52) };
    const buy = {
      supplierId: shelf.supplierId,
      on: '2024-07-02',
      lines: [line, { ...line, priceMicro: micro(60) }],
    };
    const { lotIds } = await rig.call('stock.buy', buy);
    const [knife, other] = await shelf.plan(2);
    const wanted = { itemId: burl.id, qty: 1_000_000, use: 'material', on: '2024-07-07' } as const;
    const fault = await rig.fault('stock.draw', { ...wanted, buildId: knife });
    expect(fault.message).toBe('Choose which lot of Burl block to take: L-0001 (1 block), L-0002 (1 block).');
    const named = await rig.call('stock.draw', { ...wanted, buildId: knife ?? '', lotId: lotIds[1] });
    const last = await rig.call('stock.draw', { ...wanted, buildId: other ?? '' });
    expect([named.valueMicro, last.valueMicro]).toEqual([micro(60), micro(52)]);
    const wrong = await rig.fault('stock.draw', { ...draw(), buildId: knife, lotId: lotIds[0] });
    expect(wrong.message).toBe('L-0001 holds Burl block, not Belt 36 ceramic. Choose another lot.');
  });

  it('takes nothing more for a knife that is scrapped or kept, until it is back on the bench', async () => {
    await shelf.buy('belt', 1, 1_000_000, 9.8);
    const knife = first(await shelf.plan());
    await rig.call('builds.end', {
      id: knife,
      as: 'scrapped',
      on: '2024-07-08',
      reason: 'cracked in the quench',
    });
    const fault = await rig.fault('stock.draw', { ...draw({ on: '2024-07-09' }), buildId: knife });
    expect(fault.message).toBe('W01 is scrapped; take it back to the bench first.');
    await rig.call('builds.reopen', { id: knife, reason: 'it was another one' });
    expect((await rig.call('stock.draw', { ...draw({ on: '2024-07-09' }), buildId: knife })).valueMicro).toBe(
      micro(1.47),
    );
  });
});

describe('cutting', () => {
  it('plans a cut without touching the books, and cuts the same', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 24));
    const knives = await shelf.plan(2);
    const cut = {
      lotId,
      blankLength: inch(7.75),
      kerf: inch(1) / 16,
      sharing: 'whole-bar',
      blanksPerBar: 6,
    } as const;
    const before = wholeBooks(rig.db);
    const planned = await rig.call('stock.planCut', { ...cut, blanks: 2 });
    expect(wholeBooks(rig.db)).toEqual(before);
    expect(planned).toEqual({
      blanks: [
        { qty: inch(8), valueMicro: micro(4) },
        { qty: inch(8), valueMicro: micro(4) },
      ],
      leftQty: inch(32),
      leftValueMicro: micro(16),
      shortEnd: inch(1) / 8,
      sentence:
        '2 blanks of 7 3/4 in take 16 in of L-0001, worth 8.00. 1/8 in of kerf and short end goes to the scrap bin. 32 in stays on the rack, worth 16.00.',
    });
    expect(await rig.call('stock.cut', { ...cut, buildIds: [...knives], on: '2024-07-06' })).toEqual(planned);
    const build = await rig.call('builds.get', { id: first(knives) });
    expect(build.movements.map((m) => [m.qty, m.netQty, m.valueMicro, m.stageCode, m.use])).toEqual([
      [-inch(8), inch(7.75), -micro(4), 'CUT', 'material'],
    ]);
    expect(build.parts.find((part) => part.label === 'Steel')?.takenQty).toBe(inch(7.75));
  });

  it('lets a short end of no use rest in the blanks cut by length, and keeps a useful one', async () => {
    const saved = {
      id: shelf.itemIds.bar,
      name: 'Stainless bar',
      kind: 'steel',
      form: 'length',
      unit: 'in',
      pieceWord: 'bar',
    } as const;
    await rig.call('stock.saveItem', { ...saved, usefulRemnant: inch(6) });
    const [lotId, otherId] = await shelf.buy('bar', 2, inch(20), 40);
    const cut = { blankLength: inch(8), kerf: 0, sharing: 'by-length' } as const;
    const all = await rig.call('stock.planCut', { ...cut, lotId: lotId ?? '', blanks: 2 });
    expect([all.blanks, all.leftQty, all.shortEnd]).toEqual([
      [
        { qty: inch(10), valueMicro: micro(10) },
        { qty: inch(10), valueMicro: micro(10) },
      ],
      0,
      inch(4),
    ]);
    const one = await rig.call('stock.planCut', { ...cut, lotId: otherId ?? '', blanks: 1 });
    expect([one.blanks, one.leftQty, one.leftValueMicro]).toEqual([
      [{ qty: inch(8), valueMicro: micro(8) }],
      inch(12),
      micro(12),
    ]);
  });

  it('gives six blanks of one bar equal shares that add up to its price', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 25.5));
    const knives = await shelf.plan(6);
    const cut = { lotId, blankLength: inch(7.75), kerf: 0, sharing: 'whole-bar', blanksPerBar: 6 } as const;
    for (const knife of knives) await rig.call('stock.cut', { ...cut, buildIds: [knife], on: '2024-07-06' });
    const costs = await Promise.all(
      knives.map(async (id) => (await rig.call('builds.get', { id })).costMicro),
    );
    expect(costs).toEqual(knives.map(() => micro(4.25)));
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro, lot.builds.map((build) => build.serial)]).toEqual([
      0,
      0,
      ['W01', 'W02', 'W03', 'W04', 'W05', 'W06'],
    ]);
  });

  it('refuses what cannot be cut, in words, and changes nothing', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 24));
    const wood = first(await shelf.buy('walnut', 1, 1_000_000, 14));
    const knife = first(await shelf.plan());
    const before = wholeBooks(rig.db);
    const cut = {
      lotId,
      blankLength: inch(50),
      kerf: 0,
      sharing: 'by-length',
      buildIds: [knife],
      on: '2024-07-06',
    };
    const faults = [
      await rig.fault('stock.cut', cut),
      await rig.fault('stock.cut', { ...cut, blankLength: 0 }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), buildIds: [knife, knife] }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), sharing: 'whole-bar' }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), lotId: wood }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), lotId: 'gone' }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), buildIds: ['nobody'] }),
      await rig.fault('stock.cut', { ...cut, blankLength: inch(5), on: '2024-07-01' }),
    ];
    expect(faults.map((fault) => fault.message)).toEqual([
      'The blank of 50 in is longer than what is left of the bar, 48 in.',
      'A quantity must be more than zero.',
      'The same knife is named twice. Name each knife once.',
      'Enter for how many blanks the bar is planned.',
      'Walnut pair is not measured by length, so no blanks are cut from it. Take it as a part instead.',
      'This lot does not exist any more. Go back to the rack.',
      'This knife does not exist any more. Go back to the list.',
      'L-0001 came in on 2024-07-02, after 2024-07-01. Change the date or choose an older lot.',
    ]);
    expect(wholeBooks(rig.db)).toEqual(before);
  });
});

describe('taking out, counting and taking back', () => {
  it('takes stock out with a reason and its share of value', async () => {
    const lotId = first(await shelf.buy('sheet', 1, 144 * toBase(1, 'sqin'), 46));
    const out = await rig.call('stock.takeOut', {
      lotId,
      kind: 'sample',
      qty: 36 * toBase(1, 'sqin'),
      reason: 'colour sample',
      on: '2024-07-08',
    });
    expect(out).toEqual({
      id: out.id,
      seq: 2,
      on: '2024-07-08',
      kind: 'sample',
      lotId,
      lotTag: 'L-0001',
      itemId: shelf.itemIds.sheet,
      itemName: 'Laminate sheet',
      form: 'area',
      unit: 'sqin',
      pieceWord: 'sheet',
      qty: -36 * toBase(1, 'sqin'),
      valueMicro: -micro(11.5),
      use: null,
      stageCode: null,
      buildId: null,
      buildSerial: null,
      netQty: null,
      reason: 'colour sample',
      reversesId: null,
      reversedById: null,
    });
  });

  it('books what a count finds: missing stock at its value now, surplus at what the lot cost', async () => {
    const lotId = first(await shelf.buy('epoxy', 1, toBase(16, 'floz'), 28.16));
    const count = (floz: number) =>
      rig.call('stock.count', {
        lotId,
        countedQty: toBase(floz, 'floz'),
        reason: 'shelf count',
        on: '2024-07-09',
      });
    const less = await count(12);
    const more = await count(14);
    expect([less?.valueMicro, more?.valueMicro, await count(14)]).toEqual([-micro(7.04), micro(3.52), null]);
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro]).toEqual([toBase(14, 'floz'), micro(24.64)]);
    const below = await rig.fault('stock.count', { lotId, countedQty: -1, reason: 'x', on: '2024-07-09' });
    expect(below).toEqual({
      kind: 'invalid',
      field: 'countedQty',
      message: 'A quantity cannot be below zero.',
    });
  });

  it('takes a draw back exactly, once, and never takes a taking back', async () => {
    const lotId = first(await shelf.buy('pins', 1, micro(118), 118));
    const knife = first(await shelf.plan());
    const drawn = await rig.call('stock.draw', {
      buildId: knife,
      itemId: shelf.itemIds.pins,
      qty: micro(1.2),
      use: 'material',
      on: '2024-07-20',
    });
    const movementId = first(drawn.movementIds);
    const back = await rig.call('stock.reverse', { movementId, reason: 'wrong knife' });
    // The clock stands before the draw's own day; a correction never counts before what it corrects.
    expect([back.on, back.qty, back.valueMicro, back.reversesId]).toEqual([
      '2024-07-20',
      micro(1.2),
      micro(1.2),
      movementId,
    ]);
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro, lot.builds]).toEqual([micro(118), micro(118), []]);
    expect((await rig.call('builds.get', { id: knife })).costMicro).toBe(0);
    const before = wholeBooks(rig.db);
    const twice = await rig.fault('stock.reverse', { movementId, reason: 'again' });
    const chain = await rig.fault('stock.reverse', { movementId: back.id, reason: 'again' });
    const unknown = await rig.fault('stock.reverse', { movementId: 'gone', reason: 'again' });
    expect([twice.message, chain.message, unknown.kind]).toEqual([
      'This movement was taken back already.',
      'This movement itself takes another one back. Enter the stock again instead.',
      'missing',
    ]);
    expect(wholeBooks(rig.db)).toEqual(before);
  });

  it('takes a receipt back only while nothing of it was used', async () => {
    const lotId = first(await shelf.buy('walnut', 8, 1_000_000, 112));
    const [receipt] = (await rig.call('stock.lot', { id: lotId })).movements;
    const out = await rig.call('stock.takeOut', {
      lotId,
      kind: 'scrap',
      qty: 1_000_000,
      reason: 'split',
      on: '2024-07-08',
    });
    const used = await rig.fault('stock.reverse', { movementId: receipt?.id, reason: 'x' });
    expect(used.message).toBe(
      'Some of L-0001 was used or counted since it came in. Take those movements back first.',
    );
    await rig.call('stock.reverse', { movementId: out.id, reason: 'it was not split' });
    await rig.call('stock.reverse', { movementId: receipt?.id ?? '', reason: 'sent to the wrong place' });
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro, lot.movements.map((m) => m.kind)]).toEqual([
      0,
      0,
      ['reversal', 'reversal', 'scrap', 'receipt'],
    ]);
    const found = await rig.fault('stock.count', {
      lotId,
      countedQty: 1,
      reason: 'found one',
      on: '2024-07-09',
    });
    expect(found.message).toBe('The purchase of L-0001 was taken back. Enter a new purchase instead.');
  });

  it('does not take a surplus back that was used since', async () => {
    const lotId = first(await shelf.buy('belt', 1, 1_000_000, 10));
    const surplus = await rig.call('stock.count', {
      lotId,
      countedQty: 2_000_000,
      reason: 'one more',
      on: '2024-07-08',
    });
    await rig.call('stock.takeOut', {
      lotId,
      kind: 'scrap',
      qty: 1_500_000,
      reason: 'torn',
      on: '2024-07-08',
    });
    const fault = await rig.fault('stock.reverse', { movementId: surplus?.id, reason: 'x' });
    expect(fault.message).toBe(
      'Too much of L-0001 was used since. Take the later movements back first, or count the lot.',
    );
  });

  it('changes where a lot lies and keeps its quantities', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 24));
    const moved = await rig.call('stock.moveLot', {
      lotId,
      place: 'Rack B 3',
      heatNumber: 'H-9',
      note: 'mill side up',
    });
    expect([moved.place, moved.heatNumber, moved.qtyLeft]).toEqual(['Rack B 3', 'H-9', BAR]);
    expect((await rig.call('stock.lots', { text: 'rack b' })).rows.map((lot) => lot.id)).toEqual([lotId]);
    expect((await rig.call('stock.lots', { text: 'l-1' })).rows.map((lot) => lot.id)).toEqual([lotId]);
  });

  it('lists movements by item, knife and day in pages', async () => {
    await shelf.buy('belt', 3, 1_000_000, 30);
    const [one, two] = await shelf.plan(2);
    for (const [buildId, on] of [
      [one, '2024-07-07'],
      [two, '2024-07-08'],
    ] as const) {
      await rig.call('stock.draw', {
        buildId: buildId ?? '',
        itemId: shelf.itemIds.belt,
        qty: 500_000,
        use: 'consumable',
        on,
      });
    }
    const page = await rig.call('stock.movements', { itemId: shelf.itemIds.belt, limit: 2 });
    expect([page.total, page.rows.map((m) => m.on)]).toEqual([3, ['2024-07-08', '2024-07-07']]);
    const day = await rig.call('stock.movements', { from: '2024-07-08', to: '2024-07-08' });
    expect(day.rows.map((m) => m.buildSerial)).toEqual(['W02']);
    expect((await rig.call('stock.movements', { buildId: one })).rows.map((m) => m.buildSerial)).toEqual([
      'W01',
    ]);
  });
});
