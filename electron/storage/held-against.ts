/**
 * Holds books against an earlier copy of them: rows that the books themselves let nobody change must be the same in
 * both. A flipped bit that SQLite's own checks do not see shows here, as long as the copy has not gone bad as well.
 */
import Database from 'better-sqlite3';
import { setHarmlessPragmas } from './pragmas.ts';

/** A row that is not what it was. */
export interface ChangedRow {
  readonly table: string;
  /** Its primary key, columns joined by a space. */
  readonly key: string;
}

/** How many changed rows are named; the rest are only counted. */
const NAMED = 20;

/** A rule of the books against changing or deleting rows, as its trigger has it. */
interface Rule {
  readonly table: string;
  readonly on: 'UPDATE' | 'DELETE';
  /** The columns it is about; all of them when it names none. */
  readonly columns: readonly string[];
  /** When it refuses, in SQL over OLD and NEW. */
  readonly when: string;
}

const TRIGGER =
  /\bBEFORE\s+(UPDATE|DELETE)(?:\s+OF\s+([\w\s,]+?))?\s+ON\s+(\w+)(?:\s+WHEN\s+([\s\S]+?))?\s+BEGIN\s+SELECT\s+RAISE\s*\(\s*ABORT/i;

/** Reads a rule out of the text of a trigger; undefined for a trigger of another kind. */
export function ruleOf(sql: string): Rule | undefined {
  const [, on, columns = '', table, when = '1'] = TRIGGER.exec(sql) ?? [];
  if (on === undefined || table === undefined) return undefined;
  return {
    table,
    on: on.toUpperCase() === 'DELETE' ? 'DELETE' : 'UPDATE',
    columns: columns.split(',').flatMap((column) => (column.trim() === '' ? [] : [column.trim()])),
    when,
  };
}

interface ColumnRow {
  readonly name: string;
  readonly pk: number;
}

const columnsOf = (db: Database.Database, schema: string, table: string): readonly ColumnRow[] =>
  db.prepare<string[], ColumnRow>('SELECT name, pk FROM pragma_table_info(?, ?)').all(table, schema);

/** The condition of a rule between two copies: what it asks of other tables it asks of them as they were. */
const between = (when: string): string =>
  when
    .replaceAll(/\bOLD\./gi, 'was.')
    .replaceAll(/\bNEW\./gi, 'now.')
    .replaceAll(/\b(FROM|JOIN)\s+(\w+)/gi, '$1 earlier.$2');

/** SQL that finds the rows a rule was broken by, with their key. */
function breachesOf(db: Database.Database, rule: Rule): string | undefined {
  const earlier = new Set(columnsOf(db, 'earlier', rule.table).map(({ name }) => name));
  const columns = columnsOf(db, 'main', rule.table).filter(({ name }) => earlier.has(name));
  const key = columns.filter(({ pk }) => pk > 0).map(({ name }) => name);
  if (key.length === 0) return undefined;
  const text = key.map((column) => `was."${column}"`).join(` || ' ' || `);
  const same = key.map((column) => `now."${column}" = was."${column}"`).join(' AND ');
  const when = between(rule.when);
  if (rule.on === 'DELETE')
    return `SELECT ${text} AS key FROM earlier."${rule.table}" AS was
      WHERE NOT EXISTS (SELECT 1 FROM main."${rule.table}" AS now WHERE ${same}) AND (${when})`;
  const held = columns.filter(({ name }) => rule.columns.length === 0 || rule.columns.includes(name));
  const differs = held.map(({ name }) => `was."${name}" IS NOT now."${name}"`).join(' OR ');
  return `SELECT ${text} AS key FROM earlier."${rule.table}" AS was
    JOIN main."${rule.table}" AS now ON ${same} WHERE (${differs}) AND (${when})`;
}

function rulesOf(db: Database.Database): readonly Rule[] {
  const triggers = db
    .prepare<[], { sql: string }>(`SELECT sql FROM main.sqlite_master WHERE type = 'trigger' ORDER BY name`)
    .all();
  return triggers.flatMap(({ sql }) => ruleOf(sql) ?? []);
}

/** Rows that were changed or are gone though the books refuse both. */
export interface Difference {
  readonly count: number;
  /** The first of them. */
  readonly rows: readonly ChangedRow[];
}

/**
 * Rows of `file` that differ from those of an earlier copy of the same books and of the same shape, though a trigger of
 * the books refuses the change. Writes to neither file.
 */
export function heldAgainst(file: string, earlier: string): Difference {
  const db = new Database(file, { readonly: true, fileMustExist: true });
  try {
    setHarmlessPragmas(db);
    db.prepare('ATTACH ? AS earlier').run(earlier);
    const found = rulesOf(db).flatMap((rule) => {
      const sql = breachesOf(db, rule);
      const rows = sql === undefined ? [] : db.prepare<[], { key: string | number }>(sql).all();
      return rows.map(({ key }) => ({ table: rule.table, key: String(key) }));
    });
    // A row may break several rules.
    const rows = [...new Map(found.map((row) => [`${row.table} ${row.key}`, row])).values()];
    return { count: rows.length, rows: rows.slice(0, NAMED) };
  } finally {
    db.close();
  }
}
