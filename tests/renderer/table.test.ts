import { describe, expect, it } from 'vitest';
import { drawer, exported, isFigures, shown, sorted, sorter } from '../../renderer/parts/table.ts';
import type { Column } from '../../renderer/parts/table.ts';

interface Row {
  readonly tag: string;
  readonly left: number | null;
}
const rows: readonly Row[] = [
  { tag: 'L-10', left: 5 },
  { tag: 'L-9', left: null },
  { tag: 'L-100', left: 1 },
];
const tag: Column<Row> = { key: 'tag', title: 'Tag', value: (row) => row.tag };
const left: Column<Row> = {
  key: 'left',
  title: 'Left',
  value: (row) => row.left,
  text: (row) => `${String(row.left ?? 0)} in`,
};

describe('lists', () => {
  it('put L-9 before L-10 before L-100', () => {
    expect(sorted(rows, tag, 'ascending').map((row) => row.tag)).toEqual(['L-9', 'L-10', 'L-100']);
  });

  it('leave what is empty at the end, whichever way they are sorted', () => {
    expect(sorted(rows, left, 'ascending').map((row) => row.left)).toEqual([1, 5, null]);
    expect(sorted(rows, left, 'descending').map((row) => row.left)).toEqual([5, 1, null]);
  });

  it('keep the order they came in without a column to sort by', () => {
    expect(sorted(rows, undefined, 'ascending')).toEqual(rows);
  });

  it('are in the same order when only narrowed, and in a new one when a row or the column is new', () => {
    const sort = sorter<Row>();
    const many = Array.from({ length: 60 }, (_, at) => ({
      tag: `L-${String((at * 37) % 60)}`,
      left: at % 7,
    }));
    for (const [column, way] of [
      [tag, 'ascending'],
      [left, 'descending'],
      [left, 'ascending'],
    ] as const) {
      for (const keep of [1, 2, 3, 1]) {
        const some = many.filter((_, at) => at % keep === 0);
        expect(sort(some, column, way)).toEqual(sorted(some, column, way));
      }
      const grown = [...many, { tag: 'L-5', left: null }, { tag: 'L-5', left: 3 }];
      expect(sort(grown, column, way)).toEqual(sorted(grown, column, way));
      // The same row twice is shown twice.
      const twice = [...many.slice(0, 4), ...many.slice(0, 4)];
      expect(sort(twice, column, way)).toEqual(sorted(twice, column, way));
    }
    expect(sort(many, undefined, 'ascending')).toBe(many);
  });

  it('draw each cell with its text and its styles', () => {
    const wide: Column<Row> = {
      key: 'w',
      title: 'Wide',
      value: () => 'more than sixteen letters',
      wideOnly: true,
    };
    const cells = drawer([tag, { ...left, figures: true }, wide])({ tag: 'L-1', left: 3 });
    expect(cells.map(({ text, css }) => [text, css.trim().split(/\s+/)])).toEqual([
      ['L-1', ['short']],
      ['3 in', ['figures', 'short']],
      ['more than sixteen letters', ['wide']],
    ]);
  });

  it('show and export a text where there is one, and a value for the file where that is given', () => {
    const row: Row = { tag: 'L-1', left: 3 };
    expect([
      shown(tag, row),
      shown(left, row),
      exported(left, row),
      exported({ ...left, csv: (one) => one.left }, row),
    ]).toEqual(['L-1', '3 in', '3 in', 3]);
  });

  it('write amounts, costs, times and days for reading, and plainly into the file', () => {
    const row = { micro: 1_280_000_000, minor: -128_000, minutes: 410, on: '2024-07-06' };
    const columns: readonly Column<typeof row>[] = [
      { key: 'cost', title: 'Cost', value: (one) => one.micro, as: 'cost' },
      { key: 'price', title: 'Price', value: (one) => one.minor, as: 'money' },
      { key: 'time', title: 'Time', value: (one) => one.minutes, as: 'time' },
      { key: 'on', title: 'Day', value: (one) => one.on, as: 'day' },
      { key: 'left', title: 'Left', value: () => null, as: 'money' },
    ];
    expect(columns.map((column) => [shown(column, row), exported(column, row), isFigures(column)])).toEqual([
      ['$1,280.00', '1280.00', true],
      ['-$1,280.00', '-1280.00', true],
      ['6 h 50 min', 410, true],
      ['6 Jul 2024', '2024-07-06', false],
      ['', null, true],
    ]);
  });
});
