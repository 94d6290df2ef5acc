/** The sheet for the preparer of the demo's two years, against its control totals. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { PreparerSheet } from '../../electron/api/preparer.ts';
import type { ReportPaper, ReportTable } from '../../electron/documents/report-types.ts';
import { noPress } from '../workshop/no-press.ts';
import type { Rig } from '../workshop/rig.ts';
import { madeDemoMs, openDemo } from './made.ts';

const first = { from: '2024-07-01', to: '2024-12-31' };
const second = { from: '2025-01-01', to: '2025-12-31' };

let rig: Rig;
const printed: ReportPaper[] = [];
let half: PreparerSheet;
let whole: PreparerSheet;

beforeAll(async () => {
  const report = (paper: ReportPaper): Promise<Uint8Array> => {
    printed.push(paper);
    return Promise.resolve(new Uint8Array([37]));
  };
  rig = await openDemo(noPress('only reports are set here', { report }));
  half = await rig.call('preparer.sheet', first);
  whole = await rig.call('preparer.sheet', second);
}, madeDemoMs);
afterAll(() => rig.close());

const money = (minor: number): string => (minor / 100).toFixed(2);
const line = (sheet: PreparerSheet, code: string): readonly [string, string] => {
  const found = sheet.lines.find((each) => each.code === code);
  if (found === undefined) throw new Error(`No line ${code}`);
  return [money(found.cashMinor), money(found.earnedMinor)];
};
const income = (sheet: PreparerSheet, view: 'cashMinor' | 'earnedMinor'): string => {
  const from = sheet.lines.flatMap((each) => (each.part === 'income' ? each.from : []));
  return money(from.reduce((sum, each) => sum + each[view], 0));
};

describe('The sheet of the demo’s years', () => {
  // Control totals: stock at cost on both days, purchases less incidental supplies, cost of goods by count.
  test('2025 by count: 750.04 + 2,295.66 − 1,105.91 = 1,939.79, and 169.00 of supplies are expensed', () => {
    const { goods } = whole;
    expect(
      [goods.openingMinor, goods.materialsMinor + goods.consumablesMinor, goods.closingMinor].map(money),
    ).toEqual(['750.04', '2295.66', '1105.91']);
    expect([goods.byCountMinor, goods.incidentalMinor, goods.personalMinor].map(money)).toEqual([
      '1939.79',
      '169.00',
      '0.00',
    ]);
    expect(['35', '36', '40', '41', '42', '4'].map((code) => line(whole, code)[0])).toEqual([
      '750.04',
      '2295.66',
      '3045.70',
      '1105.91',
      '1939.79',
      '1939.79',
    ]);
    expect(money(half.goods.incidentalMinor)).toBe('268.00');
    expect(money(half.goods.materialsMinor + half.goods.consumablesMinor)).toBe('1606.06');
  });

  test('three figures of material: 2,464.66 bought, 2,132.96 in the knives sold', () => {
    expect([whole.materials.boughtMinor, whole.materials.soldMinor].map(money)).toEqual([
      '2464.66',
      '2132.96',
    ]);
    // What was used went into the knives sold, scrapped, or still there, or had been there before.
    expect(money(half.materials.soldMinor)).toBe('948.07');
  });

  // Control totals: income, cash receipts without sales tax, and the difference the open deposits make.
  test('income 13,860.75 earned and 14,190.75 received; 330.00 of it is customers’ money', () => {
    expect([income(half, 'earnedMinor'), income(whole, 'earnedMinor')]).toEqual(['4871.00', '13860.75']);
    expect(income(whole, 'cashMinor')).toBe('14190.75');
    expect(whole.held.map((held) => [held.buyerName, money(held.minor)])).toEqual([
      ['Honor Lindenquay', '177.00'],
      ['Casper Yarrowgate', '153.00'],
    ]);
    // The half of a deposit given back on 4 August is a refund by the day paid, and was never income by the day earned.
    expect(line(whole, '2')).toEqual(['42.75', '0.00']);
  });

  test('sales tax: 61.30 and 102.31 due and collected, by quarter, and in no line', () => {
    const sums = (sheet: PreparerSheet) => [
      money(sheet.tax.reduce((sum, row) => sum + row.dueMinor, 0)),
      money(sheet.tax.reduce((sum, row) => sum + row.collectedMinor, 0)),
    ];
    expect([sums(half), sums(whole)]).toEqual([
      ['61.30', '61.30'],
      ['102.31', '102.31'],
    ]);
    // Demo tables, sales at home: 420 on 15 March, 510 on 9 June, 590 on 17 October.
    expect(whole.tax.map((row) => [row.from, money(row.dueMinor)])).toEqual([
      ['2025-01-01', '28.47'],
      ['2025-04-01', '34.32'],
      ['2025-10-01', '39.52'],
    ]);
  });

  // Control totals: fees, platform, postage, overhead with mileage and depreciation.
  test('fees 364.93, platform 231.60, postage 495.19 and overhead 3,281.00 stand on their lines', () => {
    const amounts = new Map(
      whole.lines.flatMap((each) => each.from.map((from) => [from.source, from] as const)),
    );
    const of = (source: string) => money(amounts.get(source)?.earnedMinor ?? 0);
    expect(
      ['costs.fees', 'costs.platform', 'costs.postage', 'costs.mileage', 'costs.depreciation'].map(of),
    ).toEqual(['364.93', '231.60', '495.19', '90.00', '1180.00']);
    const overhead = [...amounts.values()]
      .filter(({ source }) => source.startsWith('category:'))
      .reduce((sum, each) => sum + each.earnedMinor, 9_000 + 118_000);
    expect(money(overhead)).toBe('3281.00');
    expect(whole.unplaced).toEqual([]);
  });

  test('line 31 is what was earned less the cost of goods by count and every expense', () => {
    // 13,860.75 − 1,939.79 − (169.00 + 364.93 + 231.60 + 495.19 + 3,281.00)
    expect(line(whole, '31')[1]).toBe('7379.24');
  });

  test('what is missing is told, with the screen to mend it on', () => {
    expect(whole.gaps.every((gap) => gap.href.startsWith('#/') && gap.text.endsWith('.'))).toBe(true);
    // Opening stock is the closing stock that the maker said last year's form had.
    expect(whole.opening).toEqual({
      booksMinor: 75_004,
      lastMinor: 75_004,
      differenceMinor: 0,
      state: 'tied',
    });
    expect(whole.gaps.map((gap) => gap.key)).not.toContain('opening.unknown');
    expect(whole.gaps.map((gap) => gap.key)).toContain('purchases.paper');
  });
});

describe('The papers of the demo’s years', () => {
  const tableOf = (paper: ReportPaper | undefined, heading: string): ReportTable => {
    const found = paper?.blocks.find((block) => block.kind === 'table' && block.heading === heading);
    if (found?.kind !== 'table') throw new Error(`No table ${heading}`);
    return found;
  };

  // Control totals of both years, as a reader of either language finds them.
  test('the yearly report says 7,321.62 left after 2,080.54, and explains 226.62 between the two ways', async () => {
    await rig.call('year.paper', { ...second, language: 'en' });
    const paper = printed.at(-1);
    expect([paper?.title, paper?.mark, paper?.language, paper?.figures[1]?.text]).toEqual([
      'Yearly report',
      '2025',
      'en',
      '7,321.62',
    ]);
    const left = tableOf(paper, 'The year').rows.find((row) => row.sum);
    expect(left?.cells.slice(1)).toEqual(['7,321.62', '2,080.54', '+5,241.08']);
    const bridge = tableOf(paper, 'Why the two ways differ').rows;
    expect([bridge[0]?.cells[1], bridge.at(-1)?.cells[1]]).toEqual(['1,939.79', '2,166.41']);
    const minor = (text = ''): number => Math.round(Number(text.replaceAll(',', '')) * 100);
    const between = bridge.slice(1, -1).reduce((sum, row) => sum + minor(row.cells[1]), 0);
    expect(money(between)).toBe('226.62');
    expect(bridge.slice(1, -1).every((row) => row.detail !== '')).toBe(true);
  });

  test('in German every figure of the house has a German name', async () => {
    await rig.call('year.paper', { ...first, language: 'en' });
    const english = printed.at(-1);
    await rig.call('year.paper', { ...first, language: 'de' });
    const german = printed.at(-1);
    expect(german?.title).toBe('Jahresbericht');
    expect(german?.figures[0]?.text).toBe('4.871,00');
    // Names of categories, models, places and stages are the maker's own; the house's words must all be turned.
    const told = (paper: ReportPaper | undefined, heading: string) =>
      tableOf(paper, heading).rows.map((row) => row.cells[0]);
    const same = [
      ['The year', 'Das Jahr'],
      ['What came in', 'Was hereinkam'],
      ['What the knives and their sale took', 'Was die Messer und ihr Verkauf gekostet haben'],
      ['By the day it was paid', 'Nach dem Tag der Zahlung'],
      ['Why the two ways differ', 'Warum sich die Wege unterscheiden'],
    ].flatMap(([en = '', de = '']) => told(english, en).filter((name) => told(german, de).includes(name)));
    expect(same.filter((name) => name !== 'Service')).toEqual([]);
    const said = german?.blocks.find((block) => block.heading === 'Was fehlt');
    expect(JSON.stringify(said)).not.toMatch(/ (is|are|no|were|stock) /);
  });

  test('the sheet on paper has every line that holds something, and the sum of the customers’ money', async () => {
    await rig.call('preparer.sheetPdf', second);
    const paper = printed.at(-1);
    const codes = tableOf(paper, 'Expenses').rows.map((row) => row.cells[0]?.split(' ')[0]);
    expect(codes).toEqual(['8', '9', '10', '13', '15', '17', '22', '25', '27b', '28', '29', '31', '48']);
    expect(tableOf(paper, 'Customers’ money on 31 Dec 2025').rows.at(-1)?.cells).toEqual([
      'All',
      '',
      '330.00',
    ]);
  });
});
