/** What stands behind stock at cost, the cost of goods and the bridge between its two ways. */
import { missing } from '../../api/errors.ts';
import { addDays } from '../../domain/calendar.ts';
import { microToMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import { heldIncidental } from '../../storage/queries/sheet.ts';
import {
  boughtEntries,
  chargeEntries,
  type EntryRow,
  lotsHeld,
  looseForKnives,
  looseMovements,
  makingChargeEntries,
  movedInto,
} from '../../storage/queries/year-entries.ts';
import { type OtherAt, stockAt } from '../stock/at.ts';
import { type Asked, type Behind, costEntries, endedEntries, rowsOf, scrapEntries } from './entry-rows.ts';
import type { YearFacts } from './gather.ts';

const USES = ['consumable', 'energy', 'material', 'packaging'];

/** Supplies that were an expense when bought are no stock. */
function stockOf(db: ReadDb, on: string) {
  const at = stockAt(db, on);
  const expensed = new Set(heldIncidental(db));
  const counted = (rows: readonly OtherAt[]): readonly OtherAt[] =>
    rows.filter(({ id }) => !expensed.has(id));
  return { ...at, opened: counted(at.opened), baths: counted(at.baths) };
}

const bare = { build_id: null, making_id: null, lot_id: null };
const heldRow = (
  row: OtherAt,
  on: string,
  more: { readonly who: string; readonly sign: 1 | -1 },
): EntryRow => ({
  ...bare,
  ...{ id: `${row.id}~${on}`, on_date: on, what: row.label, who: more.who },
  amount: more.sign * row.valueMicro,
});

/** What was held at the end of the year, less what was held before it. */
function heldChange(db: ReadDb, { span }: YearFacts, kind: 'opened' | 'baths'): readonly EntryRow[] {
  const before = addDays(span.from, -1);
  return [
    ...stockOf(db, before)[kind].map((row) =>
      heldRow(row, before, { who: 'held before the year', sign: -1 }),
    ),
    ...stockOf(db, span.to)[kind].map((row) => heldRow(row, span.to, { who: 'held at its end', sign: 1 })),
  ];
}

/** Rows of the ledger behind the lines of the bridge, micro. */
const bridgeRows: Readonly<Record<string, (db: ReadDb, facts: YearFacts) => readonly EntryRow[]>> = {
  supplies: (db, { span }) => chargeEntries(db, span, 'flat', ['consumable']),
  energy: (db, { span }) => chargeEntries(db, span, 'flat', ['energy']),
  otherCharges: (db, { span }) => chargeEntries(db, span, 'flat', ['material', 'packaging']),
  fires: (db, { span }) => chargeEntries(db, span, 'burn', USES),
  baths: (db, facts) => [
    ...movedInto(db, facts.span, 'bath'),
    ...chargeEntries(db, facts.span, 'bath', USES),
    ...heldChange(db, facts, 'baths'),
  ],
  openings: (db, facts) => [...movedInto(db, facts.span, 'opening'), ...heldChange(db, facts, 'opened')],
  makings: (db, { span }) => makingChargeEntries(db, span),
  loose: (db, { span }) => looseForKnives(db, span),
  counts: (db, { span }) => [...looseMovements(db, span, true), ...chargeEntries(db, span, 'count', USES)],
  outside: (db, { span }) => looseMovements(db, span, false),
};

/** Names of the bridge's lines that open: all but what rounding leaves. */
export const bridgeOpens = (key: string): boolean => key === 'kept' || Object.hasOwn(bridgeRows, key);

const toMinor =
  (facts: YearFacts) =>
  (micro: number): number =>
    microToMinor(micro, facts.decimals);

export function bridgeEntries({ db, facts, rest }: Asked): Behind {
  if (rest === 'kept')
    return endedEntries(facts, 'kept').map((entry) => ({ ...entry, amount: -entry.amount }));
  return rowsOf(bridgeRows[rest]?.(db, facts) ?? [], toMinor(facts));
}

const knifeRow = (
  on: string,
  knife: {
    readonly id: string;
    readonly serial: string;
    readonly modelName: string;
    readonly valueMicro: number;
  },
): EntryRow => ({
  ...{ ...bare, id: knife.id, on_date: on, build_id: knife.id, amount: knife.valueMicro },
  ...{ what: `${knife.serial}, ${knife.modelName}`, who: '' },
});

/** Everything one kind of stock was at the end of a day. */
function heldOn(db: ReadDb, on: string, kind: string): readonly EntryRow[] {
  const at = stockOf(db, on);
  const plain = (row: OtherAt): EntryRow => heldRow(row, on, { who: '', sign: 1 });
  if (kind === 'finished') return at.finished.map((knife) => knifeRow(on, knife));
  if (kind === 'work')
    return [
      ...at.inWork.map((knife) => knifeRow(on, knife)),
      ...at.makings.map((row) => ({ ...plain(row), making_id: row.id })),
    ];
  const lots = lotsHeld(db, on).map((lot): EntryRow => ({
    ...{ ...bare, id: lot.id, on_date: lot.received_on, lot_id: lot.id },
    ...{ what: `${lot.name}, ${tagOf(lot.number)}`, who: lot.place, amount: lot.value_micro },
  }));
  return [...lots, ...[...at.opened, ...at.baths].map(plain)];
}

/** Stock at cost, `opening` or `closing`: lots, what is opened or poured, makings and knives. */
export function stockEntries({ db, facts, rest }: Asked): Behind {
  const [kind = '', when] = rest.split('.');
  const on = when === 'opening' ? addDays(facts.span.from, -1) : facts.span.to;
  return rowsOf(heldOn(db, on, kind), toMinor(facts));
}

/** The lines of the cost of goods that are sums of entries. @throws FaultError for another */
export function goodsEntries(asked: Asked): Behind {
  const { db, facts, rest } = asked;
  if (rest === 'sold') return costEntries(facts, (fact) => fact.directMinor);
  if (rest === 'scrap') return scrapEntries(asked);
  if (rest === 'bought' || rest === 'supplies')
    return rowsOf(boughtEntries(db, facts.span, rest === 'supplies'), toMinor(facts));
  throw missing('There are no entries to show behind this figure. Open the report again.');
}
