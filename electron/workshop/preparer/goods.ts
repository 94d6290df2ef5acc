/** Goods of a year by count: stock at its beginning and end, what was bought, what was taken for personal use. Own labour at zero. */
import type { MaterialFigures, SheetGoods } from '../../api/preparer.ts';
import { consumableKinds } from '../../api/stock.ts';
import { addDays } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import { microToMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { Span } from '../../storage/queries/expenses.ts';
import {
  boughtByKind,
  chargedToKnives,
  drawnForKnives,
  heldIncidental,
  incidentalItems,
  knivesKept,
  takenForOwnUse,
} from '../../storage/queries/sheet.ts';
import { directCosts } from '../costs/direct.ts';
import { stockAt } from '../stock/at.ts';
import { houseOf } from '../costs/house.ts';
import type { YearFacts } from '../year/gather.ts';

/** Stock at the end of a day in the minor unit, without supplies of which no count is kept. */
interface CountedStock {
  readonly rawMinor: number;
  readonly workMinor: number;
  readonly finishedMinor: number;
  readonly totalMinor: number;
}

/** Stock at cost as a count at the year's end has it: rack, opened and poured, work in progress, finished knives. */
function countedStock(db: ReadDb, on: string): CountedStock {
  const { decimals } = houseOf(db);
  const at = stockAt(db, on);
  const loose = new Set(incidentalItems(db));
  const held = new Set(heldIncidental(db));
  const outside =
    sumOf(
      at.rack.filter((row) => loose.has(row.itemId)),
      (row) => row.valueMicro,
    ) +
    sumOf(
      [...at.opened, ...at.baths].filter((row) => held.has(row.id)),
      (row) => row.valueMicro,
    );
  const rawMinor = microToMinor(at.rawMicro - outside, decimals);
  const workMinor = microToMinor(at.inWorkMicro, decimals);
  const finishedMinor = microToMinor(at.finishedMicro, decimals);
  return { rawMinor, workMinor, finishedMinor, totalMinor: rawMinor + workMinor + finishedMinor };
}

/** What was bought in a year, at cost with the freight shared onto it. Minor units. */
export interface Bought {
  readonly materialsMinor: number;
  readonly consumablesMinor: number;
  /** Supplies of which no count is kept. */
  readonly incidentalMinor: number;
}

const usedUp: readonly string[] = consumableKinds;

/** Purchases of a year: what ends in a knife, what is used up over knives, and supplies without a count. */
function boughtIn(db: ReadDb, span: Span): Bought {
  const { decimals } = houseOf(db);
  const rows = boughtByKind(db, span);
  const sum = (of: (row: (typeof rows)[number]) => boolean): number =>
    microToMinor(
      sumOf(rows.filter(of), (row) => row.value_micro),
      decimals,
    );
  return {
    materialsMinor: sum((row) => row.incidental === 0 && !usedUp.includes(row.kind)),
    consumablesMinor: sum((row) => row.incidental === 0 && usedUp.includes(row.kind)),
    incidentalMinor: sum((row) => row.incidental === 1),
  };
}

/** Goods for personal use: taken off the rack, and knives kept or given away, at cost. */
function personalIn(db: ReadDb, span: Span, decimals: number): number {
  const knives = [...directCosts(db, knivesKept(db, span), decimals).values()];
  return microToMinor(takenForOwnUse(db, span), decimals) + sumOf(knives, (knife) => knife.directMinor);
}

/** The cost of goods of a year by count. Lines shown are rounded; the figure by count adds the lines. */
export function goodsOf(db: ReadDb, { span, freight }: Pick<YearFacts, 'span' | 'freight'>): SheetGoods {
  const { decimals } = houseOf(db);
  const openingMinor = countedStock(db, addDays(span.from, -1)).totalMinor;
  const closingMinor = countedStock(db, span.to).totalMinor;
  const { materialsMinor, consumablesMinor, incidentalMinor } = boughtIn(db, span);
  const personalMinor = personalIn(db, span, decimals);
  return {
    ...{ openingMinor, materialsMinor, consumablesMinor, personalMinor, closingMinor, incidentalMinor },
    byCountMinor: openingMinor + materialsMinor + consumablesMinor - personalMinor - closingMinor,
    freightMinor: sumOf(freight, (row) => row.minor),
  };
}

/** Bought, used in knives, and in the knives sold; one that came back is off in the year it came back. */
export function materialsOf(
  db: ReadDb,
  { span, decimals, sold }: YearFacts,
  goods: SheetGoods,
): MaterialFigures {
  return {
    boughtMinor: goods.materialsMinor + goods.consumablesMinor + goods.incidentalMinor,
    usedMinor: microToMinor(drawnForKnives(db, span) + chargedToKnives(db, span), decimals),
    soldMinor: sumOf(sold, (one) => one.directMinor),
  };
}
