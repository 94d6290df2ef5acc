/** How papers look and speak, as the maker sets it. */
import { Buffer } from 'node:buffer';
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import type { PaperSettings, PaperTextKind } from '../../api/papers.ts';
import { contrast, isHexColour, LEAST_CONTRAST } from '../../domain/contrast.ts';
import { isBic, plainIban } from '../../domain/iban.ts';
import { kindOfFile } from '../../domain/file-kinds.ts';
import { paperTextRows, putPaperText, updatePaperDetails } from '../../storage/queries/papers.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { paperLanguages } from '../paper-words/index.ts';
import { lookOf } from './look.ts';

/** Everything about papers as it stands. */
export function paperSettings(ctx: Pick<QueryContext, 'db' | 'files'>): PaperSettings {
  const { shop } = houseOf(ctx.db);
  const { logo } = lookOf(ctx);
  return {
    language: shop.language,
    languages: paperLanguages,
    size: shop.paper === 'A4' ? 'A4' : 'Letter',
    accent: shop.accent,
    logo:
      logo === null
        ? null
        : { mime: kindOfFile(logo)?.mime ?? 'image/png', base64: Buffer.from(logo).toString('base64') },
    iban: shop.iban,
    bic: shop.bic,
    bankName: shop.bank_name,
    texts: paperTextRows(ctx.db).map((row) => ({ ...row, kind: row.kind as PaperTextKind })),
  };
}

/** @throws FaultError for a language no paper is written in */
export function demandLanguage(language: string): void {
  if (!paperLanguages.some((known) => known === language)) {
    throw invalid('Papers are not written in this language yet. Choose one from the list.', 'language');
  }
}

/** @throws FaultError for what is no colour, or one too pale to read */
export function demandAccent(accent: string): void {
  if (accent === '') return;
  if (!isHexColour(accent))
    throw invalid('Write the colour as # and six digits, for example #28405a.', 'accent');
  const found = contrast(accent, '#ffffff');
  if (found < LEAST_CONTRAST) {
    throw invalid(
      `This colour is too pale to read on white paper: its contrast is ${found.toFixed(1)}, ${LEAST_CONTRAST} is needed. Choose a darker one.`,
      'accent',
    );
  }
}

/** @throws FaultError for an account number that cannot be */
async function demandAccount(iban: string, bic: string): Promise<void> {
  if (iban !== '') {
    const { isValidIBAN } = await import('ibantools');
    if (!isValidIBAN(iban)) {
      throw invalid('This account number is not right; a digit may be mistyped. Compare it again.', 'iban');
    }
  }
  if (bic !== '' && !isBic(bic)) {
    throw invalid('A bank’s code (BIC) has 8 or 11 letters and digits. Compare it again.', 'bic');
  }
}

interface Account {
  readonly iban: string;
  readonly bic: string;
}

const plainBic = (typed: string): string => typed.replaceAll(/\s/g, '').toUpperCase();

/** Keeps language, size, accent and account. */
export const savePapers: HandlerFor<'papers.save'> = {
  async prepare(ctx, input): Promise<Account> {
    houseOf(ctx.db);
    demandLanguage(input.language);
    demandAccent(input.accent);
    const account = { iban: plainIban(input.iban), bic: plainBic(input.bic) };
    await demandAccount(account.iban, account.bic);
    return account;
  },
  run(ctx, input, prepared) {
    const { iban, bic } = prepared as Account;
    updatePaperDetails(ctx.db, {
      language: input.language,
      paper: input.size,
      accent: input.accent,
      iban,
      bic,
      bank_name: input.bankName,
    });
    return paperSettings(ctx);
  },
};

/** Keeps the maker's own words in one language. */
export function saveTexts(ctx: CommandContext, input: Parsed<'papers.saveTexts'>): PaperSettings {
  demandLanguage(input.language);
  for (const { kind, text } of input.texts) putPaperText(ctx.db, kind, input.language, text);
  return paperSettings(ctx);
}
