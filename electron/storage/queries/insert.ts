/** Inserts whose SQL is written once: an import of ten thousand lines should not build ten thousand statements. */
import { type Compilable, CompiledQuery, type Insertable } from 'kysely';
import type { Tables } from '../schema.ts';

/** Makes the INSERT of one table; every row names all its columns, in any order. */
export function inserter<T extends keyof Tables, C extends keyof Insertable<Tables[T]> & string>(
  table: T,
  columns: readonly C[],
): (row: Pick<Insertable<Tables[T]>, C>) => Compilable {
  const marks = columns.map(() => '?').join(', ');
  const text = `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${marks})`;
  return (row) => ({
    compile: () =>
      CompiledQuery.raw(
        text,
        columns.map((column) => row[column]),
      ),
  });
}

/** A statement whose SQL is fixed and whose values are given each time. */
export const fixedStatement =
  (text: string) =>
  (...values: readonly (string | number | null)[]): Compilable => ({
    compile: () => CompiledQuery.raw(text, [...values]),
  });
