/** Turns a cutting plan into finished text and figures for its paper. */
import type { CuttingPlan, PlannedBar, PlannedSheet, SheetPlan } from '../../api/cutting.ts';
import type { FileOut } from '../../api/costs.ts';
import type { CuttingPaper } from '../../documents/types.ts';
import { sumOf } from '../../domain/integers.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import { dateIn } from '../paper-words/index.ts';
import { type Cutting, cuttingOf } from './gather.ts';
import { counted } from './words.ts';

const NM_PER_MM = 1_000_000;
const mm = (nm: number): number => nm / NM_PER_MM;

type Figure = CuttingPaper['figures'][number];

const withPlace = (tag: string, size: string, ...rest: readonly string[]): string =>
  [tag, size, ...rest].filter((part) => part !== '').join(' · ');

function barFigure({ describe, money }: Cutting, bar: PlannedBar): Figure {
  const behind = bar.left > 0 ? [{ kind: bar.leftUseful ? ('kept' as const) : ('waste' as const) }] : [];
  const from = bar.before - bar.left;
  const heat = bar.heatNumber === '' ? '' : `heat ${bar.heatNumber}`;
  return {
    heading: withPlace(bar.tag, describe(bar.before), heat, bar.place),
    lengthMm: mm(bar.before),
    widthMm: null,
    shapes: [
      ...bar.cuts.map((cut, at) => ({
        kind: 'piece' as const,
        x: mm(cut.from),
        y: 0,
        length: mm(cut.length),
        width: 0,
        mark: String(at + 1),
      })),
      ...behind.map(({ kind }) => ({
        kind,
        x: mm(from),
        y: 0,
        length: mm(bar.left),
        width: 0,
        mark: describe(bar.left),
      })),
    ],
    rows: [
      ...bar.cuts.map((cut, at) => ({
        mark: String(at + 1),
        label: cut.label,
        size: describe(cut.length),
        worth: money(cut.valueMicro),
      })),
      ...(bar.left === 0
        ? []
        : [
            {
              mark: '',
              label: bar.leftUseful ? 'Stays on the rack' : 'Short end, to the scrap bin',
              size: describe(bar.left),
              worth: bar.leftUseful ? money(bar.leftValueMicro) : '',
            },
          ]),
    ],
    steps: [],
  };
}

function sheetFigure({ length, money }: Cutting, sheet: PlannedSheet): Figure {
  const size = (one: { lengthNm: number; widthNm: number }): string =>
    `${length(one.lengthNm)} × ${length(one.widthNm)}`;
  const rect = (one: { x: number; y: number; lengthNm: number; widthNm: number }) => ({
    x: mm(one.x),
    y: mm(one.y),
    length: mm(one.lengthNm),
    width: mm(one.widthNm),
  });
  return {
    heading: withPlace(sheet.tag, size(sheet), sheet.place),
    lengthMm: mm(sheet.lengthNm),
    widthMm: mm(sheet.widthNm),
    shapes: [
      ...sheet.pieces.map((piece, at) => ({ kind: 'piece' as const, ...rect(piece), mark: String(at + 1) })),
      ...sheet.offcuts.map((one) => ({
        kind: one.useful ? ('kept' as const) : ('waste' as const),
        ...rect(one),
        mark: one.useful ? size(one) : '',
      })),
    ],
    rows: [
      ...sheet.pieces.map((piece, at) => ({
        mark: String(at + 1),
        label: piece.label,
        size: `${size(piece)}${piece.turned ? ', turned' : ''}`,
        worth: money(piece.valueMicro),
      })),
      ...sheet.offcuts
        .filter((one) => one.useful)
        .map((one) => ({
          mark: '',
          label: 'Offcut, back on the rack',
          size: size(one),
          worth: money(one.valueMicro),
        })),
    ],
    steps: sheet.cuts,
  };
}

interface Told {
  readonly itemName: string;
  readonly sentence: string;
  readonly facts: CuttingPaper['facts'];
  readonly figures: readonly Figure[];
  readonly unplaced: readonly string[];
}

async function pdfOf(ctx: QueryContext, told: Told): Promise<FileOut> {
  const { shop } = houseOf(ctx.db);
  const bytes = await ctx.renderer.cutting({
    size: shop.paper === 'A4' ? 'A4' : 'Letter',
    language: 'en',
    madeAt: ctx.clock.now(),
    workshopName: shop.name,
    title: 'Cutting plan',
    item: told.itemName,
    facts: [{ label: 'Planned on', text: dateIn('en', ctx.clock.today()) }, ...told.facts],
    sentence: told.sentence,
    figures: told.figures,
    unplaced: told.unplaced,
    caution:
      'Measure before each cut. Eye and ear protection at the saw; dust of steel, laminates, horn and wood harms the lungs: catch it at the saw and wear the mask the safety sheet asks for.',
  });
  return pdfOut(`Cutting plan ${told.itemName} ${ctx.clock.today()}`, bytes);
}

/** The paper of a plan of bars. */
export async function barsPdf(ctx: QueryContext, plan: CuttingPlan): Promise<FileOut> {
  const cutting = cuttingOf(ctx.db, plan.itemId, 'length');
  const blanks = sumOf(plan.bars, (bar) => bar.cuts.length);
  return pdfOf(ctx, {
    itemName: plan.itemName,
    sentence: plan.sentence,
    facts: [
      { label: 'To cut', text: counted(blanks, 'blank') },
      { label: 'From', text: counted(plan.bars.length, 'bar') },
      { label: 'Kerf', text: cutting.describe(plan.bars[0]?.kerf ?? 0) },
    ],
    figures: plan.bars.map((bar) => barFigure(cutting, bar)),
    unplaced: plan.unplaced.map((one) => `${one.label} (${cutting.describe(one.length)})`),
  });
}

/** The paper of a plan of sheets. */
export async function sheetsPdf(ctx: QueryContext, plan: SheetPlan): Promise<FileOut> {
  const cutting = cuttingOf(ctx.db, plan.itemId, 'area');
  const pieces = sumOf(plan.sheets, (sheet) => sheet.pieces.length);
  return pdfOf(ctx, {
    itemName: plan.itemName,
    sentence: plan.sentence,
    facts: [
      { label: 'To cut', text: counted(pieces, 'piece') },
      { label: 'From', text: counted(plan.sheets.length, 'sheet') },
    ],
    figures: plan.sheets.map((sheet) => sheetFigure(cutting, sheet)),
    unplaced: plan.unplaced.map((one) => one.label),
  });
}
