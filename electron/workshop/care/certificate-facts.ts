/** The rows of a certificate: steel and fire, what was measured, what the handle is of. */
import type { CertificatePaper } from '../../documents/types.ts';
import { minutesText } from '../../domain/durations.ts';
import { meanOf, type Measure } from '../../domain/gates.ts';
import { hardnessWords, type Scale } from '../../domain/hardness.ts';
import { bothScales } from '../../domain/heat-treatment.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { MaterialIn, PaperInside } from '../../storage/queries/certificate-facts.ts';
import { checkRows, readingRows } from '../../storage/queries/gates.ts';
import { heatRows, heatStepRows } from '../../storage/queries/heats.ts';
import { numberIn, type PaperWords } from '../paper-words/index.ts';

type Row = CertificatePaper['groups'][number]['rows'][number];

/** How a certificate writes: its words, the signs of its language, and which unit stands first. */
export interface Writing {
  readonly language: string;
  readonly words: PaperWords['certificate'];
  readonly inch: boolean;
  readonly ounce: boolean;
}

const THOU_NM = 25_400;
const MM_NM = 1_000_000;
const GRAM_NG = 1_000_000_000;
const OUNCE_NG = 28_349_523_125;

const rounded = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A thin measure both ways, the workshop's habit first: `10 thou (0.25 mm)`. */
function thin(nm: number, { language, inch }: Writing): string {
  const thou = `${numberIn(language, rounded(nm / THOU_NM, 1))} thou`;
  const mm = `${numberIn(language, rounded(nm / MM_NM, 2))} mm`;
  return inch ? `${thou} (${mm})` : mm;
}

/** A weight both ways, the workshop's habit first: `5.4 oz (153 g)`. */
export function weightText(ng: number, { language, ounce }: Pick<Writing, 'language' | 'ounce'>): string {
  const grams = `${numberIn(language, String(Math.round(ng / GRAM_NG)))} g`;
  return ounce ? `${numberIn(language, rounded(ng / OUNCE_NG, 1))} oz (${grams})` : grams;
}

const filled = (rows: readonly Row[]): readonly Row[] => rows.filter((row) => row.text !== '');

type Step = ReturnType<typeof heatStepRows>[number];

const stepText = (step: Step, { words }: Writing): string =>
  words.blade.at(
    step.minutes === 0 ? '' : minutesText(step.minutes),
    step.temp_milli_c === null ? '' : bothScales(step.temp_milli_c),
  );

/** Tempers one after another; equal ones are counted: `2 × 2 h at 204 °C (399 °F)`. */
function temperText(steps: readonly Step[], writing: Writing): string {
  const texts = steps.filter((step) => step.kind === 'temper').map((step) => stepText(step, writing));
  return [...new Set(texts)]
    .map((text) => {
      const times = texts.filter((one) => one === text).length;
      return times > 1 ? `${String(times)} × ${text}` : text;
    })
    .join(', ');
}

/** The last fire the knife went through. */
function fireRows(db: ReadDb, buildId: string, writing: Writing): readonly Row[] {
  const [heat] = heatRows(db, { text: '', buildId, limit: 1, offset: 0 });
  if (heat === undefined) return [];
  const { blade } = writing.words;
  const steps = heatStepRows(db, heat.id);
  const of = (kind: string): string =>
    steps
      .filter((step) => step.kind === kind)
      .map((step) => stepText(step, writing))
      .join(', ');
  const quenched = heat.bath_name === null ? '' : blade.quenchedIn(heat.bath_name);
  return [
    { label: blade.hardened, text: [of('soak'), quenched].filter((part) => part !== '').join(', ') },
    { label: blade.cold, text: of('cold') },
    { label: blade.tempered, text: temperText(steps, writing) },
  ];
}

interface Found {
  readonly measure: Measure;
  readonly scale: Scale | null;
  readonly readings: readonly { readonly place: string; readonly value: number }[];
}

