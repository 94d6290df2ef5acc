/** Reads a file of separated values as RFC 4180 has it, with each row's line as an editor counts it. */
import Papa from 'papaparse';
import { invalid } from '../../api/errors.ts';
import type { ImportProblem } from '../../api/imports.ts';

export interface CsvRow {
  /** Line the row begins on; the first line of the file is 1. */
  readonly line: number;
  readonly cells: readonly string[];
}

export interface CsvTable {
  readonly delimiter: string;
  readonly headings: readonly string[];
  readonly rows: readonly CsvRow[];
  readonly problems: readonly ImportProblem[];
}

const DELIMITERS = [',', ';', '\t', '|'];

const withoutMark = (text: string): string => (text.startsWith('\uFEFF') ? text.slice(1) : text);

/** Some spreadsheets write the delimiter itself as the first line. */
const named = (text: string): { delimiter: string; length: number } | undefined => {
  const match = /^sep=(.)\r?\n?/i.exec(text);
  return match?.[1] === undefined ? undefined : { delimiter: match[1], length: match[0].length };
};

/** The sign that parts the headings most often; what stands in quotes does not count. */
function sniff(text: string): string {
  const heading = /^(?:"(?:[^"]|"")*"|[^"\r\n])*/.exec(text.trimStart())?.[0] ?? '';
  const bare = heading.replace(/"(?:[^"]|"")*"/g, '');
  const counts = DELIMITERS.map((sign) => bare.split(sign).length - 1);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ',';
}

/** One kind of line end throughout: files put together from several systems mix them. */
const evenEnds = (text: string): string => text.replace(/\r\n?/g, '\n');

const linesIn = (text: string): number => text.split('\n').length - 1;

interface Parsed {
  readonly rows: CsvRow[];
  readonly problems: ImportProblem[];
}

function parse(text: string, delimiter: string, firstLine: number): Parsed {
  const rows: CsvRow[] = [];
  const problems: ImportProblem[] = [];
  let line = firstLine;
  let at = 0;
  Papa.parse<string[]>(text, {
    delimiter,
    newline: '\n',
    step: ({ data, errors, meta }) => {
      if (data.some((cell) => cell.trim() !== ''))
        rows.push({ line, cells: data.map((cell) => cell.trim()) });
      if (errors.some((error) => error.type === 'Quotes')) {
        problems.push({
          line,
          field: null,
          message:
            'A quotation mark in this line is opened and not closed as it should be. Mend it in the file.',
        });
      }
      line += linesIn(text.slice(at, meta.cursor));
      at = meta.cursor;
    },
  });
  return { rows, problems };
}

const tooWide = (row: CsvRow, columns: number): ImportProblem[] =>
  row.cells.slice(columns).some((cell) => cell !== '')
    ? [
        {
          line: row.line,
          field: null,
          message: `This line has ${row.cells.length} values, the headings are ${columns}. Put values with a separator in them into quotation marks.`,
        },
      ]
    : [];

/**
 * Reads the text of a file. Blank lines are left out, the first other line holds the headings.
 * @throws FaultError when there is no line of headings
 */
export function readCsv(source: string): CsvTable {
  const whole = withoutMark(source);
  const told = named(whole);
  const text = evenEnds(whole.slice(told?.length ?? 0));
  const delimiter = told?.delimiter ?? sniff(text);
  const { rows, problems } = parse(text, delimiter, told ? 2 : 1);
  const [heading, ...rest] = rows;
  if (!heading)
    throw invalid('The file holds no line with headings. The first line must name the columns.', 'text');
  const wide = rest.flatMap((row) => tooWide(row, heading.cells.length));
  return {
    delimiter,
    headings: heading.cells,
    rows: rest,
    problems: [...problems, ...wide].sort((a, b) => a.line - b.line),
  };
}
