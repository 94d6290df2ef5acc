/** The sheet for the preparer on small books: goods, lines, own lists, last year's closing stock, and what is refused. Invented data. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PreparerSheet } from '../../electron/api/preparer.ts';
import type { ReportPaper } from '../../electron/documents/report-types.ts';
import { openRig, type Rig } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';
import { openShop, plainKnife, saleOf } from './shop.ts';

const y2024 = { from: '2024-01-01', to: '2024-12-31' };
const y2025 = { from: '2025-01-01', to: '2025-12-31' };

const minorOf = (sheet: PreparerSheet, code: string): readonly [number, number] => {
  const line = sheet.lines.find((each) => each.code === code);
  if (line === undefined) throw new Error(`No line ${code}`);
  return [line.cashMinor, line.earnedMinor];
};

describe('Goods and expenses of a year', () => {
  let rig: Rig;
  let shelf: Shelf;
  const sheet = (of: { readonly from: string; readonly to: string } = y2025) =>
    rig.call('preparer.sheet', of);

  beforeAll(async () => {
    rig = await openRig({ now: '2026-02-01' });
    shelf = await stockShelf(rig);
  });
  afterAll(() => rig.close());

  it('counts own use off purchases, sends returns back, and keeps supplies without a count out of stock', async () => {
    const walnut = first(await shelf.buy('walnut', 10, 1_000_000, 100, '2024-06-01'));
    await shelf.buy('belt', 4, 1_000_000, 40, '2025-03-01');
    const sent = first(await shelf.buy('epoxy', 2, 118_294_118, 60, '2025-03-02'));
    const oil = { name: 'Oil', kind: 'oil', form: 'volume', unit: 'gal', incidental: true } as const;
    const { id: itemId } = await rig.call('stock.saveItem', oil);
    const line = { itemId, pieces: 1, qtyEach: 1_000_000_000, priceMicro: micro(29.6) };
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: '2025-04-01', lines: [line] });
    const own = {
      kind: 'personal',
      qty: 2_000_000,
      reason: 'A handle for the kitchen',
      on: '2025-05-01',
    } as const;
    await rig.call('stock.takeOut', { lotId: walnut, ...own });
    const back = { kind: 'return', qty: 118_294_118, reason: 'Wrong glue', on: '2025-05-02' } as const;
    await rig.call('stock.takeOut', { lotId: sent, ...back });

    const { goods, materials } = await sheet();
    // 10 pairs at 10.00 before; 4 belts 40.00 and one kit of 30.00 stayed; two pairs went home.
    expect(goods).toMatchObject({
      openingMinor: 10_000,
      materialsMinor: 3_000,
      consumablesMinor: 4_000,
      personalMinor: 2_000,
      closingMinor: 8_000 + 3_000 + 4_000,
      byCountMinor: 0,
      incidentalMinor: 2_960,
    });
    expect(materials).toEqual({ boughtMinor: 9_960, usedMinor: 0, soldMinor: 0 });
    const now = await sheet();
    expect(['35', '36', '40', '41', '42', '22'].map((code) => minorOf(now, code)[0])).toEqual([
      10_000, 5_000, 15_000, 15_000, 0, 2_960,
    ]);
  });

  it('shows an owed expense by the day it belongs to only, and follows its line from a year on', async () => {
    const spent = { categoryId: 'cat-insurance', payee: 'A mutual', amountMinor: 21_000 };
    await rig.call('money.addExpense', { ...spent, costOn: '2025-12-20', paidOn: null });
    expect(minorOf(await sheet(), '15')).toEqual([0, 21_000]);
    expect((await sheet()).gaps.map((gap) => gap.key)).toEqual(
      expect.arrayContaining(['receipts', 'owed', 'count.opening', 'count.closing', 'purchases.paper']),
    );
    // A year that still runs cannot have been counted at its end.
    const running = (await sheet({ from: '2026-01-01', to: '2026-12-31' })).gaps.map((gap) => gap.key);
    expect([running.includes('count.opening'), running.includes('count.closing')]).toEqual([true, false]);
    const move = { formId: 'us-c', source: 'category:cat-insurance' };
    await rig.call('preparer.setLine', { ...move, fromYear: 2025, line: '27b' });
    expect([minorOf(await sheet(), '15'), minorOf(await sheet(), '48')]).toEqual([
      [0, 0],
      [0, 21_000],
    ]);
    const before = await rig.call('preparer.map', { formId: 'us-c', year: 2024 });
    expect(before.find((row) => row.source === move.source)?.line).toBe('15');
    await rig.call('preparer.setLine', { ...move, fromYear: 2025, line: '' });
    const off = await sheet();
    expect([off.leftOff.map((each) => each.label), off.unplaced]).toEqual([['Insurance'], []]);
    await rig.call('preparer.setLine', { ...move, fromYear: 2025, line: '15' });
  });

  it('names a category nobody put on a line, and takes it once somebody does', async () => {
    const list = await rig.call('money.saveCategory', { name: 'Meals with buyers', kind: 'overhead' });
    const { id: categoryId } = list.find((one) => one.name === 'Meals with buyers') ?? { id: '' };
    const meal = { payee: 'An inn', amountMinor: 5_001, costOn: '2025-08-01', paidOn: '2025-08-01' };
    await rig.call('money.addExpense', { ...meal, categoryId });
    const gap = (await sheet()).gaps.find((one) => one.key === `line.category:${categoryId}`);
    expect(gap).toMatchObject({
      text: 'Meals with buyers is on no line of the form.',
      href: '#/year/sheet/lines',
    });
    // Laid away since, it must still find its line.
    const away = { id: categoryId, name: 'Meals with buyers', kind: 'overhead', archived: true } as const;
    await rig.call('money.saveCategory', away);
    const on = { formId: 'us-c', source: `category:${categoryId}`, fromYear: 2025, line: '24b' };
    await rig.call('preparer.setLine', on);
    // Half of the cost of business meals (2024 instructions), rounded half away from zero.
    expect(minorOf(await sheet(), '24b')).toEqual([2_501, 2_501]);
  });

  it('ties opening stock to what was handed over, and shows what changed since', async () => {
    const tied = async () => (await sheet()).opening;
    expect(await tied()).toMatchObject({ state: 'unknown', booksMinor: 10_000 });
    const answers = { formId: 'us-c', view: 'cash', valuedAt: 'cost', methodChanged: false } as const;
    await rig.call('preparer.answer', { ...y2025, ...answers, lastClosingMinor: 10_500 });
    expect(await tied()).toMatchObject({ state: 'open', differenceMinor: -500 });
    const why = 'Half a pair was split in the drawer.';
    await rig.call('preparer.answer', { ...y2025, ...answers, lastClosingMinor: 10_500, openingNote: why });
    expect((await tied()).state).toBe('explained');
    await rig.call('preparer.handOver', y2024);
    // What was handed over is what next year's form must begin with, whatever was told before.
    expect(await tied()).toMatchObject({ state: 'tied', lastMinor: 10_000 });

    await shelf.buy('box', 5, 1_000_000, 25, '2024-11-11');
    expect(await tied()).toMatchObject({ state: 'explained', booksMinor: 12_500, differenceMinor: 2_500 });
    const [handed] = (await sheet(y2024)).handed;
    expect(handed?.changes.map((change) => [change.code, change.handedMinor, change.nowMinor])).toEqual([
      ['36', 10_000, 12_500],
      ['40', 10_000, 12_500],
      ['41', 10_000, 12_500],
    ]);
  });

  it('lays the same year out by a list of the maker’s own and by the plain one, with the same result', async () => {
    const plain = (await rig.call('preparer.forms', {})).find((form) => form.id === 'plain');
    const lines = (plain?.lines ?? []).map(({ code, label, part }) => ({ code: `Z${code}`, label, part }));
    const made = await rig.call('preparer.saveForm', { name: 'Form of elsewhere', lines });
    const answers = {
      view: 'earned',
      valuedAt: 'cost',
      methodChanged: false,
      lastClosingMinor: null,
    } as const;
    for (const row of await rig.call('preparer.map', { formId: 'plain', year: 2025 })) {
      const put = { formId: made.id, source: row.source, fromYear: 2025 };
      await rig.call('preparer.setLine', {
        ...put,
        line: row.line === null ? 'ZC13' : row.line && `Z${row.line}`,
      });
    }
    const own = await rig.call('preparer.answer', { ...y2025, ...answers, formId: made.id });
    const usual = await rig.call('preparer.answer', { ...y2025, ...answers, formId: 'us-c' });
    expect(own.unplaced).toEqual([]);
    // The meals stand whole on the own list, and by half on the published one.
    expect(minorOf(own, 'result')[1]).toBe(minorOf(usual, '31')[1] - 2_500);
    const copy = await rig.call('preparer.saveForm', { name: 'A copy', likeId: made.id, lines });
    expect(await rig.call('preparer.map', { formId: copy.id, year: 2024 })).toContainEqual(
      expect.objectContaining({ source: 'goods.closing', line: 'ZB3' }),
    );
  });

  it('refuses in one sentence what cannot be, and changes nothing', async () => {
    const lines = [{ code: '1', label: 'Sales', part: 'income' as const }];
    const twice = [...lines, ...lines];
    const put = { formId: 'us-c', source: 'income.knives', fromYear: 2025 };
    const faults = await Promise.all([
      rig.fault('preparer.sheet', { from: '2025-12-31', to: '2025-01-01' }),
      rig.fault('preparer.setLine', { ...put, line: '42' }),
      rig.fault('preparer.setLine', { ...put, line: '999' }),
      rig.fault('preparer.setLine', { ...put, source: 'income.nothing', line: '1' }),
      rig.fault('preparer.saveForm', { name: 'Twice', lines: twice }),
      rig.fault('preparer.saveForm', { name: 'A copy', lines }),
      rig.fault('preparer.saveForm', { id: 'us-c', name: 'Mine', lines }),
      rig.fault('preparer.handOver', { from: '2026-01-01', to: '2026-12-31' }),
      rig.fault('preparer.answer', {
        ...y2025,
        formId: 'gone',
        view: 'cash',
        valuedAt: '',
        methodChanged: false,
        lastClosingMinor: -1,
      }),
    ]);
    expect(faults.map((fault) => fault.message)).toEqual([
      'The year ends before it begins. Change one of the days.',
      'Nothing can be put on line 42. Choose a line from the list.',
      'Nothing can be put on line 999. Choose a line from the list.',
      'There is no such figure any more. Reload the page.',
      'Line 1 stands there twice, or its name is taken. Each line needs a name of its own.',
      'There is already a list called A copy. Give this one another name.',
      'The lists that come with the house stay as they are. Copy one and change the copy.',
      'The year is not over yet. Hand the sheet over when its last day is past.',
      'An amount here cannot be below zero.',
    ]);
  });
});

it('takes a sale without an invoice on its day and what went back as a refund, and says it all on the paper', async () => {
  const shop = await openShop({ now: '2026-01-04' });
  const empty = await shop.call('preparer.sheet', y2025);
  expect([empty.form.id, minorOf(empty, '1'), empty.answered]).toEqual(['us-c', [0, 0], false]);
  expect(empty.notes.join(' ')).toContain('The form of 2025 was not read');

  const alone = await shop.call('selling.sell', saleOf(shop, await plainKnife(shop), { invoice: false }));
  const paid = await shop.call('selling.sell', saleOf(shop, await plainKnife(shop), { paidBy: 'card' }));
  expect([alone.invoiceId, paid.invoiceId === null]).toEqual([null, false]);
  const back = { saleId: paid.saleId, on: '2024-09-10', condition: 'Tip bent', refundBy: 'card' } as const;
  await shop.call('care.takeBack', { ...back, knife: 'scrapped', keptMinor: 3000 });
  const sheet = await shop.call('preparer.sheet', y2024);
  // Two sales of 150.00 and 12.00; 132.00 of one went back with its tax of 8.58 (see the returns' own test).
  expect(['1', '2', '3'].map((code) => minorOf(sheet, code))).toEqual([
    [32_400, 32_400],
    [13_200, 13_200],
    [19_200, 19_200],
  ]);
  expect(sheet.tax).toEqual([
    expect.objectContaining({
      from: '2024-07-01',
      dueMinor: 1053 + 1053 - 858,
      collectedMinor: 1053 + 1053 - 858,
    }),
  ]);
  // A year of 53 weeks has four quarters; the credit of 10 September lies in its last days.
  const weeks = await shop.call('preparer.sheet', { from: '2023-09-09', to: '2024-09-13' });
  expect(weeks.tax.map((row) => [row.from, row.to])).toEqual([['2024-06-09', '2024-09-13']]);
  expect(sheet.notes.join(' ')).toContain('Sales without an invoice of their own count as paid');
  await shop.call('preparer.sheetPdf', y2024);
  const paper = shop.press.others.find((each) => each.kind === 'report')?.data as ReportPaper;
  expect(paper.title).toBe('Sheet for the preparer');
  const rows = await shop.call('preparer.rows', y2024);
  expect(rows[0]).toEqual(['part', 'line', 'label', 'what', 'by day paid', 'by day earned']);
  expect(rows.filter(([part, line]) => part === 'goods' && line === '41')).toHaveLength(1 + 1);
  await shop.close();
});

it('keeps whole yen in a currency without decimals, and a leap-day year end', async () => {
  const rig = await openRig({ now: '2024-03-05', currency: 'JPY' });
  const shelf = await stockShelf(rig);
  await shelf.buy('walnut', 3, 1_000_000, 1000, '2024-02-29');
  const leap = await rig.call('preparer.sheet', { from: '2023-03-01', to: '2024-02-29' });
  expect([leap.goods.materialsMinor, leap.goods.closingMinor, leap.decimals]).toEqual([1000, 1000, 0]);
  const next = await rig.call('preparer.sheet', { from: '2024-03-01', to: '2025-02-28' });
  expect(next.goods.openingMinor).toBe(1000);
  await rig.close();
});
