/** Searching by typed text. */
import { sql, type Expression, type RawBuilder, type SqlBool } from 'kysely';

/** The typed text as it is, not as a pattern: `%` and `_` lose their meaning. */
export const literalPattern = (text: string): string => text.replace(/[\\%_]/g, (sign) => `\\${sign}`);

/** True where a column contains the text, whatever its case. */
export const contains = (column: Expression<unknown>, text: string): RawBuilder<SqlBool> =>
  sql<SqlBool>`${column} LIKE ${`%${literalPattern(text)}%`} ESCAPE '\\'`;

/** Ids in one parameter, so that one prepared statement serves lists of every length. */
export const amongIds = (column: Expression<unknown>, ids: readonly string[]): RawBuilder<SqlBool> =>
  sql<SqlBool>`${column} IN (SELECT value FROM json_each(${JSON.stringify(ids)}))`;
