import path from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type CoreEndpointName, coreEndpoints } from '../../electron/api/contract.ts';
import type { Endpoint } from '../../electron/api/endpoint.ts';
import { atOnce } from '../../electron/domain/steps.ts';
import { canonicalJson } from '../../electron/storage/canonical-json.ts';
import { lastEntry, markPages, putSeal } from '../../electron/storage/queries/seals.ts';
import { contentSteps, sealHash, totalSteps } from '../../electron/storage/seal/content.ts';
import { askingBooks } from '../../electron/storage/seal/open-books.ts';
import { tablesUnder } from '../../electron/storage/seal/sealed-tables.ts';
import { dayFields } from '../../electron/workshop/closed/day-fields.ts';
import { isNotDone, notDone } from '../../electron/workshop/closed/not-done.ts';
import { openRig, wholeBooks } from './rig.ts';
import { sample } from './seal-inputs.ts';
import { makeParing, openShop, plainKnife, saleOf, type Shop } from './shop.ts';

const span = { from: '2024-01-01', to: '2024-12-31' };
const reason = 'A receipt of December was found';

/** Dated tables that make no figure of a year: plans, records of the work, wishes, papers, settings. */
const withoutFigures = [
  'build_stages',
  'buyers',
  'checks',
  'closed_days',
  'decisions',
  'deposit_policies',
  'expense_passed',
  'expense_repeats',
  'fiscal_rules',
  'heats',
  'lots',
  'making_steps',
  'model_prices',
  'order_builds',
  'order_changes',
  'promise_notes',
  'quotes',
  'release_knives',
  'releases',
  'reminders',
  'sheet_answers',
  'sheets_handed',
  'ship_rules',
  'shipments',
  'supply_orders',
  'trials',
  'year_seals',
];

/** Every soft point there is, so that a test that is not about them may close a year. */
const soft = async (shop: Shop): Promise<string[]> =>
  (await shop.call('seals.outlook', span)).checks
    .filter((check) => !check.passed && check.weight === 'soft')
    .map((check) => check.key);
const closeYear = async (shop: Shop) => shop.call('seals.close', { ...span, accepted: await soft(shop) });

const commands = Object.entries(coreEndpoints as Readonly<Record<string, Endpoint>>).filter(
  ([, endpoint]) => endpoint.kind === 'command',
);
/** Every day of every command that something may be done on. */
const effective = commands.flatMap(([name, endpoint]) =>
  dayFields(endpoint.input)
    .filter((way) => !isNotDone(name, way.join('.')))
    .map((way) => ({ name: name as CoreEndpointName, endpoint, way })),
);

