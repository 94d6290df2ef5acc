/** What makes papers the maker's own: logo, accent, size, foot. */
import type { PaperFrame, PaperLook } from '../../documents/types.ts';
import type { QueryContext } from '../context.ts';
import { houseOf, type House } from '../costs/house.ts';
import { wordsFor } from '../paper-words/index.ts';

/** Logo and accent as they stand now. */
export function lookOf(ctx: Pick<QueryContext, 'db' | 'files'>): PaperLook {
  const { accent, logo_path: path, logo_sha256: hash } = houseOf(ctx.db).shop;
  return {
    accent: accent === '' ? null : accent,
    logo: path === null || hash === null ? null : ctx.files.get(path, hash),
  };
}

/** The paper in the maker's look. */
export const dressed = <P extends PaperFrame>(ctx: Pick<QueryContext, 'db' | 'files'>, paper: P): P => ({
  ...paper,
  look: lookOf(ctx),
});

/** The frame every paper for a buyer begins with. @param madeAt UTC ISO instant */
export const frameOf = (house: House, language: string, madeAt: string): PaperFrame => ({
  size: house.shop.paper === 'A4' ? 'A4' : 'Letter',
  language,
  madeAt,
  workshopName: house.shop.name,
  folio: wordsFor(language).page.folio,
});
