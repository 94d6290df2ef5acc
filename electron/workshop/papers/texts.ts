/** What the maker says on papers in their own words. */
import type { PaperTextKind } from '../../api/papers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { paperText } from '../../storage/queries/papers.ts';

/** The maker's own text of a kind in a language; empty where none is written in it. */
export const textOf = (db: ReadDb, kind: PaperTextKind, language: string): string =>
  paperText(db, kind, language) ?? '';