describe('a closed year', () => {
  let shop: Shop;
  let saleId: string;
  let invoiceId: string;
  let sessionId: string;
  let movementId: string;
  beforeAll(async () => {
    shop = await openShop();
    const sold = await shop.call('selling.sell', saleOf(shop, await makeParing(shop, 'W01')));
    saleId = sold.saleId;
    invoiceId = sold.invoiceId ?? '';
    const sessions = await shop.call('hours.sessions', {});
    sessionId = sessions.rows[0]?.id ?? '';
    const knife = await plainKnife(shop);
    const item = shop.items['walnut'] ?? '';
    await shop.call('stock.draw', {
      buildId: knife,
      itemId: item,
      qty: 1_000_000,
      use: 'material',
      on: '2024-12-30',
    });
    movementId = (await shop.call('stock.movements', {})).rows[0]?.id ?? '';
  });
  afterAll(async () => {
    expect(shop.log).toEqual([]);
    await shop.close();
  });

  it('is not closed while it runs, while something hard is open, or while something soft was not seen', async () => {
    expect(await shop.fault('seals.close', { ...span })).toMatchObject({ kind: 'refused', field: 'to' });
    shop.clock.set('2025-01-20');
    expect(await shop.fault('seals.close', { from: '2024-01-01', to: '2024-12-30' })).toMatchObject({
      message: expect.stringContaining('no fiscal year') as string,
    });
    await shop.call('hours.start', {
      stageCode: 'GR2',
      workKind: null,
      buildIds: [shop.knives['W02'] ?? ''],
    });
    shop.clock.set('2025-01-21');
    const outlook = await shop.call('seals.outlook', span);
    expect(outlook).toMatchObject({ ready: true });
    expect(outlook.checks.find((check) => check.key === 'stocktake')).toMatchObject({
      passed: false,
      weight: 'soft',
    });
    expect(await shop.fault('seals.close', { ...span })).toMatchObject({ field: 'accepted' });
    await shop.call('hours.dropClock', {});
    // The clock of the machine set back a year: the last entry lies in its future.
    shop.clock.set('2024-01-20');
    expect(
      (await shop.call('seals.outlook', span)).checks.find((check) => check.key === 'clock'),
    ).toMatchObject({
      passed: false,
      weight: 'hard',
    });
    shop.clock.set('2025-01-21');
  });

  it('gets a seal over the history and every row, which can be looked at again', async () => {
    const before = shop.core.books.seq();
    const seal = await closeYear(shop);
    expect(seal).toMatchObject({ number: 1, seq: before, reopened: null });
    expect(seal.seal).toMatch(/^[0-9a-f]{64}$/);
    // 15,000 of price and 1,200 of shipping, the one sale of the year.
    expect(Object.fromEntries(seal.totals.map((total) => [total.key, total.value]))).toMatchObject({
      sales: 1,
      price: 15_000,
      shipping: 1200,
      minutes: 410,
    });
    expect(await shop.call('seals.prove', { id: seal.id })).toMatchObject({ holds: true, differing: 0 });
    expect(await shop.call('seals.list', {})).toMatchObject({ closedThrough: '2024-12-31' });
  });

  it('refuses its days in every command of the contract, whatever else is wrong', async () => {
    const before = wholeBooks(shop.db);
    expect(effective.length).toBeGreaterThan(60);
    for (const { name, endpoint, way } of effective) {
      const fault = await shop.fault(name, sample(endpoint.input, way, '2024-12-31'));
      expect([name, way.join('.'), fault.message]).toEqual([
        name,
        way.join('.'),
        expect.stringContaining('closed through 2024-12-31'),
      ]);
    }
    expect(wholeBooks(shop.db)).toEqual(before);
    // An exception for a field that is gone would hide the next one of its name.
    const all = commands.flatMap(([name, { input }]) =>
      dayFields(input).map((way) => `${name}.${way.join('.')}`),
    );
    expect(Object.keys(notDone).filter((field) => !all.includes(field))).toEqual([]);
  });

  it('holds every table with a day, but those that make no figure', () => {
    const ask = askingBooks(shop.db);
    const held = ask<{ tbl_name: string }>('SELECT DISTINCT tbl_name FROM sqlite_temp_master').map(
      (row) => row.tbl_name,
    );
    const dated = ask<{ name: string }>(
      `SELECT DISTINCT m.name FROM sqlite_master AS m JOIN pragma_table_info(m.name) AS c
        WHERE m.type = 'table' AND (c.name LIKE '%~_on' ESCAPE '~' OR c.name IN ('on_date', 'from_date')) ORDER BY m.name`,
    ).map((row) => row.name);
    expect(dated.filter((name) => !held.includes(name))).toEqual(withoutFigures);
  });

  it('refuses what has no day of its own: corrections, late figures, files brought in', async () => {
    const said = { kind: 'refused', message: expect.stringContaining('closed through 2024-12-31') as string };
    expect(await shop.fault('hours.cancel', { sessionId, reason })).toMatchObject(said);
    expect(
      await shop.fault('selling.actuals', { saleId, postagePaidMinor: 1, feeMinor: 1, reason }),
    ).toMatchObject(said);
    const text =
      'date,supplier,item,pieces,quantity,price\n2024-11-01,Greyfen Bar & Strip,Walnut scales,2,1,28.00\n';
    const { mapping } = await shop.call('imports.look', { kind: 'purchases', text });
    const before = wholeBooks(shop.db);
    expect(await shop.fault('imports.run', { kind: 'purchases', text, mapping })).toMatchObject(said);
    expect(wholeBooks(shop.db)).toEqual(before);
  });

  it('stays the same when a mistake is put right and money comes in the year after', async () => {
    const taken = await shop.call('stock.reverse', { movementId, reason });
    expect(taken).toMatchObject({ on: '2025-01-21', reversesId: movementId });
    await shop.call('selling.pay', { invoiceId, on: '2025-01-21', amountMinor: 17_253, method: 'transfer' });
    const back = { saleId, condition: 'As new', knife: 'shelf' as const, refundBy: 'transfer' };
    await shop.call('care.takeBack', { ...back, on: '2025-01-21' });
    const { seals } = await shop.call('seals.list', {});
    expect(await shop.call('seals.prove', { id: seals[0]?.id ?? '' })).toMatchObject({ holds: true });
    // The year the knife came back in bears it; the closed one has what it had.
    const report = await shop.call('year.report', span);
    expect([report.rates.sold.value, report.income.total.value]).toEqual([1, 16_200]);
  });

  it('opens again with a reason that stays, and is closed again under another seal', async () => {
    const { seals } = await shop.call('seals.list', {});
    const [first] = seals;
    const id = first?.id ?? '';
    expect(await shop.fault('seals.reopen', { id, reason: ' ' })).toMatchObject({ field: 'reason' });
    expect(await shop.call('seals.reopen', { id, reason })).toMatchObject({ reopened: { reason } });
    await shop.call('hours.cancel', { sessionId, reason });
    expect(await shop.call('seals.prove', { id })).toMatchObject({ holds: false });
    const again = await closeYear(shop);
    expect(again.number).toBe(2);
    expect(again.seal).not.toBe(first?.seal);
    expect((await shop.call('seals.list', {})).seals.map((seal) => seal.reopened?.reason ?? '')).toEqual([
      '',
      reason,
    ]);
  });
});

