/** Control totals: sums over whole tables, to see at a glance that two sets of books hold the same. */
import type Database from 'better-sqlite3';
import { type ArchiveTable, quoted } from './tables.ts';

/** Money, quantities and time are worth adding up; numbers of things and yes or no are not. */
const ADDED = /(?:_minor|_micro|^minutes|_minutes|^qty|_qty)$|^(?:qty|minutes|quenches)$/;

/** Columns of a table that are added up. */
const addedColumns = (table: ArchiveTable): readonly string[] =>
  table.columns.filter(({ name, type }) => type === 'INTEGER' && ADDED.test(name)).map(({ name }) => name);

/** Rows and sums of every table, e.g. `payments.rows`, `payments.amount_minor`. */
export function controlTotals(
  db: Database.Database,
  tables: readonly ArchiveTable[],
): Readonly<Record<string, number>> {
  const totals: Record<string, number> = {};
  for (const table of tables) {
    const sums = addedColumns(table).map(
      (column) => `coalesce(sum(${quoted(column)}), 0) AS ${quoted(column)}`,
    );
    const sql = `SELECT ${['count(*) AS "rows"', ...sums].join(', ')} FROM ${quoted(table.name)}`;
    const row = db.prepare(sql).get() as Record<string, number>;
    for (const [name, sum] of Object.entries(row)) totals[`${table.name}.${name}`] = sum;
  }
  return totals;
}
