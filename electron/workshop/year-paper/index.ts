/** The yearly report on paper. */
import type { yearPaperEndpoints } from '../../api/year-paper.ts';
import type { YearSeal } from '../../api/seals.ts';
import type { YearReport } from '../../api/year.ts';
import type { PaperFrame } from '../../documents/types.ts';
import type { ReportPaper } from '../../documents/report-types.ts';
import type { Clock } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { Handlers } from '../handlers.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { sealOf } from '../seals/views.ts';
import { yearReport } from '../year/index.ts';
import {
  cashBlocks,
  endBlocks,
  goodsBlocks,
  groupBlocks,
  hourBlocks,
  listBlocks,
  monthChart,
  monthTable,
  stockBlocks,
} from './blocks.ts';
import { glanceOf, moneyBlocks } from './figures.ts';
import { type Writer, writerOf } from './writer.ts';

type Days = Pick<Clock, 'localDay'>;

/** What stands at the foot of the cover: the seal, or that there is none. */
function sealLines(seal: YearSeal | null, clock: Days, { words, day }: Writer): readonly string[] {
  if (seal === null) return [words.open, words.caution];
  const { reopened } = seal;
  return [
    words.seal(seal.seal, day(clock.localDay(seal.sealedAt))),
    ...(reopened === null ? [] : [words.reopened(day(clock.localDay(reopened.at)), reopened.reason)]),
    words.caution,
  ];
}

/** What the paper knows beside the report. */
interface YearPaperHouse {
  readonly frame: PaperFrame;
  readonly seal: YearSeal | null;
  readonly clock: Days;
}

/** The report as a paper, in the language of its frame. */
function yearPaper(report: YearReport, { frame, seal, clock }: YearPaperHouse): ReportPaper {
  const write = writerOf(frame.language, report.currency);
  const { words, day } = write;
  const [from, to] = [day(report.year.from), day(report.year.to)];
  const standing = seal?.reopened === null;
  return {
    ...frame,
    title: words.title,
    mark: write.daysIn(report.year.name),
    facts: [
      { label: words.facts.from, text: from },
      { label: words.facts.to, text: to },
      { label: words.facts.currency, text: report.currency },
      { label: words.facts.made, text: day(clock.localDay(frame.madeAt)) },
      ...(standing ? [{ label: words.facts.seal, text: day(clock.localDay(seal.sealedAt)) }] : []),
    ],
    name: `${words.title} ${write.daysIn(report.year.name)}`,
    sentence: words.sentence(report.workshopName, from, to),
    figures: glanceOf(report, write),
    cover: { lines: [...sealLines(seal, clock, write), words.amounts(report.currency)] },
    blocks: [
      monthChart(report, write),
      ...moneyBlocks(report, write),
      ...hourBlocks(report, write),
      ...groupBlocks(report, write),
      monthTable(report, write),
      ...stockBlocks(report, write),
      ...goodsBlocks(report, write),
      ...cashBlocks(report, write),
      ...listBlocks(report, write),
      ...endBlocks(report, write),
    ],
  };
}

/** Which use-case answers which call. */
export const yearPaperHandlers: Pick<Handlers, keyof typeof yearPaperEndpoints> = {
  'year.paper': async (ctx, { from, to, language }) => {
    const house = houseOf(ctx.db);
    const report = await yearReport(ctx, { from, to });
    const frame = frameOf(house, language ?? house.shop.language, ctx.clock.now());
    const paper = dressed(
      ctx,
      yearPaper(report, { frame, seal: sealOf(ctx.db, { from, to }), clock: ctx.clock }),
    );
    return pdfOut(`${paper.title} ${paper.mark}`, await ctx.renderer.report(paper));
  },
};
