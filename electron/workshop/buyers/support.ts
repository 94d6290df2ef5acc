/** Beginning, raising, ending and mending a buyer's support. */
import type { SupporterSpan, Supporters } from '../../api/buyers.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Outcome } from '../../domain/outcome.ts';
import { orderedSpans, supportByMonth, supportFrom, type SupportSpan } from '../../domain/support.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  buyerOfSpan,
  replaceSpans,
  type SpanRecord,
  spanRecords,
  supporterLevels,
  supportersOn,
} from '../../storage/queries/supporters.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { needBuyer } from '../selling/buyers.ts';

const toSpan = (record: SpanRecord): SupportSpan => ({
  id: record.id,
  levelId: record.level_id,
  from: record.from_on,
  until: record.until_on,
});

/** A buyer's times of support, oldest first. */
export const spansOf = (db: ReadDb, buyerId: string): readonly SupporterSpan[] =>
  spanRecords(db, buyerId).map((record) => ({ ...toSpan(record), levelName: record.level }));

function needLevel(ctx: CommandContext, id: string): void {
  const level = supporterLevels(ctx.db, ctx.clock.today()).find((one) => one.id === id);
  if (!level) throw missing('This level is not in the books. Choose another.');
}

/** Writes times of support, or says in the field what is wrong with them. */
function keep(
  ctx: CommandContext,
  buyerId: string,
  spans: Outcome<readonly SupportSpan[]>,
  field: string,
): readonly SupporterSpan[] {
  if (!spans.ok) throw invalid(spans.message, field);
  replaceSpans(ctx.db, buyerId, spans.value);
  return spansOf(ctx.db, buyerId);
}

function notYet(ctx: CommandContext, day: string | null, field: string): void {
  if (day !== null && day > ctx.clock.today())
    throw invalid('This day is still to come. Write the day support began.', field);
}

/** Begins support, or raises or lowers it. */
export function support(ctx: CommandContext, input: Parsed<'buyers.support'>): readonly SupporterSpan[] {
  const buyer = needBuyer(ctx.db, input.buyerId);
  if (buyer.erased_on !== null) throw refused('This person was forgotten. Enter them anew first.');
  needLevel(ctx, input.levelId);
  notYet(ctx, input.from, 'from');
  const now = spanRecords(ctx.db, buyer.id).map(toSpan);
  const { levelId, from } = input;
  return keep(ctx, buyer.id, supportFrom(now, { id: ctx.newId(), levelId, from }), 'from');
}

/** Ends the support that runs; a day still to come is fine, as with a notice given. */
export function endSupport(
  ctx: CommandContext,
  input: Parsed<'buyers.endSupport'>,
): readonly SupporterSpan[] {
  const buyer = needBuyer(ctx.db, input.buyerId);
  const now = spanRecords(ctx.db, buyer.id).map(toSpan);
  const running = now.find((span) => span.until === null);
  if (!running) throw refused(`${buyer.name} does not support at present.`);
  const spans = now.map((span) => (span === running ? { ...span, until: input.until } : span));
  return keep(ctx, buyer.id, orderedSpans(spans), 'until');
}

function needSpans(ctx: CommandContext, id: string): { buyerId: string; spans: readonly SupportSpan[] } {
  const buyerId = buyerOfSpan(ctx.db, id);
  if (buyerId === undefined) throw missing('This time of support is not in the books any more.');
  return { buyerId, spans: spanRecords(ctx.db, buyerId).map(toSpan) };
}

/** Mends a time that was entered wrong. */
export function saveSpan(ctx: CommandContext, input: Parsed<'buyers.saveSpan'>): readonly SupporterSpan[] {
  const { buyerId, spans } = needSpans(ctx, input.id);
  needLevel(ctx, input.levelId);
  notYet(ctx, input.from, 'from');
  return keep(
    ctx,
    buyerId,
    orderedSpans(spans.map((span) => (span.id === input.id ? input : span))),
    'until',
  );
}

/** Takes away a time that never was. */
export function dropSpan(ctx: CommandContext, id: string): readonly SupporterSpan[] {
  const { buyerId, spans } = needSpans(ctx, id);
  return keep(ctx, buyerId, orderedSpans(spans.filter((span) => span.id !== id)), 'id');
}

/** Who supports today, and how many did at the end of each month since the first. */
export function supporters(ctx: QueryContext): Supporters {
  const today = ctx.clock.today();
  const spans = spanRecords(ctx.db).map(toSpan);
  const levels = supporterLevels(ctx.db, today).map(({ id, rank, per_month_minor }) => ({
    id,
    rank,
    perMonthMinor: per_month_minor,
  }));
  const first = spans.flatMap(({ from }) => (from === null ? [] : [from])).toSorted()[0];
  return {
    people: supportersOn(ctx.db, today).map((row) => ({
      buyerId: row.buyer_id,
      name: row.name,
      email: row.email,
      levelId: row.level_id,
      levelName: row.level,
      perMonthMinor: row.per_month_minor,
      from: row.from_on,
      until: row.until_on,
    })),
    months: spans.length === 0 ? [] : supportByMonth(spans, levels, { from: first ?? today, to: today }),
    sinceBefore: spans.filter(({ from }) => from === null).length,
  };
}
