/** The maker's logo: checked by drawing it once, then kept by its content. */
import { Buffer } from 'node:buffer';
import type { PaperSettings } from '../../api/papers.ts';
import { invalid } from '../../api/errors.ts';
import { kindOfFile } from '../../domain/file-kinds.ts';
import { updatePaperDetails } from '../../storage/queries/papers.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { samplePaper } from './sample.ts';
import { paperSettings } from './settings.ts';

interface KeptLogo {
  readonly path: string;
  readonly sha256: string;
}

/** Pictures a paper can hold. */
const printable: readonly (string | undefined)[] = ['image/png', 'image/jpeg'];

/** @throws FaultError for a picture that cannot be printed */
async function demandPrintable(ctx: CommandContext, name: string, bytes: Uint8Array): Promise<string> {
  const kind = kindOfFile(bytes);
  if (kind === undefined || !printable.includes(kind.mime))
    throw invalid(`${name} is not a PNG or JPEG picture. Save it as one of these first.`, 'base64');
  const { shop } = houseOf(ctx.db);
  const paper = samplePaper(ctx.db, { language: shop.language, madeAt: ctx.clock.now() });
  try {
    await ctx.renderer.invoice({ ...paper, look: { accent: null, logo: bytes } });
  } catch {
    throw invalid(`${name} is damaged and cannot be printed. Choose another picture.`, 'base64');
  }
  return kind.ending;
}

/** Puts a logo in the place of the one before. */
export const setLogo: HandlerFor<'papers.setLogo'> = {
  async prepare(ctx, input): Promise<KeptLogo> {
    const bytes = Buffer.from(input.base64, 'base64');
    const ending = await demandPrintable(ctx, input.name, bytes);
    return ctx.files.put(`logo.${ending}`, bytes);
  },
  run(ctx, _input, prepared) {
    const { path, sha256 } = prepared as KeptLogo;
    updatePaperDetails(ctx.db, { logo_path: path, logo_sha256: sha256 });
    return paperSettings(ctx);
  },
};

/** Prints without a logo from now on; the picture stays for papers that carry it. */
export function removeLogo(ctx: CommandContext): PaperSettings {
  houseOf(ctx.db);
  updatePaperDetails(ctx.db, { logo_path: null, logo_sha256: null });
  return paperSettings(ctx);
}