/** What was passed last at each gate. */
function passed(db: ReadDb, buildId: string): readonly Found[] {
  const rows = checkRows(db, { buildId }).filter(
    (row) => row.voided_reason === null && row.verdict === 'pass',
  );
  const latest = rows.filter((row, at) => rows.findIndex((other) => other.measure === row.measure) === at);
  const readings = readingRows(
    db,
    latest.map((row) => row.id),
  );
  return latest.map((row) => ({
    measure: row.measure as Measure,
    scale: row.scale as Scale | null,
    readings: readings.filter((reading) => reading.check_id === row.id),
  }));
}

function hardnessText(found: Found | undefined, { language, words }: Writing): string {
  const values = found?.readings.map((reading) => reading.value) ?? [];
  const mean = meanOf(values);
  if (mean === null) return '';
  const text = hardnessWords(mean, found?.scale ?? 'HRC').replace(/\d+\.\d+/, (plain) =>
    numberIn(language, plain),
  );
  return values.length === 1 ? text : words.blade.meanOf(text, values.length);
}

function edgeText(found: Found | undefined, writing: Writing): string {
  const { places } = writing.words.measured;
  return (found?.readings ?? [])
    .map(({ place, value }) => {
      const text = thin(value, writing);
      return place === '' ? text : `${places[place] ?? place} ${text}`;
    })
    .join(', ');
}

function weighedText(found: Found | undefined, writing: Writing): string {
  const [first] = found?.readings ?? [];
  return first === undefined ? '' : weightText(first.value, writing);
}

function straightText(found: Found | undefined, { language }: Writing): string {
  const most = Math.max(-1, ...(found?.readings ?? []).map((reading) => reading.value));
  return most < 0 ? '' : `${numberIn(language, rounded(most / MM_NM, 2))} mm`;
}

const namesOf = (materials: readonly MaterialIn[], ...kinds: readonly string[]): string =>
  [...new Set(materials.filter(({ kind }) => kinds.includes(kind)).map(({ name }) => name))].join(', ');

function steelText(materials: readonly MaterialIn[], { words }: Writing): string {
  const steels = materials.filter(({ kind }) => kind === 'steel' || kind === 'blank');
  const lines = steels.map(({ name, heat_number: number }) =>
    number === '' ? name : `${name}, ${words.blade.heatNumber(number)}`,
  );
  return [...new Set(lines)].join('; ');
}

/** The groups of rows that have something to say. */
export function groupsOf(
  db: ReadDb,
  buildId: string,
  materials: readonly MaterialIn[],
  writing: Writing,
): CertificatePaper['groups'] {
  const { blade, measured, handle } = writing.words;
  const found = passed(db, buildId);
  const at = (measure: Measure): Found | undefined => found.find((one) => one.measure === measure);
  const tests = found.flatMap((one) => measured.tests[one.measure] ?? []);
  return [
    {
      heading: blade.heading,
      rows: filled([
        { label: blade.steel, text: steelText(materials, writing) },
        ...fireRows(db, buildId, writing),
        { label: blade.hardness, text: hardnessText(at('hardness'), writing) },
      ]),
    },
    {
      heading: measured.heading,
      rows: filled([
        { label: measured.weight, text: weighedText(at('weight'), writing) },
        { label: measured.behindEdge, text: edgeText(at('behindEdge'), writing) },
        { label: measured.straight, text: straightText(at('warp'), writing) },
        { label: measured.tested, text: tests.join(', ') },
      ]),
    },
    {
      heading: handle.heading,
      rows: filled([
        { label: handle.handle, text: namesOf(materials, 'handle') },
        { label: handle.fitting, text: namesOf(materials, 'fitting') },
        { label: handle.sheath, text: namesOf(materials, 'sheath') },
      ]),
    },
  ].filter((group) => group.rows.length > 0);
}

/** Material somebody may ask papers for: what it is, how it is listed, where from, and the number of its document. */
export const papersOf = (materials: readonly PaperInside[], { words }: Writing): readonly string[] =>
  materials
    .filter(({ species, listing, paper_number: number }) => species !== '' || listing !== '' || number !== '')
    .map(({ name, species, listing, origin, paper_number: number }) => {
      const details = [
        species,
        listing === '' ? '' : words.papers.listing(listing),
        origin === '' ? '' : words.papers.origin(origin),
        number === '' ? '' : words.papers.number(number),
      ];
      return words.papers.line(name, details.filter((part) => part !== '').join(', '));
    });
