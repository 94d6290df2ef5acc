/** The certificate of a finished knife, made from its own records each time it is asked for. */
import { refused } from '../../api/errors.ts';
import type { CertificatePaper } from '../../documents/types.ts';
import type { ReadDb } from '../../storage/db.ts';
import { attachmentRows } from '../../storage/queries/attachments.ts';
import { materialsIn, modelOf, papersInside } from '../../storage/queries/certificate-facts.ts';
import { needBuild } from '../builds/touch.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { dateIn, wordsFor } from '../paper-words/index.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { textOf } from '../papers/texts.ts';
import { languageOfOwner } from './paper-habits.ts';
import { groupsOf, papersOf, type Writing } from './certificate-facts.ts';

/** The kinds of pictures a paper can hold. */
const printable: readonly string[] = ['image/png', 'image/jpeg'];

/** The first photo that can be printed, else its small one. */
function photoOf({ db, files }: QueryContext, buildId: string): Uint8Array | null {
  const photos = attachmentRows(db, 'build', buildId).filter((row) => row.role === 'photo');
  const [photo] = photos.filter((row) => printable.includes(row.mime));
  return photo === undefined ? null : files.get(photo.path, photo.sha256);
}

/** What the maker says about care and warranty; a model's own words on care stand for those on all knives. */
function textsOf(db: ReadDb, care: string, { words, language }: Writing): CertificatePaper['texts'] {
  return [
    { heading: words.care, text: care === '' ? textOf(db, 'care', language) : care },
    { heading: words.warranty, text: textOf(db, 'warranty', language) },
  ];
}

/** The certificate of one knife. @throws FaultError while it is not finished */
export const certificatePdf: HandlerFor<'care.certificatePdf'> = async (ctx, { buildId }) => {
  const build = needBuild(ctx.db, buildId);
  if (build.finished_on === null || build.state === 'scrapped')
    throw refused(
      `${build.serial} is not finished. A certificate tells what a finished knife is.`,
      'buildId',
    );
  const house = houseOf(ctx.db);
  const { shop } = house;
  const language = languageOfOwner(ctx.db, buildId);
  const words = wordsFor(language).certificate;
  const writing: Writing = {
    language,
    words,
    inch: shop.length_habit === 'inch',
    ounce: shop.weight_habit === 'oz',
  };
  const model = modelOf(ctx.db, buildId);
  const name = build.title === '' ? (model?.name ?? build.serial) : build.title;
  const materials = materialsIn(ctx.db, buildId);
  const papers = papersOf(papersInside(ctx.db, buildId), writing);
  const photo = photoOf(ctx, buildId);
  const paper: CertificatePaper = {
    ...frameOf(house, language, ctx.clock.now()),
    title: words.title,
    serial: build.serial,
    name,
    facts: [
      { label: words.facts.finished, text: dateIn(language, build.finished_on) },
      { label: words.facts.maker, text: shop.maker },
      ...(model !== undefined && model.name !== name ? [{ label: words.facts.model, text: model.name }] : []),
      { label: words.flaw, text: model?.flaw ?? '' },
    ].filter((fact) => fact.text !== ''),
    photo: photo === null ? null : { bytes: photo, alt: words.photo(name, build.serial) },
    groups: groupsOf(ctx.db, buildId, materials, writing),
    papers: {
      heading: words.papers.heading,
      lines:
        papers.length === 0
          ? []
          : [...papers, textOf(ctx.db, 'restricted', language), words.papers.caution].filter(
              (line) => line !== '',
            ),
    },
    texts: textsOf(ctx.db, model?.care ?? '', writing),
    signed: { label: words.signed, name: shop.maker },
  };
  return pdfOut(`${words.title} ${build.serial}`, await ctx.renderer.certificate(dressed(ctx, paper)));
};
