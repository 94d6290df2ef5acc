/** The levels a workshop's supporters can have. */
import type { SupporterLevel } from '../../api/buyers.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { monthStart } from '../../domain/calendar.ts';
import { folded } from '../../domain/folding.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  insertLevel,
  type LevelRecord,
  levelWasUsedBefore,
  supporterLevels,
  updateLevel,
} from '../../storage/queries/supporters.ts';
import type { CommandContext } from '../context.ts';

const toLevel = (record: LevelRecord): SupporterLevel => ({
  id: record.id,
  name: record.name,
  rank: record.rank,
  perMonthMinor: record.per_month_minor,
  archived: record.archived === 1,
  count: record.n,
});

/** Every level, those put away last. */
export const levels = (db: ReadDb, today: string): readonly SupporterLevel[] =>
  supporterLevels(db, today).map(toLevel);

/** A price once paid stays what it was in the months gone by. */
function refuseNewPrice(ctx: CommandContext, before: SupporterLevel, perMonthMinor: number): void {
  const thisMonth = monthStart(ctx.clock.today());
  if (before.perMonthMinor === perMonthMinor || before.perMonthMinor === 0) return;
  if (!levelWasUsedBefore(ctx.db, before.id, thisMonth)) return;
  throw refused(
    `${before.name} was paid at its price in months gone by. Make a new level for a new price and raise people to it.`,
    'perMonthMinor',
  );
}

/** Enters or changes a level. */
export function saveLevel(ctx: CommandContext, input: Parsed<'buyers.saveLevel'>): SupporterLevel {
  const today = ctx.clock.today();
  const known = levels(ctx.db, today);
  const before = known.find((level) => level.id === input.id);
  if (input.id !== undefined && !before) throw missing('This level is not in the books any more.');
  if (known.some((level) => level.id !== input.id && folded(level.name) === folded(input.name)))
    throw invalid('There is a level of this name. Choose another name.', 'name');
  if (before) refuseNewPrice(ctx, before, input.perMonthMinor);
  if (before && input.archived && before.count > 0) {
    throw refused(
      `${before.count === 1 ? 'One person supports' : `${String(before.count)} people support`} at ${before.name}. Move them to another level first.`,
    );
  }
  const id = input.id ?? ctx.newId();
  const { name, rank, perMonthMinor, archived } = input;
  const row = { id, name, rank, per_month_minor: perMonthMinor, archived: archived ? 1 : 0 };
  if (before) updateLevel(ctx.db, row);
  else insertLevel(ctx.db, row);
  return { id, name, rank, perMonthMinor, archived, count: before?.count ?? 0 };
}
