/** Use-cases: the list of stocktakes, and one with all it holds. */
import { consumableKinds } from '../../api/stock.ts';
import type {
  Stocktake,
  StocktakeHead,
  StocktakeKnife,
  StocktakeLine,
  StocktakeTotals,
  Whereabouts,
} from '../../api/stocktakes.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import {
  knifeRows,
  lotsOfLines,
  lotsThen,
  otherRows,
  type StocktakeKnifeRow,
  type StocktakeRow,
  stocktakeRows,
  stocktakeTagOf,
} from '../../storage/queries/stocktakes.ts';
import type { HandlerFor } from '../handlers.ts';
import { type KnifeAt, type StockAt, stockAt } from '../stock/at.ts';
import { needStocktake, placesOf } from './need.ts';
import { readLines } from './rows.ts';

const keptTotal = (row: StocktakeRow): number =>
  sumOf(
    [row.materials_micro, row.supplies_micro, row.opened_micro, row.in_work_micro, row.finished_micro],
    (part) => part ?? 0,
  );

/** A stocktake as lists show it. */
export const toHead = (row: StocktakeRow): StocktakeHead => ({
  id: row.id,
  tag: stocktakeTagOf(row.number),
  on: row.on_date,
  state: row.state as StocktakeHead['state'],
  places: placesOf(row),
  note: row.note,
  startedAt: row.started_at,
  endedAt: row.ended_at,
  lines: row.lines,
  counted: row.counted,
  totalMicro: row.state === 'finished' ? keptTotal(row) : null,
  differenceMicro: row.state === 'finished' ? (row.difference_micro ?? 0) : null,
});

const isSupply = (line: StocktakeLine): boolean => consumableKinds.some((kind) => kind === line.kind);

const summed = (parts: Omit<StocktakeTotals, 'totalMicro'>): StocktakeTotals => ({
  ...parts,
  totalMicro:
    parts.materialsMicro + parts.suppliesMicro + parts.openedMicro + parts.inWorkMicro + parts.finishedMicro,
});

/** What the day comes to by the books, before any difference; of some places only, their lines. */
export function bookedTotals(at: StockAt | null, lines: readonly StocktakeLine[]): StocktakeTotals {
  if (at !== null) {
    const { materialsMicro, suppliesMicro, openedMicro, inWorkMicro, finishedMicro } = at;
    return summed({ materialsMicro, suppliesMicro, openedMicro, inWorkMicro, finishedMicro });
  }
  const value = (of: readonly StocktakeLine[]): number => sumOf(of, (line) => line.bookedMicro);
  return summed({
    materialsMicro: value(lines.filter((line) => !isSupply(line))),
    suppliesMicro: value(lines.filter(isSupply)),
    ...{ openedMicro: 0, inWorkMicro: 0, finishedMicro: 0 },
  });
}

/** The same with the differences of the lines. */
export function countedTotals(booked: StocktakeTotals, lines: readonly StocktakeLine[]): StocktakeTotals {
  const change = (of: readonly StocktakeLine[]): number => sumOf(of, (line) => line.differenceMicro);
  return summed({
    ...booked,
    materialsMicro: booked.materialsMicro + change(lines.filter((line) => !isSupply(line))),
    suppliesMicro: booked.suppliesMicro + change(lines.filter(isSupply)),
  });
}

const keptTotals = (row: StocktakeRow): StocktakeTotals =>
  summed({
    materialsMicro: row.materials_micro ?? 0,
    suppliesMicro: row.supplies_micro ?? 0,
    openedMicro: row.opened_micro ?? 0,
    inWorkMicro: row.in_work_micro ?? 0,
    finishedMicro: row.finished_micro ?? 0,
  });

const nameOf = (title: string, modelName: string): string => (title === '' ? modelName : title);

