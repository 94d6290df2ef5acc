/** What the preview of a release says, for its paper and its page alike. */
import { countryName } from '../../domain/country-names.ts';
import { kindOfFile } from '../../domain/file-kinds.ts';
import { minutesText } from '../../domain/durations.ts';
import { attachmentRows } from '../../storage/queries/attachments.ts';
import { listedLotsOf, shipRules } from '../../storage/queries/shipping.ts';
import { releaseTagOf, type ReleaseKnifeRecord, type ReleaseRecord } from '../../storage/queries/releases.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { dateIn, knownLanguage, moneyIn, type PaperLanguage, wordsFor } from '../paper-words/index.ts';
import { keyFigures } from './figures.ts';
import { runsAt, standingOf } from './hat.ts';
import { openingIn } from './message.ts';
import { groupName } from './rules.ts';

interface Labelled {
  readonly label: string;
  readonly text: string;
}
interface Headed {
  readonly heading: string;
  readonly text: string;
}

export interface PreviewKnife {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly state: string;
  readonly price: string;
  readonly shipping: string;
  readonly words: string;
  readonly remarks: readonly Headed[];
  readonly figures: readonly Labelled[];
}

export interface PreviewData {
  readonly language: PaperLanguage;
  readonly tag: string;
  readonly title: string;
  readonly intro: readonly string[];
  readonly facts: readonly Labelled[];
  readonly knives: readonly PreviewKnife[];
  readonly notes: readonly Headed[];
  readonly madeOn: string;
}

function factsOf(ctx: QueryContext, release: ReleaseRecord, language: PaperLanguage): Labelled[] {
  const words = wordsFor(language).preview;
  const group = language === 'en' ? groupName(ctx.db, release.least_rank) : '';
  return [
    { label: words.facts.opens, text: openingIn(ctx, language, release.early_from) },
    {
      label: release.rule === 'lot' ? words.facts.hatCloses : words.facts.opensToAll,
      text: openingIn(ctx, language, release.early_until),
    },
    { label: words.facts.early, text: group },
    ...(release.rule === 'first'
      ? [{ label: words.facts.hold, text: minutesText(release.hold_minutes) }]
      : []),
  ].filter((fact) => fact.text !== '');
}

function remarksOf(ctx: QueryContext, knife: ReleaseKnifeRecord, language: PaperLanguage): Headed[] {
  const { preview, invoice } = wordsFor(language);
  const lots = listedLotsOf(ctx.db, knife.build_id).map((lot) =>
    invoice.notes.restrictedLot(lot.name, lot.species, lot.listing, lot.paper_number),
  );
  return [
    ...(knife.flaw === '' ? [] : [{ heading: preview.flaw, text: knife.flaw }]),
    ...(lots.length === 0
      ? []
      : [{ heading: preview.restricted, text: `${lots.join('; ')}. ${preview.restrictedCheck}` }]),
  ];
}

function knivesOf(ctx: QueryContext, release: ReleaseRecord, language: PaperLanguage): PreviewKnife[] {
  const { currency } = houseOf(ctx.db);
  const words = wordsFor(language).preview;
  const standing = standingOf(ctx.db, release);
  const shown = standing.knives.filter((knife) => knife.withdrawn_on === null);
  const figures = keyFigures(
    ctx.db,
    shown.map((knife) => knife.build_id),
    language,
  );
  const now = ctx.clock.now();
  return shown.map((knife) => {
    const claim = standing.claims.find((each) => each.build_id === knife.build_id && runsAt(each, now));
    const state =
      knife.sale_id !== null
        ? 'sold'
        : knife.build_state !== 'finished'
          ? 'gone'
          : ((claim?.kind ?? 'free') as 'free' | 'held' | 'offered');
    return {
      buildId: knife.build_id,
      serial: knife.serial,
      title: knife.title === '' ? knife.model_name : knife.title,
      state: words.states[state],
      price: `${moneyIn(language, knife.price_minor, currency)} ${currency}`,
      shipping: `${words.figures.shipping} ${moneyIn(language, knife.shipping_minor, currency)}`,
      words: knife.words,
      remarks: remarksOf(ctx, knife, language),
      figures: figures.get(knife.build_id) ?? [],
    };
  });
}

function notTo(ctx: QueryContext, language: PaperLanguage): Headed[] {
  const words = wordsFor(language).preview.notTo;
  const rules = shipRules(ctx.db, false);
  // What the maker noted about a place is not for buyers; the place is.
  const place = (rule: (typeof rules)[number]): string => {
    const country = countryName(rule.country);
    return rule.region === '' ? country : `${rule.region} (${country})`;
  };
  const named = (answer: string): string =>
    rules
      .filter((rule) => rule.answer === answer)
      .map(place)
      .join(', ');
  const lines = [
    named('no') === '' ? '' : `${words.no}: ${named('no')}.`,
    named('ask') === '' ? '' : `${words.ask}: ${named('ask')}.`,
    words.note,
  ];
  return [{ heading: words.heading, text: lines.filter((line) => line !== '').join('\n') }];
}

/** Everything the preview of a release says, in the workshop's language. */
export function previewData(ctx: QueryContext, release: ReleaseRecord): PreviewData {
  const { shop } = houseOf(ctx.db);
  const language = knownLanguage(shop.language);
  const words = wordsFor(language).preview;
  const home = taxPlaceRow(ctx.db, shop.home_tax_place_id);
  const knives = knivesOf(ctx, release, language);
  const rules = [
    release.rule === 'lot' ? words.rules.lot : words.rules.first,
    release.one_each === 1 ? words.rules.oneEach : '',
    release.rule === 'lot' ? words.rules.household : '',
  ];
  const estimated = knives.some((knife) => knife.figures.some(({ text }) => /\(\d+ HV\)|HRC\)/.test(text)));
  return {
    language,
    tag: releaseTagOf(release.number),
    title: release.title,
    intro: [release.note, rules.filter((part) => part !== '').join(' ')].filter((part) => part !== ''),
    facts: factsOf(ctx, release, language),
    knives,
    notes: [
      ...notTo(ctx, language),
      {
        heading: words.figures.price,
        text: [home?.inclusive === 1 ? words.withTax : words.plusTax, estimated ? words.estimate : '']
          .filter((part) => part !== '')
          .join(' '),
      },
    ],
    madeOn: dateIn(language, ctx.clock.today()),
  };
}

/** Larger pictures than this are not set whole into a paper; their small copy is. */
const LARGEST = 3_000_000;

/** The first photo of a knife as PNG or JPEG: whole, or its small copy where it is another kind or very large. */
export function photoOf(ctx: QueryContext, buildId: string, small: boolean): Uint8Array | null {
  const row = attachmentRows(ctx.db, 'build', buildId).find((each) => each.role === 'photo');
  if (row === undefined) return null;
  const settable = (bytes: Uint8Array): boolean =>
    ['image/png', 'image/jpeg'].includes(kindOfFile(bytes)?.mime ?? '');
  const { thumb_path, thumb_sha256 } = row;
  const thumb = (): Uint8Array | null => {
    if (thumb_path === null || thumb_sha256 === null) return null;
    const bytes = ctx.files.get(thumb_path, thumb_sha256);
    return settable(bytes) ? bytes : null;
  };
  if (small) return thumb();
  if (row.bytes > LARGEST || !['image/png', 'image/jpeg'].includes(row.mime)) return thumb();
  return ctx.files.get(row.path, row.sha256);
}
