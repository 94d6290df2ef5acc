/** Which language a paper for somebody is written in. */
import type { ReadDb } from '../../storage/db.ts';
import { standingSale } from '../../storage/queries/services.ts';
import { houseOf } from '../costs/house.ts';
import { knownLanguage, type PaperLanguage } from '../paper-words/index.ts';

/** The language of a person's papers: their own, else the workshop's. */
export function languageOf(db: ReadDb, buyerId: string | null): PaperLanguage {
  const own =
    buyerId === null
      ? undefined
      : db.one(db.q.selectFrom('buyers').select('language').where('id', '=', buyerId));
  const language = own?.language ?? '';
  return knownLanguage(language === '' ? houseOf(db).shop.language : language);
}

/** The language of whoever bought a knife, else the workshop's. */
export const languageOfOwner = (db: ReadDb, buildId: string): PaperLanguage =>
  languageOf(db, standingSale(db, buildId)?.buyer_id ?? null);
