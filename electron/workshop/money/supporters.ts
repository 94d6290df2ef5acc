/** Use-cases: what supporters paid, month by month, proposed from the list of memberships and booked once. */
import type { Income, LevelHeads, SupporterMonth } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { monthEnd, monthsBetween, monthStart } from '../../domain/calendar.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { headsByLevel } from '../../domain/support.ts';
import type { ReadDb } from '../../storage/db.ts';
import { supporterMonthsBooked } from '../../storage/queries/money.ts';
import { type LevelRecord, spanRecords, supporterLevels } from '../../storage/queries/supporters.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { bookIncome, headsOf } from './incomes.ts';
import { settingsOf } from './settings.ts';

interface Members {
  readonly spans: readonly {
    readonly id: string;
    readonly levelId: string;
    readonly from: string | null;
    readonly until: string | null;
  }[];
  readonly levels: readonly LevelRecord[];
}

const membersOf = (db: ReadDb, today: string): Members => ({
  spans: spanRecords(db).map(({ id, level_id, from_on, until_on }) => ({
    id,
    levelId: level_id,
    from: from_on,
    until: until_on,
  })),
  levels: supporterLevels(db, today),
});

/** Heads of each level on a day, without the levels nobody was on. */
const headsOn = ({ spans, levels }: Members, day: string): readonly LevelHeads[] =>
  [...headsByLevel(spans, day)].flatMap(([levelId, heads]) => {
    const level = levels.find(({ id }) => id === levelId);
    return level === undefined ? [] : [{ level: level.name, heads, perMonthMinor: level.per_month_minor }];
  });

const countOf = (heads: readonly LevelHeads[]): number => sumOf(heads, (level) => level.heads);

/** Months gone by since the first supporter, the latest first: what the list says, and what is booked. */
export function supporterMonths(ctx: QueryContext): readonly SupporterMonth[] {
  const today = ctx.clock.today();
  const members = membersOf(ctx.db, today);
  const booked = supporterMonthsBooked(ctx.db);
  const { platformPpm } = settingsOf(ctx.db);
  const begun = members.spans.flatMap(({ from }) => (from === null ? [] : [from]));
  const first = [...begun, ...booked.flatMap(({ month }) => month ?? [])].toSorted()[0];
  if (first === undefined) return [];
  return monthsBetween(first, today)
    .filter((month) => monthEnd(month) <= today)
    .map((month) => {
      const on = monthEnd(month);
      const heads = headsOn(members, on);
      const grossMinor = sumOf(heads, (level) => level.heads * level.perMonthMinor);
      const row = booked.find((one) => one.month === month);
      return {
        month,
        on,
        heads,
        count: countOf(heads),
        grossMinor,
        feeMinor: mulDiv(grossMinor, platformPpm, 1_000_000),
        booked:
          row === undefined
            ? null
            : {
                id: row.id,
                grossMinor: row.gross_minor,
                feeMinor: row.fee_minor,
                count: countOf(headsOf(row)),
              },
      };
    })
    .toReversed();
}

/** Books a month of supporters, once: with what was really paid, and the heads of its last day beside it. */
export function bookSupporters(ctx: CommandContext, input: Parsed<'money.bookSupporters'>): Income {
  const { month, grossMinor, feeMinor, receivedOn, note } = input;
  if (month !== monthStart(month)) throw invalid('Choose a month.', 'month');
  const today = ctx.clock.today();
  const earnedOn = monthEnd(month);
  if (earnedOn > today) throw refused('This month is not over yet. It is booked by its last day.', 'month');
  if (supporterMonthsBooked(ctx.db).some((row) => row.month === month))
    throw refused(
      'This month is booked already. Take that entry back first if it was wrong, then book it anew.',
      'month',
    );
  return bookIncome(ctx, {
    kind: 'supporters',
    earnedOn,
    receivedOn,
    payer: 'Supporters',
    grossMinor,
    feeMinor,
    note,
    month,
    heads: headsOn(membersOf(ctx.db, today), earnedOn),
  });
}
