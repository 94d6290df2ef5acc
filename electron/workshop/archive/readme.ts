/** The plain text that lies in every archive and explains it to a person without the program. */
import type { Manifest } from '../../storage/archive/manifest.ts';
import type { ArchiveColumn, ArchiveTable } from '../../storage/archive/tables.ts';
import { columnWords } from './column-words.ts';
import { tableWords } from './table-words.ts';

const WIDTH = 96;

/** Breaks a text into lines of readable length. */
function wrapped(text: string, indent = ''): string {
  const lines: string[] = [];
  let line = indent;
  for (const word of text.split(' ')) {
    if (line.length + word.length + 1 > WIDTH && line.trim() !== '') {
      lines.push(line);
      line = indent;
    }
    line += line.trim() === '' ? word : ` ${word}`;
  }
  return [...lines, line].join('\n');
}

/** Remarks in a table's declaration, by the column that follows them. */
function remarksIn(sql: string): ReadonlyMap<string, string> {
  const remarks = new Map<string, string>();
  let waiting: string[] = [];
  for (const line of sql.split('\n').map((each) => each.trim())) {
    if (line.startsWith('--')) {
      waiting.push(line.slice(2).trim());
      continue;
    }
    const column = /^"?([a-z_0-9]+)"? (?:TEXT|INTEGER|REAL|BLOB)/.exec(line)?.[1];
    if (column !== undefined && waiting.length > 0) remarks.set(column, waiting.join(' '));
    waiting = [];
  }
  return remarks;
}

const typeWords: Readonly<Record<string, string>> = {
  INTEGER: 'whole number',
  TEXT: 'text',
  REAL: 'number',
  BLOB: 'bytes in base64',
};

function columnLine(table: ArchiveTable, column: ArchiveColumn, remark: string): string {
  const type = typeWords[column.type] ?? column.type;
  const points = column.pointsTo === null ? '' : `, points to ${column.pointsTo}`;
  const kind = `${type}${column.optional ? ', may be empty' : ''}${points}`;
  return wrapped(`${column.name} (${kind}): ${columnWords(table.name, column.name, remark)}`, '    ');
}

function tablePart(table: ArchiveTable, rows: number): string {
  const remarks = remarksIn(table.sql);
  const head = wrapped(
    `${table.name}, ${rows} ${rows === 1 ? 'row' : 'rows'}. ${tableWords[table.name] ?? ''}`.trim(),
  );
  const columns = table.columns.map((column) => columnLine(table, column, remarks.get(column.name) ?? ''));
  return [head, ...columns].join('\n');
}

const paragraphs = [
  'This file holds everything of the workshop: every table of its books, and every picture and paper that belongs to them. It can be read with any program that opens zip files, spreadsheets and plain text; Knifewright can bring it into an empty workshop again and then has the same books.',
  'tables/NAME.csv: one table with its headings; comma between fields, quotes around text where needed (RFC 4180), UTF-8. A field without anything is nothing at all; "" is an empty text. A text that a spreadsheet would take for a formula has a straight apostrophe before it. Let a spreadsheet bring these files in as text, so that it does not change numbers and days.',
  'tables/NAME.json: the same table exactly as it is in the books: a JSON array with one row on each line. Bytes stand as {"base64": "…"}.',
  'attachments/: photos, drawings and scans, named by their SHA-256. documents/: papers as they were issued. The tables say what belongs to what.',
  'manifest.json: when this was made, from which books, control totals, and the SHA-256 of every file but itself.',
  'Money is in whole numbers: names ending in _minor are in the smallest unit of the currency (cents), names ending in _micro in millionths of the unit. Quantities are whole base units: nanometre, square micrometre, nanogram, nanolitre, millionth of a piece or pair; an item measured by worth counts in millionths of the currency. Days are year-month-day; instants are UTC (ISO 8601). Yes and no are 1 and 0.',
] as const;

/** Writes the README of an archive. */
export function archiveReadme(manifest: Omit<Manifest, 'files'>, tables: readonly ArchiveTable[]): string {
  const rows = new Map(manifest.tables.map((table) => [table.name, table.rows]));
  const about = [
    `Workshop: ${manifest.workshop === '' ? '(not set up)' : manifest.workshop}`,
    `Made: ${manifest.madeAt}`,
    `Currency: ${manifest.currency === '' ? '(none)' : manifest.currency}`,
    `Shape of the books: ${manifest.shape}`,
    `History: ${manifest.journal.seq} entries, the last with the hash ${manifest.journal.hash}`,
  ];
  const gone =
    manifest.missing.length === 0
      ? []
      : [
          `Not in this archive, because they were missing or had changed:\n${manifest.missing.map((path) => `    ${path}`).join('\n')}`,
        ];
  const parts = [
    'EVERYTHING OF A WORKSHOP',
    about.join('\n'),
    ...paragraphs.map((text) => wrapped(text)),
    ...gone,
    'THE TABLES',
    ...tables.map((table) => tablePart(table, rows.get(table.name) ?? 0)),
  ];
  return `${parts.join('\n\n')}\n`;
}
