/** Writing a release: a draft whole, one that is set only in what is fair. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { ReleaseKnivesTable, ReleasesTable } from '../../storage/schema-selling.ts';
import {
  insertRelease,
  nextReleaseNumber,
  releaseKnifeRows,
  replaceKnives,
  updateRelease,
} from '../../storage/queries/releases.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { fairChanges } from './fair.ts';
import { writeLog } from './log.ts';
import { instantWords, needRelease } from './need.ts';

type Input = Parsed<'releases.save'>;

/** One form for all instants in the books. */
const plainInstant = (text: string): string => new Date(Date.parse(text)).toISOString();

/** @throws FaultError of the field that is wrong */
function checkWindows(
  ctx: CommandContext,
  input: Input,
): { readonly earlyFrom: string; readonly earlyUntil: string } {
  const earlyFrom = plainInstant(input.earlyFrom);
  const earlyUntil = plainInstant(input.earlyUntil);
  if (earlyUntil <= earlyFrom) {
    throw invalid(
      `The early window closes (${instantWords(ctx.clock, earlyUntil)}) before it opens (${instantWords(ctx.clock, earlyFrom)}). Write a later closing time.`,
      'earlyUntil',
    );
  }
  if (input.previewOn !== null && input.previewOn > ctx.clock.localDay(earlyFrom)) {
    throw invalid(
      `The preview comes on ${input.previewOn}, after the window opens. Write an earlier day.`,
      'previewOn',
    );
  }
  return { earlyFrom, earlyUntil };
}

function checkKnives({ knives }: Input): void {
  for (const [at, { buildId }] of knives.entries()) {
    if (knives.findIndex((other) => other.buildId === buildId) < at)
      throw invalid(
        'This knife stands in the list twice. Take one of them out.',
        `knives.${String(at)}.buildId`,
      );
  }
}

const columnsOf = (
  input: Input,
  windows: { earlyFrom: string; earlyUntil: string },
): Omit<ReleasesTable, 'id' | 'number' | 'state' | 'ended_on'> => ({
  title: input.title,
  note: input.note,
  rule: input.rule,
  least_rank: input.leastRank,
  one_each: input.oneEach ? 1 : 0,
  hold_minutes: input.holdMinutes,
  preview_on: input.previewOn,
  early_from: windows.earlyFrom,
  early_until: windows.earlyUntil,
});

const knivesOf = (
  releaseId: string,
  { knives }: Input,
  withdrawn: ReadonlyMap<string, string>,
): ReleaseKnivesTable[] =>
  knives.map((knife, position) => ({
    release_id: releaseId,
    build_id: knife.buildId,
    position,
    price_minor: knife.priceMinor,
    shipping_minor: knife.shippingMinor,
    words: knife.words,
    withdrawn_on: withdrawn.get(knife.buildId) ?? null,
  }));

/** Writes a release over. @throws FaultError where it is set and the change would not be fair */
export const save: HandlerFor<'releases.save'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const windows = checkWindows(ctx, input);
    checkKnives(input);
    const columns = columnsOf(input, windows);
    if (input.id === undefined) {
      const id = ctx.newId();
      insertRelease(ctx.db, {
        id,
        number: nextReleaseNumber(ctx.db),
        state: 'draft',
        ended_on: null,
        ...columns,
      });
      replaceKnives(ctx.db, id, knivesOf(id, input, new Map()));
      return { id };
    }
    const { id } = input;
    const before = needRelease(ctx.db, id);
    if (before.state === 'ended' || before.state === 'dropped')
      throw refused('This release is over and stays as it was. Make a new one.');
    const knives = releaseKnifeRows(ctx.db, [id]);
    const withdrawn = new Map(
      knives.flatMap((knife) =>
        knife.withdrawn_on === null ? [] : [[knife.build_id, knife.withdrawn_on] as const],
      ),
    );
    const after = knivesOf(id, input, withdrawn);
    if (before.state === 'set') {
      const changes = fairChanges(ctx, { before, knives }, { columns, knives: after });
      if (changes.length > 0 && input.reason === '')
        throw invalid('This release is set and people may have been told. Say why it changes.', 'reason');
      for (const detail of changes) {
        writeLog(ctx, {
          releaseId: id,
          at: ctx.clock.now(),
          what: 'changed',
          detail: `${detail} ${input.reason}`,
        });
      }
    }
    updateRelease(ctx.db, id, columns);
    replaceKnives(ctx.db, id, after);
    return { id };
  },
};
