/** Expenses, trips, assets and other income through the real core: what goes in is what is counted, and nothing drifts. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input, Output } from '../../electron/api/contract.ts';
import { expensesByCategory, linesInYear } from '../../electron/storage/queries/expenses.ts';
import { incomeByKind, mileageTotal } from '../../electron/storage/queries/money.ts';
import { depreciationIn } from '../../electron/workshop/money/depreciation.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';

let rig: Rig;
beforeEach(async () => {
  rig = await openRig({ now: '2025-07-06' });
});
afterEach(() => rig.close());

const ALL = { from: '2000-01-01', to: '2099-12-31' };
const costOf = (day?: 'cost_on' | 'paid_on'): number =>
  expensesByCategory(rig.db, ALL, day).reduce((so, row) => so + row.cost_minor, 0);

const spend = (more: Partial<Input<'money.addExpense'>> = {}): Promise<Output<'money.addExpense'>> =>
  rig.call('money.addExpense', {
    ...{ categoryId: 'cat-tools', payee: 'Hobnail', costOn: '2025-07-01', paidOn: '2025-07-01' },
    amountMinor: 3850,
    ...more,
  });

describe('an expense', () => {
  it('costs the workshop its share without the tax kept apart, on its own day; owed it waits for the cash view', async () => {
    const half = await spend({ sharePpm: 500_000, amountMinor: 11_901, taxMinor: 1901, paidOn: null });
    expect(half.costMinor).toBe(5000);
    expect([costOf(), costOf('paid_on')]).toEqual([5000, 0]);
    await rig.call('money.paid', { id: half.id, on: '2025-07-05' });
    expect(costOf('paid_on')).toBe(5000);
    expect((await rig.fault('money.paid', { id: half.id, on: '2025-07-06' })).message).toMatch(/already/);
    const { rows } = await rig.call('money.expenses', { owed: true });
    expect(rows).toEqual([]);
  });
  it('is never rewritten: taken back once, on its day or later, by the opposite sum', async () => {
    const one = await spend();
    const back = { id: one.id, on: '2025-07-01', reason: 'entered twice' };
    expect((await rig.fault('money.takeBack', { ...back, on: '2025-06-30' })).field).toBe('on');
    const reversal = await rig.call('money.takeBack', back);
    expect([reversal.amountMinor, reversal.costMinor, reversal.reversesId]).toEqual([-3850, -3850, one.id]);
    expect([costOf(), costOf('paid_on')]).toEqual([0, 0]);
    for (const id of [one.id, reversal.id])
      expect((await rig.fault('money.takeBack', { ...back, id })).kind).toBe('refused');
    // Taken back, it may be entered again without being asked about.
    await spend();
    expect(costOf()).toBe(3850);
  });
  it('asks before the same day, payee and sum is entered once more, and takes it when told', async () => {
    await spend({ payee: 'Hobnail' });
    const fault = await rig.fault('money.addExpense', {
      ...{
        categoryId: 'cat-safety',
        payee: 'hobnail',
        costOn: '2025-07-01',
        paidOn: null,
        amountMinor: 3850,
      },
    });
    expect([fault.field, fault.message]).toEqual(['again', expect.stringContaining('$38.50 to Hobnail')]);
    await spend({ again: true });
    expect(costOf()).toBe(7700);
  });
  it('is found by category, by text, and among those without a receipt until one is kept or attached', async () => {
    const one = await spend({ payee: 'Café Löwe' });
    await spend({ payee: 'Other', receipt: true, categoryId: 'cat-safety' });
    const found = async (filter: Input<'money.expenses'>) => (await rig.call('money.expenses', filter)).total;
    expect(await found({ noReceipt: true })).toBe(1);
    expect([await found({ text: 'löwe' }), await found({ categoryId: 'cat-safety' })]).toEqual([1, 1]);
    const png =
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
    const owner = { ownerKind: 'expense' as const, ownerId: one.id, role: 'paper' as const };
    await rig.call('files.attach', { ...owner, name: 'receipt.png', base64: png });
    expect(await found({ noReceipt: true })).toBe(0);
    expect(await rig.call('money.payees', {})).toContainEqual({
      payee: 'Café Löwe',
      categoryId: 'cat-tools',
    });
  });
  it('is refused with its field named, and the books stay as they were', async () => {
    const before = wholeBooks(rig.db);
    const good = {
      ...{ categoryId: 'cat-tools', payee: 'P', costOn: '2025-07-01', paidOn: '2025-07-01' },
      amountMinor: 3850,
    };
    for (const [wrong, field] of [
      [{ costOn: '2025-07-07' }, 'costOn'],
      [{ paidOn: '2025-07-07' }, 'paidOn'],
      [{ amountMinor: -1 }, 'amountMinor'],
      [{ amountMinor: 0 }, 'amountMinor'],
      [{ taxMinor: 3851 }, 'taxMinor'],
      [{ sharePpm: 1_000_001 }, 'sharePpm'],
      [{ categoryId: 'nowhere' }, 'categoryId'],
      [{ amountMinor: 9.1e12 }, 'amountMinor'],
    ] as const)
      expect((await rig.fault('money.addExpense', { ...good, ...wrong })).field).toBe(field);
    expect(wholeBooks(rig.db)).toEqual(before);
  });
  it('adds up whatever is entered and taken back, in any currency, with and without decimals', async () => {
    const yen = await openRig({ now: '2025-07-06', currency: 'JPY' });
    const entry = fc.record({
      amountMinor: fc.integer({ min: 1, max: 900_000 }),
      sharePpm: fc.integer({ min: 1, max: 1_000_000 }),
      back: fc.boolean(),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(entry, { maxLength: 8 }), async (entries) => {
        const before = (await yen.call('money.expenses', {})).costMinor;
        let expected = 0;
        for (const { back, ...sums } of entries) {
          const day = { costOn: '2025-07-01', paidOn: '2025-07-01' };
          const row = { categoryId: 'cat-other', payee: 'P', again: true, ...day, ...sums };
          const one = await yen.call('money.addExpense', row);
          expect(one.costMinor).toBe(Math.round((sums.amountMinor * sums.sharePpm) / 1_000_000));
          if (back) await yen.call('money.takeBack', { id: one.id, on: '2025-07-02', reason: 'r' });
          else expected += one.costMinor;
        }
        expect((await yen.call('money.expenses', {})).costMinor - before).toBe(expected);
      }),
      { numRuns: 12 },
    );
    await yen.close();
  });
});

describe('what comes again', () => {
  const website: Input<'money.saveRepeat'> = {
    ...{
      categoryId: 'cat-website',
      payee: 'Larkpost',
      amountMinor: 2100,
      everyMonths: 1,
      from: '2025-03-31',
    },
  };
  it('falls due on the month’s last day where the 31st is missing, and is booked once for each day or passed over', async () => {
    const { id, next } = await rig.call('money.saveRepeat', website);
    expect(next).toBe('2025-07-31');
    const due = async () => (await rig.call('money.repeats', {})).due.map((one) => one.on);
    expect(await due()).toEqual(['2025-03-31', '2025-04-30', '2025-05-31', '2025-06-30']);
    const april = { repeatId: id, on: '2025-04-30', amountMinor: 2250, paidOn: '2025-05-02' };
    const booked = await rig.call('money.bookDue', april);
    expect([booked.costOn, booked.amountMinor]).toEqual(['2025-04-30', 2250]);
    expect((await rig.fault('money.bookDue', april)).kind).toBe('refused');
    await rig.call('money.passDue', { repeatId: id, on: '2025-03-31' });
    expect(await due()).toEqual(['2025-05-31', '2025-06-30']);
    // Taken back, it is due again.
    await rig.call('money.takeBack', { id: booked.id, on: '2025-04-30', reason: 'wrong sum' });
    expect(await due()).toEqual(['2025-04-30', '2025-05-31', '2025-06-30']);
    await rig.call('money.saveRepeat', { ...website, id, until: '2025-05-31' });
    expect(await due()).toEqual(['2025-04-30', '2025-05-31']);
  });
});

describe('a category', () => {
  it('keeps what it counts as once used, is put away instead of deleted, and has its line of each tax year', async () => {
    await spend();
    const tools = { id: 'cat-tools', name: 'Small tools', kind: 'overhead' as const };
    expect((await rig.fault('money.saveCategory', { ...tools, kind: 'postage' })).field).toBe('kind');
    expect((await rig.fault('money.saveCategory', { ...tools, name: 'SAFETY' })).field).toBe('name');
    const list = await rig.call('money.saveCategory', { ...tools, archived: true });
    expect(list.find((one) => one.id === 'cat-tools')).toMatchObject({ name: 'Small tools', line: '22' });
    expect((await rig.fault('money.addExpense', { ...tools, categoryId: 'cat-tools' })).kind).toBe('invalid');
    // Schedule C of tax year 2024, read in four copies of the form: insurance on 15, utilities on 25.
    const lines = new Map(linesInYear(rig.db, 2025).map((row) => [row.category_id, row.line]));
    expect([lines.get('cat-insurance'), lines.get('cat-power')]).toEqual(['15', '25']);
  });
});

describe('trips', () => {
  it('come to distance times the rate in force; a changed rate restates its own days and what was taken back there', async () => {
    const trip = { on: '2025-06-01', distanceMilli: 22_500, unit: 'mi' as const, purpose: 'Post office' };
    expect((await rig.fault('money.addTrip', trip)).field).toBe('on');
    const rate = { unit: 'mi' as const, perUnitMicro: 670_000 };
    await rig.call('money.setMileageRate', { ...rate, from: '2025-01-01' });
    const one = await rig.call('money.addTrip', trip);
    expect(one.amountMinor).toBe(1508);
    const km = await rig.call('money.addTrip', { ...trip, unit: 'km', distanceMilli: 1_609_344 });
    expect(km.amountMinor).toBe(67_000);
    await rig.call('money.takeBackTrip', { id: km.id, on: '2025-07-02', reason: 'another car' });
    await rig.call('money.addTrip', { ...trip, on: '2025-07-01' });
    const july = { ...rate, from: '2025-07-01', perUnitMicro: 1_000_000 };
    expect(await rig.call('money.setMileageRate', july)).toEqual({ restated: 1 });
    expect(mileageTotal(rig.db, ALL)).toBe(1508 + 2250);
    const january = { ...rate, from: '2025-01-01', perUnitMicro: 700_000 };
    expect(await rig.call('money.setMileageRate', january)).toEqual({ restated: 3 });
    expect(mileageTotal(rig.db, ALL)).toBe(1575 + 2250);
  });
});

describe('an asset', () => {
  const grinder: Input<'money.saveAsset'> = {
    ...{ name: 'Grinder', boughtOn: '2024-08-20', inServiceOn: '2024-09-01', costMinor: 210_000 },
    method: { kind: 'months', lifeMonths: 60 },
  };
  const written = (year: string): number[] =>
    depreciationIn(rig.db, { from: `${year}-01-01`, to: `${year}-12-31` }).map((line) => line.minor);
  it('is written off by fiscal year, also across one that is short', async () => {
    const asset = await rig.call('money.saveAsset', grinder);
    expect([asset.number, asset.leftMinor]).toEqual([1, 210_000 - 14_000 - 42_000]);
    expect(asset.schedule.map((year) => [year.name, year.minor])).toEqual([
      ['2024', 14_000],
      ['2025', 42_000],
      ['2026', 42_000],
      ['2027', 42_000],
      ['2028', 42_000],
      ['2029', 28_000],
    ]);
    await rig.call('year.saveRule', { fromOn: '2025-07-01', kind: 'date', month: 7, day: 1 });
    const { assets, years } = await rig.call('money.assets', {});
    expect(assets[0]?.schedule.map((year) => year.minor)).toEqual([
      14_000, 21_000, 42_000, 42_000, 42_000, 42_000, 7000,
    ]);
    expect(years.map((year) => year.from).slice(0, 3)).toEqual(['2024-01-01', '2025-01-01', '2025-07-01']);
    // A span that is no fiscal year: three months of it.
    expect(depreciationIn(rig.db, { from: '2025-02-01', to: '2025-04-30' })[0]?.minor).toBe(10_500);
  });
  it('goes with gain or loss, not before it was bought, and is there again when that was wrong', async () => {
    const { id } = await rig.call('money.saveAsset', grinder);
    const gone = { id, on: '2025-03-15', how: 'sold' as const, proceedsMinor: 200_000 };
    for (const [wrong, field] of [
      [{ on: '2024-08-19' }, 'on'],
      [{ on: '2024-08-31' }, 'on'],
      [{ on: '2025-07-07' }, 'on'],
      [{ how: 'scrapped' }, 'how'],
      [{ proceedsMinor: -1 }, 'proceedsMinor'],
    ] as const)
      expect((await rig.fault('money.dispose', { ...gone, ...wrong })).field).toBe(field);
    const sold = await rig.call('money.dispose', gone);
    // Six months taken: 210,000 - 21,000 is left against 200,000.
    expect([sold.leftMinor, sold.schedule.at(-1)]).toEqual([
      0,
      expect.objectContaining({ minor: 7000, gainMinor: 11_000 }),
    ]);
    expect((await rig.fault('money.dispose', gone)).kind).toBe('refused');
    expect((await rig.fault('money.saveAsset', { ...grinder, id, inServiceOn: '2025-04-01' })).field).toBe(
      'inServiceOn',
    );
    await rig.call('money.keepAsset', { id, reason: 'the sale fell through' });
    expect(written('2025')).toEqual([42_000]);
  });
  it('warns when more than 40 % came in the last quarter, and when a table meets a short year', async () => {
    const table = { kind: 'table' as const, classYears: 7 as const, convention: 'halfYear' as const };
    await rig.call('money.saveAsset', {
      ...grinder,
      boughtOn: '2024-03-01',
      inServiceOn: '2024-03-01',
      method: table,
    });
    const late = { ...grinder, boughtOn: '2024-10-01', inServiceOn: '2024-10-01', method: table };
    const { id } = await rig.call('money.saveAsset', late);
    expect((await rig.call('money.assets', {})).warnings).toEqual([
      expect.stringMatching(/^50 % .* 2024 .* 40 %/),
    ]);
    // One that went in the year it came is on neither side (Publication 946, from memory).
    await rig.call('money.dispose', { id, on: '2024-12-20', how: 'scrapped', proceedsMinor: 0 });
    expect((await rig.call('money.assets', {})).warnings).toEqual([]);
    await rig.call('money.keepAsset', { id, reason: 'it could be mended' });
    await rig.call('money.saveAsset', { ...late, id, costMinor: 140_000 });
    expect((await rig.call('money.assets', {})).warnings).toEqual([]);
    await rig.call('year.saveRule', { fromOn: '2024-07-01', kind: 'date', month: 7, day: 1 });
    expect((await rig.call('money.assets', {})).warnings.join(' ')).toMatch(/short year/);
  });
  it('refuses what cannot be', async () => {
    for (const [wrong, field] of [
      [{ inServiceOn: '2024-08-19' }, 'inServiceOn'],
      [{ boughtOn: '2025-07-07', inServiceOn: '2025-07-07' }, 'boughtOn'],
      [{ residualMinor: 210_001 }, 'residualMinor'],
      [{ sharePpm: 1_000_001 }, 'sharePpm'],
      [{ costMinor: -5 }, 'costMinor'],
    ] as const)
      expect((await rig.fault('money.saveAsset', { ...grinder, ...wrong })).field).toBe(field);
  });
});

describe('other income', () => {
  const join = async (name: string, from: string, levelId: string): Promise<void> => {
    const { id } = await rig.call('selling.saveBuyer', { name, country: 'US', taxPlaceId: null });
    await rig.call('buyers.support', { buyerId: id, levelId, from });
  };
  it('proposes each month of supporters from the list, and books it once', async () => {
    const low = await rig.call('buyers.saveLevel', { name: 'Friend', rank: 1, perMonthMinor: 600 });
    const high = await rig.call('buyers.saveLevel', { name: 'Patron', rank: 2, perMonthMinor: 1500 });
    await join('Ann', '2025-05-10', low.id);
    await join('Ben', '2025-06-30', low.id);
    await join('Cleo', '2025-06-01', high.id);
    await join('Late', '2025-07-01', high.id);
    const [june, may] = await rig.call('money.supporterMonths', {});
    expect([june?.month, june?.count, june?.grossMinor, june?.feeMinor]).toEqual([
      '2025-06-01',
      3,
      2700,
      270,
    ]);
    expect([may?.month, may?.grossMinor, may?.feeMinor]).toEqual(['2025-05-01', 600, 60]);
    await rig.call('money.saveSettings', { platformPpm: 80_000, smallToolMinor: null });
    const input = { month: '2025-06-01', grossMinor: 2700, feeMinor: 216, receivedOn: null };
    const booked = await rig.call('money.bookSupporters', input);
    expect(booked.heads).toEqual([
      { level: 'Friend', heads: 2, perMonthMinor: 600 },
      { level: 'Patron', heads: 1, perMonthMinor: 1500 },
    ]);
    expect((await rig.fault('money.bookSupporters', input)).message).toMatch(/booked already/);
    expect((await rig.fault('money.bookSupporters', { ...input, month: '2025-07-01' })).message).toMatch(
      /not over/,
    );
    expect(incomeByKind(rig.db, ALL, 'received_on')).toEqual([]);
    await rig.call('money.received', { id: booked.id, on: '2025-07-03' });
    expect(incomeByKind(rig.db, ALL, 'received_on')).toEqual([
      { kind: 'supporters', gross_minor: 2700, fee_minor: 216, n: 1 },
    ]);
    await rig.call('money.takeBackIncome', { id: booked.id, on: '2025-06-30', reason: 'wrong fee' });
    await rig.call('money.bookSupporters', { ...input, feeMinor: 220 });
    const { grossMinor, feeMinor } = await rig.call('money.incomes', {});
    expect([grossMinor, feeMinor]).toEqual([2700, 220]);
  });
  it('refuses negative income, a fee above it, days to come and supporters by hand', async () => {
    const talk = {
      kind: 'content',
      earnedOn: '2025-07-01',
      receivedOn: null,
      payer: 'Club',
      grossMinor: 5000,
    };
    for (const [wrong, field] of [
      [{ grossMinor: -1 }, 'grossMinor'],
      [{ feeMinor: 5001 }, 'feeMinor'],
      [{ earnedOn: '2025-07-07' }, 'earnedOn'],
      [{ kind: 'supporters' }, 'kind'],
    ] as const)
      expect((await rig.fault('money.addIncome', { ...talk, ...wrong })).field).toBe(field);
  });
});

describe('a file of expenses', () => {
  it('is booked line by line, leaves out what the books hold, and refuses a category nobody knows', async () => {
    await spend();
    const head = 'Date,Paid to,Category,Amount,Share,Receipt kept';
    const text = `${head}\n2025-07-01,Hobnail,Small tools and repairs,38.50,,yes\n2025-07-02,Muslin Row,photo and content props,"1,024.00",50 %,yes\n`;
    const look = await rig.call('imports.look', { kind: 'expenses', text });
    const file = { kind: 'expenses' as const, text, mapping: { ...look.mapping } };
    const check = await rig.call('imports.check', file);
    expect([check.problems, check.good, check.leftOut.map((one) => one.line)]).toEqual([[], 1, [2]]);
    expect(await rig.call('imports.run', file)).toEqual({ booked: 1, made: 0 });
    expect(costOf()).toBe(3850 + 51_200);
    const wrong = `${head}\n2025-07-03,X,Fireworks,1.00,,\n2025-07-03,X,Safety,-1,,\n2025-07-03,X,Safety,1,101,\n`;
    const faults = await rig.call('imports.check', { ...file, text: wrong });
    expect(faults.problems.map((one) => [one.line, one.field])).toEqual([
      [2, 'category'],
      [3, 'amount'],
      [4, 'share'],
    ]);
  });
});
