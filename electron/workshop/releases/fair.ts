/**
 * What may still be changed in a release that is set, and how the log tells it. Before the preview everything may be;
 * after it nothing may turn against those who were told; once the window is open, times and rules stand.
 */
import { refused } from '../../api/errors.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReleaseKnivesTable, ReleasesTable } from '../../storage/schema-selling.ts';
import { claimsOfRelease } from '../../storage/queries/claims.ts';
import type { ReleaseKnifeRecord, ReleaseRecord } from '../../storage/queries/releases.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { instantWords } from './need.ts';
import { demandReleasable } from './releasable.ts';
import { groupName } from './rules.ts';

interface Before {
  readonly before: ReleaseRecord;
  readonly knives: readonly ReleaseKnifeRecord[];
}
interface After {
  readonly columns: Omit<ReleasesTable, 'id' | 'number' | 'state' | 'ended_on'>;
  readonly knives: readonly ReleaseKnivesTable[];
}

/** How far a release has come towards those who wait for it. */
type Told = 'nobody' | 'told' | 'open';

function toldOf(ctx: CommandContext, before: ReleaseRecord): Told {
  if (ctx.clock.now() >= before.early_from) return 'open';
  return before.preview_on !== null && ctx.clock.today() >= before.preview_on ? 'told' : 'nobody';
}

function windowChanges(ctx: CommandContext, before: ReleaseRecord, { columns }: After, told: Told): string[] {
  const changes: string[] = [];
  for (const [key, what] of [
    ['early_from', 'opens'],
    ['early_until', 'closes'],
  ] as const) {
    if (before[key] === columns[key]) continue;
    if (told === 'open')
      throw refused(
        'The early window has opened; its times stand.',
        key === 'early_from' ? 'earlyFrom' : 'earlyUntil',
      );
    if (told === 'told' && columns[key] < before[key]) {
      throw refused(
        'The preview is out; the window can only be moved to later times.',
        key === 'early_from' ? 'earlyFrom' : 'earlyUntil',
      );
    }
    changes.push(
      `The early window ${what} ${instantWords(ctx.clock, columns[key])} instead of ${instantWords(ctx.clock, before[key])}.`,
    );
  }
  if (before.preview_on !== columns.preview_on) {
    if (told !== 'nobody') throw refused('The preview is out; its day stands.', 'previewOn');
    changes.push(`Preview on ${columns.preview_on ?? 'no day'} instead of ${before.preview_on ?? 'no day'}.`);
  }
  return changes;
}

function ruleChanges(ctx: CommandContext, before: ReleaseRecord, { columns }: After, told: Told): string[] {
  const changes: string[] = [];
  const demand = (field: string): void => {
    if (told !== 'nobody')
      throw refused('The preview is out; the rules stand. End this release to change them.', field);
  };
  if (before.rule !== columns.rule) {
    demand('rule');
    changes.push(columns.rule === 'lot' ? 'By lot now.' : 'Who comes first buys now.');
  }
  if (before.least_rank !== columns.least_rank) {
    demand('leastRank');
    changes.push(`Early group: ${groupName(ctx.db, columns.least_rank)}.`);
  }
  if (before.one_each !== columns.one_each) {
    demand('oneEach');
    changes.push(columns.one_each === 1 ? 'One knife each now.' : 'More than one knife each now.');
  }
  if (before.hold_minutes !== columns.hold_minutes) {
    if (told === 'open') throw refused('The window has opened; the length of holds stands.', 'holdMinutes');
    changes.push('Another length of holds.');
  }
  return changes;
}

function knifeChanges(ctx: CommandContext, { before, knives }: Before, after: After, told: Told): string[] {
  const { currency } = houseOf(ctx.db);
  const money = (minor: number): string => formatMinor(minor, currency);
  const claimed = new Set(claimsOfRelease(ctx.db, before.id).map((claim) => claim.build_id));
  const changes: string[] = [];
  for (const knife of knives) {
    const next = after.knives.find((each) => each.build_id === knife.build_id);
    if (next === undefined)
      throw refused(
        `${knife.serial} was shown. Withdraw it with a reason instead of taking it out.`,
        'knives',
      );
    for (const [key, what] of [
      ['price_minor', 'costs'],
      ['shipping_minor', 'is sent for'],
    ] as const) {
      if (next[key] === knife[key]) continue;
      if (told !== 'nobody' && (next[key] > knife[key] || claimed.has(knife.build_id)))
        throw refused(
          `People were told ${money(knife[key])} for ${knife.serial}. It can only become less, and only while nobody has asked for it.`,
          'knives',
        );
      changes.push(`${knife.serial} ${what} ${money(next[key])} instead of ${money(knife[key])}.`);
    }
  }
  for (const knife of after.knives.filter((each) => !knives.some((old) => old.build_id === each.build_id))) {
    if (told === 'open') throw refused('The window has opened; no knife can be added.', 'knives');
    const serial = demandReleasable(ctx.db, knife, before.id);
    changes.push(`${serial} added at ${money(knife.price_minor)}.`);
  }
  return changes;
}

/**
 * What changes, a sentence each.
 * @throws FaultError `refused` where a change would not be fair to those who were told
 */
export function fairChanges(ctx: CommandContext, was: Before, after: After): string[] {
  const told = toldOf(ctx, was.before);
  return [
    ...windowChanges(ctx, was.before, after, told),
    ...ruleChanges(ctx, was.before, after, told),
    ...knifeChanges(ctx, was, after, told),
  ];
}
