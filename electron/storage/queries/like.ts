/** Searching by typed text. */
import {
  sql,
  type Compilable,
  type CompiledQuery,
  type Expression,
  type RawBuilder,
  type SqlBool,
} from 'kysely';
import type { ReadDb } from '../db.ts';

/** The typed text as it is, not as a pattern: `%` and `_` lose their meaning. */
export const literalPattern = (text: string): string => text.replace(/[\\%_]/g, (sign) => `\\${sign}`);

/** True where a column contains the text, whatever its case. */
export const contains = (column: Expression<unknown>, text: string): RawBuilder<SqlBool> =>
  sql<SqlBool>`${column} LIKE ${`%${literalPattern(text)}%`} ESCAPE '\\'`;

/** Ids in one parameter, so that one prepared statement serves lists of every length. */
export const amongIds = (column: Expression<unknown>, ids: readonly string[]): RawBuilder<SqlBool> =>
  sql<SqlBool>`${column} IN (SELECT value FROM json_each(${JSON.stringify(ids)}))`;

/**
 * A statement asked for with every list of ids: built the first time, only given other ids after that.
 * @param build makes it with `amongIds(column, [])` where the ids belong
 */
export function builtOnce<R>(
  build: (db: ReadDb) => Compilable<R>,
): (db: ReadDb, ids: readonly string[]) => Compilable<R> {
  let built: CompiledQuery<R> | undefined;
  return (db, ids) => ({
    compile() {
      built ??= build(db).compile();
      const among = JSON.stringify(ids);
      return { ...built, parameters: built.parameters.map((given) => (given === '[]' ? among : given)) };
    },
  });
}