describe('a seal', () => {
  it('is broken by no command, and no figure moves: late invoices, postage, names, kinds of goods', async () => {
    const shop = await openShop();
    const alone = await shop.call('selling.sell', saleOf(shop, await plainKnife(shop), { invoice: false }));
    const tool = { name: 'Belt grinder', supplier: '', costMinor: 200_000, sharePpm: 1_000_000, note: '' };
    const bought = { ...tool, boughtOn: '2024-08-01', inServiceOn: '2024-08-01', residualMinor: 0 };
    const asset = { ...bought, method: { kind: 'months' as const, lifeMonths: 60 } };
    const { id } = await shop.call('money.saveAsset', asset);
    const done = { kind: 'sharpening' as const, knife: 'An old one', buyerId: shop.buyerId };
    const here = { ...done, receivedOn: '2024-12-01', doneOn: '2024-12-20', priceMinor: 4000 };
    const service = await shop.call('care.saveService', here);
    shop.clock.set('2025-02-01');
    const seal = await closeYear(shop);
    const report = await shop.call('year.report', span);
    const item = {
      name: 'Walnut scales',
      kind: 'handle',
      form: 'pair',
      unit: 'pair',
      pieceWord: 'pair',
    } as const;
    const walnut = { ...item, id: shop.items['walnut'] ?? '' };
    const faults = [
      await shop.fault('selling.issue', { saleId: alone.saleId, issuedOn: '2025-02-01' }),
      await shop.fault('money.saveAsset', { ...asset, id, name: 'Belt grinder, large' }),
      await shop.fault('care.saveService', { ...here, id: service.id, postagePaidMinor: 900 }),
      await shop.fault('care.saveService', { ...here, postagePaidMinor: 900 }),
      await shop.fault('stock.saveItem', { ...walnut, incidental: true }),
      await shop.fault('stock.saveItem', { ...walnut, kind: 'fitting' }),
      await shop.fault('money.bookSupporters', {
        month: '2024-12-01',
        grossMinor: 100,
        feeMinor: 0,
        receivedOn: null,
      }),
    ];
    expect(faults.map((fault) => fault.kind)).toEqual(faults.map(() => 'refused'));
    expect(faults.map((fault) => fault.message.includes('closed'))).toEqual(faults.map(() => true));
    // What counts in an open year goes on: sent back in January with its postage, and an item's note.
    const sent = { ...here, id: service.id, sentOn: '2025-01-10', postagePaidMinor: 900 };
    await shop.call('care.saveService', sent);
    await shop.call('stock.saveItem', { ...walnut, note: 'Dry it for a year' });
    await shop.call('money.saveAsset', { ...asset, id, note: 'Serviced in January' });
    expect(await shop.call('seals.prove', { id: seal.id })).toMatchObject({ holds: true });
    const { seq: _then, ...was } = report;
    const { seq: _now, ...is } = await shop.call('year.report', span);
    expect(is).toEqual(was);
    await shop.close();
  });

  it('made before postage of services was under one still proves; a new one covers it', async () => {
    const shop = await openShop();
    const done = { kind: 'repair', knife: 'An old one', buyerId: shop.buyerId, priceMinor: 0 } as const;
    const days = { receivedOn: '2024-12-01', doneOn: '2024-12-20', sentOn: '2024-12-21' };
    await shop.call('care.saveService', { ...done, ...days, postagePaidMinor: 910 });
    shop.clock.set('2025-02-01');
    const ask = askingBooks(shop.db);
    const head = lastEntry(shop.db);
    // As the version before wrote it: neither the table nor its total.
    const { servicePostage, ...totals } = atOnce(totalSteps(ask, span));
    expect(servicePostage).toBe(910);
    const { rows, rowsHash } = atOnce(contentSteps(ask, span, tablesUnder(totals)));
    const facts = {
      ...{
        ...span,
        sealedAt: '2025-01-05T12:00:00.000Z',
        seq: head?.seq ?? 0,
        journalHash: head?.hash ?? '',
      },
      ...{ totals: canonicalJson(totals), rowCount: rows.length, rowsHash, accepted: '[]', note: '' },
    };
    shop.core.books.write({ at: facts.sealedAt, who: 'a test', command: 'seals.close', input: {} }, (db) =>
      putSeal(
        db,
        {
          ...{ id: 'old', number: 1, from_on: facts.from, until_on: facts.to, sealed_at: facts.sealedAt },
          ...{ seq: facts.seq, journal_hash: facts.journalHash, totals: facts.totals, note: '' },
          ...{ row_count: facts.rowCount, rows_hash: rowsHash, accepted: '[]', seal: sealHash(facts) },
        },
        markPages(rows),
      ),
    );
    expect(await shop.call('seals.prove', { id: 'old' })).toMatchObject({ holds: true, differing: 0 });
    await shop.call('seals.reopen', { id: 'old', reason });
    const { id, rows: covered } = await closeYear(shop);
    expect(covered).toBe(rows.length + 1);
    await shop.close({ keep: true });
    const db = new Database(path.join(shop.folder, 'workshop.db'));
    db.exec('UPDATE services SET postage_paid_minor = 91');
    db.close();
    const again = await openRig({ folder: shop.folder, now: '2025-02-02' });
    expect((await again.call('seals.prove', { id })).differences).toMatchObject([{ table: 'services' }]);
    expect(await again.call('seals.prove', { id: 'old' })).toMatchObject({ holds: true });
    await again.close();
  });

  it('names the row and the entry somebody altered behind the program’s back, also after opening anew', async () => {
    const shop = await openShop();
    await shop.call('selling.sell', saleOf(shop, await makeParing(shop, 'W01')));
    shop.clock.set('2025-02-01');
    const { id } = await closeYear(shop);
    await shop.close({ keep: true });
    const db = new Database(path.join(shop.folder, 'workshop.db'));
    db.exec(`UPDATE sales SET price_minor = price_minor + 1;
      DROP TRIGGER journal_no_update; UPDATE journal SET body = replace(body, 'Walnut', 'Ebony') WHERE seq = 3;
      CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;`);
    const altered = db.prepare('SELECT min(seq) AS seq FROM journal WHERE body LIKE ?').get('%Ebony%') as {
      seq: number | null;
    };
    db.close();
    const again = await openRig({ folder: shop.folder, now: '2025-02-02' });
    const found = await again.call('seals.prove', { id });
    expect(found).toMatchObject({ holds: false, differing: 1 });
    expect(found.differences).toMatchObject([{ table: 'sales', what: 'changed' }]);
    if (altered.seq !== null) expect(found.history).toContain(`Entry ${altered.seq} of the history`);
    // The books know that they are closed from the first moment on.
    const input = { on: '2024-06-01', minutes: 5, stageCode: null, workKind: 'cleaning', shares: [] };
    expect(await again.fault('hours.book', input)).toMatchObject({ field: 'on', kind: 'refused' });
    await again.close();
  });
});
