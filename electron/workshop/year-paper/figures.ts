/** Tables of the report whose rows stand beside those of the year before. */
import type { BridgeLine, FiscalYear, YearFigure, YearReport, YearSection } from '../../api/year.ts';
import type { ReportBlock, ReportFigure, ReportRow, ReportTable } from '../../documents/report-types.ts';
import { row, sumRow, table, type Writer } from './writer.ts';

const isThere = (figure: YearFigure): boolean => (figure.value ?? 0) !== 0 || (figure.before ?? 0) !== 0;

/** A figure, the same of the year before, and what changed. */
function cellsOf(figure: YearFigure, write: Writer): readonly string[] {
  const { unit, value, before } = figure;
  const change = value === null || before === null ? null : value - before;
  return [
    write.label(figure.key, figure.label),
    write.figure(unit, value),
    write.figure(unit, before),
    change !== null && change > 0 ? `+${write.figure(unit, change)}` : write.figure(unit, change),
  ];
}

/** A short year over a column is told by its calendar years alone. */
export const columnName = ({ from, to }: FiscalYear): string =>
  from.slice(0, 4) === to.slice(0, 4) ? to.slice(0, 4) : `${from.slice(0, 4)}/${to.slice(2, 4)}`;

const headsOf = (report: YearReport, write: Writer): readonly string[] => [
  '',
  columnName(report.year),
  report.before === null ? write.words.heads.before : columnName(report.before),
  write.words.heads.change,
];

/** Without a year before, its two columns are left out. */
const narrowed = (report: YearReport, cells: readonly string[]): readonly string[] =>
  report.before === null ? cells.slice(0, 2) : cells;

const figureRow = (report: YearReport, figure: YearFigure, write: Writer): ReportRow =>
  row(narrowed(report, cellsOf(figure, write)), figure.note ?? '');

const sumFigure = (report: YearReport, figure: YearFigure, write: Writer): ReportRow =>
  sumRow(narrowed(report, cellsOf(figure, write)));

/** A section with its total. */
export const sectionTable = (
  report: YearReport,
  section: YearSection,
  words: { readonly heading: string; readonly intro?: string },
  write: Writer,
): ReportTable =>
  table(words.heading, words.intro ?? '', narrowed(report, headsOf(report, write)), [
    ...section.figures.filter(isThere).map((figure) => figureRow(report, figure, write)),
    sumFigure(report, section.total, write),
  ]);

/** Says when a short year stands beside a whole one; empty otherwise. */
const unequal = ({ year, before }: YearReport, write: Writer): string =>
  before === null || before.short === year.short
    ? ''
    : write.words.unequal(write.day(before.from), write.day(before.to));

/** Income, costs and overhead to what is left, and what an hour brought. */
function resultTable(report: YearReport, write: Writer): ReportTable {
  const { income, costs, overhead, left, contribution, rates } = report;
  const minus = (figure: YearFigure): YearFigure => ({
    ...figure,
    value: figure.value === null ? null : -figure.value,
    before: figure.before === null ? null : -figure.before,
  });
  return table(write.words.parts.result, unequal(report, write), narrowed(report, headsOf(report, write)), [
    figureRow(report, income.total, write),
    figureRow(report, minus(costs.total), write),
    figureRow(report, minus(overhead.total), write),
    sumFigure(report, left, write),
    ...[rates.perHour, rates.perHourWorked, rates.overheadPerBenchHour, contribution, rates.sold].map(
      (figure) => figureRow(report, figure, write),
    ),
  ]);
}

/** The figures at a glance, each with the year before. */
export function glanceOf(report: YearReport, write: Writer): readonly ReportFigure[] {
  const { glance, before, noBefore } = write.words;
  const { rates } = report;
  const one = (label: string, figure: YearFigure): ReportFigure => ({
    label,
    text: write.figure(figure.unit, figure.value),
    detail: figure.before === null ? noBefore : before(write.figure(figure.unit, figure.before)),
  });
  const plain = (label: string, minor: number, earlier: number | null): ReportFigure => ({
    label,
    text: write.money(minor),
    detail: earlier === null ? ' ' : before(write.money(earlier)),
  });
  return [
    one(glance.income, report.income.total),
    one(glance.left, report.left),
    one(glance.perHour, rates.perHour),
    one(glance.sold, rates.sold),
    one(glance.hours, report.hours.total),
    one(glance.contribution, report.contribution),
    one(glance.overheadPerHour, rates.overheadPerBenchHour),
    plain(glance.stock, report.closing.totalMinor, report.opening.totalMinor),
    plain(glance.held, report.heldMinor, null),
  ];
}

/** A bridge: each reason with its amount, and their sum. */
export const bridgeTable = (
  lines: readonly BridgeLine[],
  words: { readonly heading: string; readonly intro: string; readonly from: string; readonly to: string },
  ends: { readonly fromMinor: number; readonly toMinor: number },
  write: Writer,
): ReportTable =>
  table(
    words.heading,
    words.intro,
    ['', write.words.heads.amount],
    [
      row([words.from, write.money(ends.fromMinor)]),
      ...lines.map((line) =>
        row(
          [write.label(line.key, line.label), write.money(line.amountMinor)],
          write.words.whys[line.key] ?? line.why,
        ),
      ),
      sumRow([words.to, write.money(ends.toMinor)]),
    ],
  );

/** Blocks of the money of the year. */
export const moneyBlocks = (report: YearReport, write: Writer): readonly ReportBlock[] => {
  const { parts } = write.words;
  return [
    resultTable(report, write),
    sectionTable(report, report.income, { heading: parts.income, intro: parts.incomeIntro }, write),
    sectionTable(report, report.costs, { heading: parts.costs }, write),
    sectionTable(report, report.overhead, { heading: parts.overhead }, write),
  ];
};
