/** The preview of a release as a paper and as one page that needs nothing else. */
import type { PreviewPaper } from '../../documents/types.ts';
import { kindOfFile } from '../../domain/file-kinds.ts';
import { invalid } from '../../api/errors.ts';
import { fileName, pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { wordsFor } from '../paper-words/index.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { needRelease } from './need.ts';
import { pageText } from './page.ts';
import { photoOf, previewData } from './preview-data.ts';

/** The preview as a PDF. */
export const previewPdf: HandlerFor<'releases.previewPdf'> = async (ctx, { id }) => {
  const data = previewData(ctx, needRelease(ctx.db, id));
  const words = wordsFor(data.language).preview;
  const paper: PreviewPaper = {
    ...frameOf(houseOf(ctx.db), data.language, ctx.clock.now()),
    title: words.title,
    mark: data.tag,
    name: data.title,
    intro: data.intro,
    facts: data.facts,
    knives: data.knives.map((knife) => {
      const photo = photoOf(ctx, knife.buildId, false);
      return {
        ...knife,
        photo,
        photoWords: photo === null ? words.noPhoto : `${knife.serial}, ${knife.title}`,
      };
    }),
    notes: data.notes,
  };
  return pdfOut(`${words.title} ${data.tag} ${data.title}`, await ctx.renderer.preview(dressed(ctx, paper)));
};

/** A picture as the address that holds it. @throws FaultError when it is none a browser shows */
function dataAddress(bytes: Uint8Array, given: boolean): string {
  const kind = kindOfFile(bytes);
  if (kind === undefined || !['image/png', 'image/jpeg', 'image/webp'].includes(kind.mime)) {
    if (given) throw invalid('A picture is not PNG, JPEG or WebP.', 'pictures');
    return '';
  }
  return `data:${kind.mime};base64,${Buffer.from(bytes).toString('base64')}`;
}

/** The preview as one page: no script, no address of anything else, pictures inside. */
export const previewPage: HandlerFor<'releases.previewPage'> = (ctx, { id, pictures }) => {
  const data = previewData(ctx, needRelease(ctx.db, id));
  const { shop } = houseOf(ctx.db);
  const photos = new Map<string, string>();
  for (const { buildId } of data.knives) {
    const given = pictures.find((picture) => picture.buildId === buildId);
    const bytes = given === undefined ? photoOf(ctx, buildId, true) : Buffer.from(given.base64, 'base64');
    const address = bytes === null ? '' : dataAddress(bytes, given !== undefined);
    if (address !== '') photos.set(buildId, address);
  }
  const words = wordsFor(data.language).preview;
  const text = pageText(data, shop, photos);
  return {
    name: `${fileName(`${words.title} ${data.tag} ${data.title}`)}.html`,
    mime: 'text/html',
    base64: Buffer.from(text, 'utf8').toString('base64'),
  };
};
