/** Finding entries of one person, and putting two together. */
import type { Buyer, BuyerPair, MergeField } from '../../api/buyers.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import { twinsAmong } from '../../domain/twins.ts';
import { unitedSpans } from '../../domain/support.ts';
import { insertSeparatePair, listBuyers, pairKey, separatePairs } from '../../storage/queries/buyers.ts';
import { handOver, withdrawDoubles } from '../../storage/queries/buyers-merge.ts';
import { type BuyerRecord, updateBuyer } from '../../storage/queries/selling.ts';
import { replaceSpans, supporterLevels } from '../../storage/queries/supporters.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { needBuyer } from '../selling/buyers.ts';
import { needBuyerRow, toBuyerRow } from './rows.ts';
import { refuseGone } from './save.ts';
import { spansOf } from './support.ts';

/** More would not be looked through by hand. */
const MOST_PAIRS = 200;

/** Entries that may be one person. */
export function twins(ctx: QueryContext): readonly BuyerPair[] {
  const today = ctx.clock.today();
  const filter = { text: '', includeArchived: true };
  const rows = listBuyers(ctx.db, filter, { limit: -1, offset: 0, today })
    .filter((record) => record.erased_on === null)
    .map(toBuyerRow);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const apart = separatePairs(ctx.db);
  return twinsAmong(rows, MOST_PAIRS + apart.size)
    .filter(({ a, b }) => !apart.has(pairKey(a, b)))
    .slice(0, MOST_PAIRS)
    .flatMap(({ a, b, why }) => {
      const [one, other] = [byId.get(a), byId.get(b)];
      return one && other ? [{ a: one, b: other, why }] : [];
    });
}

/** Two entries that look like one person are two: the pair is not shown again. */
export function keepApart(ctx: CommandContext, input: Parsed<'buyers.keepApart'>): null {
  const [one, other] = [needBuyer(ctx.db, input.oneId), needBuyer(ctx.db, input.otherId)];
  if (one.id === other.id) throw invalid('These stand for one person already.', 'otherId');
  insertSeparatePair(ctx.db, one.id, other.id);
  return null;
}

const columnsOf: Readonly<Record<MergeField, readonly (keyof BuyerRecord)[]>> = {
  name: ['name'],
  email: ['email'],
  phone: ['phone'],
  address: ['address', 'city', 'region', 'postcode', 'country'],
  taxPlace: ['tax_place_id'],
  taxNumber: ['tax_number'],
  language: ['language'],
};

const earlier = (a: string | null, b: string | null): string | null =>
  a === null || b === null ? (a ?? b) : a < b ? a : b;

/** The kept entry with what is taken from the other; notes of both, the earlier first contact. */
function joined(keep: BuyerRecord, other: BuyerRecord, take: readonly MergeField[]): BuyerRecord {
  const columns = take.flatMap((field) => columnsOf[field]);
  const taken = Object.fromEntries(columns.map((column) => [column, other[column]]));
  return {
    ...keep,
    ...taken,
    note: [keep.note, other.note].filter((note) => note !== '').join('\n'),
    first_contact_on: earlier(keep.first_contact_on, other.first_contact_on),
    archived: keep.archived === 1 && other.archived === 1 ? 1 : 0,
  };
}

/** Puts two entries of one person together. */
export function merge(ctx: CommandContext, input: Parsed<'buyers.merge'>): Buyer {
  if (input.keepId === input.otherId)
    throw invalid('These are the same entry. Choose another one.', 'otherId');
  refuseGone(ctx, input.keepId);
  refuseGone(ctx, input.otherId);
  const keep = needBuyer(ctx.db, input.keepId);
  const other = needBuyer(ctx.db, input.otherId);
  const ranks = new Map(supporterLevels(ctx.db, ctx.clock.today()).map((level) => [level.id, level.rank]));
  const spans = unitedSpans(
    [...spansOf(ctx.db, keep.id), ...spansOf(ctx.db, other.id)],
    (levelId) => ranks.get(levelId) ?? 0,
    () => ctx.newId(),
  );
  replaceSpans(ctx.db, other.id, []);
  handOver(ctx.db, other.id, keep.id);
  replaceSpans(ctx.db, keep.id, spans);
  withdrawDoubles(ctx.db, keep.id, ctx.clock.now());
  updateBuyer(ctx.db, joined(keep, other, input.take));
  return needBuyerRow(ctx.db, keep.id, ctx.clock.today());
}