const keptKnife = (row: StocktakeKnifeRow): StocktakeKnife => ({
  id: row.build_id,
  serial: row.serial,
  name: nameOf(row.title, row.model_name),
  state: row.state === 'inWork' ? 'inWork' : 'finished',
  whereabouts: row.whereabouts as Whereabouts,
  withWhom: row.with_whom,
  heldFor: row.held_for,
  valueMicro: row.value_micro ?? 0,
});

/** The knives of the day, with where they are said to be. */
function knivesThen(at: StockAt, written: readonly StocktakeKnifeRow[]): StocktakeKnife[] {
  const byId = new Map(written.map((row) => [row.build_id, row]));
  const toKnife =
    (state: StocktakeKnife['state']) =>
    (knife: KnifeAt): StocktakeKnife => {
      const said = byId.get(knife.id);
      return {
        id: knife.id,
        serial: knife.serial,
        name: nameOf(knife.title, knife.modelName),
        state,
        whereabouts: (said?.whereabouts ?? 'here') as Whereabouts,
        withWhom: said?.with_whom ?? '',
        heldFor: knife.heldFor ?? '',
        valueMicro: knife.valueMicro,
      };
    };
  return [...at.finished.map(toKnife('finished')), ...at.inWork.map(toKnife('inWork'))];
}

/** What else held value on the day. */
export const othersThen = (at: StockAt): Stocktake['others'] => [
  ...at.opened.map(({ label, valueMicro }) => ({ kind: 'opened' as const, label, valueMicro })),
  ...at.baths.map(({ label, valueMicro }) => ({ kind: 'bath' as const, label, valueMicro })),
  ...at.makings.map(({ label, valueMicro }) => ({ kind: 'making' as const, label, valueMicro })),
];

/** Lots of the day that are on no line. */
export function notOnSheet(db: ReadDb, row: StocktakeRow) {
  const places = placesOf(row);
  const on = new Set(lotsOfLines(db, row.id, row.on_date).map((lot) => lot.id));
  return lotsThen(db, row.on_date).filter(
    (lot) => !on.has(lot.id) && (places.length === 0 || places.includes(lot.place)),
  );
}

function finished(db: ReadDb, row: StocktakeRow, at: StockAt | null): Stocktake {
  const totals = keptTotals(row);
  return {
    ...toHead(row),
    sheet: readLines(db, row),
    knives: knifeRows(db, row.id).map(keptKnife),
    others: otherRows(db, row.id).map((other) => ({
      kind: other.kind as Stocktake['others'][number]['kind'],
      label: other.label,
      valueMicro: other.value_micro,
    })),
    bookedMicro: row.booked_micro ?? 0,
    totals,
    missing: [],
    booksNowMicro: at === null || at.totalMicro === totals.totalMicro ? null : at.totalMicro,
  };
}

/** One stocktake with all it holds. @throws FaultError `missing` for an unknown id */
export function readStocktake(db: ReadDb, id: string): Stocktake {
  const row = needStocktake(db, id);
  const at = placesOf(row).length === 0 ? stockAt(db, row.on_date) : null;
  if (row.state === 'finished') return finished(db, row, at);
  const sheet = readLines(db, row);
  const booked = bookedTotals(at, sheet);
  return {
    ...toHead(row),
    sheet,
    knives: at === null ? [] : knivesThen(at, knifeRows(db, id)),
    others: at === null ? [] : othersThen(at),
    bookedMicro: booked.totalMicro,
    totals: countedTotals(booked, sheet),
    missing:
      row.state === 'open'
        ? notOnSheet(db, row).map((lot) => ({
            lotId: lot.id,
            tag: tagOf(lot.number),
            itemName: lot.item_name,
          }))
        : [],
    booksNowMicro: null,
  };
}

export const list: HandlerFor<'stocktake.list'> = (ctx) => stocktakeRows(ctx.db).map(toHead);

export const get: HandlerFor<'stocktake.get'> = (ctx, { id }) => readStocktake(ctx.db, id);
