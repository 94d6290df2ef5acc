/** What stock came to at the end of a day: the rack, what is opened, work in progress and finished knives, at cost. */
import { consumableKinds, type ItemKind, type ItemForm } from '../../api/stock.ts';
import { sumOf } from '../../domain/integers.ts';
import { minorToMicro } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { makingTagOf } from '../../storage/queries/lots.ts';
import { bathsAt, knivesAt, makingsAt, openedAt, rackAt } from '../../storage/queries/stock-at.ts';
import { directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';

export interface RackAtRow {
  readonly itemId: string;
  readonly name: string;
  readonly kind: ItemKind;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  /** Base units of the form. */
  readonly qty: number;
  readonly valueMicro: number;
  /** True for what is used up over knives, false for what ends in one. */
  readonly supply: boolean;
}

export interface KnifeAt {
  readonly id: string;
  readonly serial: string;
  readonly title: string;
  readonly modelName: string;
  readonly startedOn: string;
  /** Null while it was in work on that day. */
  readonly finishedOn: string | null;
  /** Who it was kept for on that day, by an order or a hold; null for nobody. */
  readonly heldFor: string | null;
  /** Direct cost booked by that day, rounded as on its cost sheet; own labour at zero. */
  readonly valueMicro: number;
}

/** Something of value that neither lies on the rack nor is a knife. */
export interface OtherAt {
  readonly id: string;
  readonly label: string;
  readonly valueMicro: number;
}

/** All amounts in millionths of the currency unit, at cost, own labour at zero. */
export interface StockAt {
  readonly on: string;
  readonly rack: readonly RackAtRow[];
  readonly inWork: readonly KnifeAt[];
  readonly finished: readonly KnifeAt[];
  /** Opened, and not yet shared over knives. */
  readonly opened: readonly OtherAt[];
  /** Oil in quench tanks. */
  readonly baths: readonly OtherAt[];
  /** Makings under way. */
  readonly makings: readonly OtherAt[];
  /** On the rack, what ends in a knife. */
  readonly materialsMicro: number;
  /** On the rack, what is used up over knives. */
  readonly suppliesMicro: number;
  /** Opened and in tanks. */
  readonly openedMicro: number;
  /** Raw: the rack and what is opened. */
  readonly rawMicro: number;
  /** Knives in work and makings under way. */
  readonly inWorkMicro: number;
  readonly finishedMicro: number;
  readonly totalMicro: number;
}

const supplyKinds: readonly string[] = consumableKinds;

function rackOf(db: ReadDb, on: string): RackAtRow[] {
  return rackAt(db, on).map((row) => ({
    itemId: row.id,
    name: row.name,
    kind: row.kind as ItemKind,
    form: row.form as ItemForm,
    unit: row.unit,
    pieceWord: row.piece_word,
    qty: row.qty,
    valueMicro: row.value_micro,
    supply: supplyKinds.includes(row.kind),
  }));
}

function knivesOf(db: ReadDb, on: string): KnifeAt[] {
  const { decimals } = houseOf(db);
  const rows = knivesAt(db, on);
  const ids = rows.map((row) => row.id);
  const costs = directCosts(db, ids, decimals, on);
  return rows.map((row) => ({
    id: row.id,
    serial: row.serial,
    title: row.title,
    modelName: row.model_name,
    startedOn: row.started_on ?? on,
    finishedOn: row.finished_on,
    heldFor: row.held_for,
    valueMicro: minorToMicro(costs.get(row.id)?.directMinor ?? 0, decimals),
  }));
}

const value = (row: { readonly valueMicro: number }): number => row.valueMicro;

const others = (db: ReadDb, on: string) => ({
  opened: openedAt(db, on).map((row) => ({
    id: row.id,
    label: `${row.name}, opened ${row.on_date}`,
    valueMicro: row.value_micro,
  })),
  baths: bathsAt(db, on).map((row) => ({ id: row.id, label: row.name, valueMicro: row.value_micro })),
  makings: makingsAt(db, on).map((row) => ({
    id: row.id,
    label: [makingTagOf(row.number), row.title].filter((part) => part !== '').join(' '),
    valueMicro: row.value_micro,
  })),
});

/**
 * Stock at the end of a day. Everything counts from its own day on; a correction has the day of what it corrects, unless
 * that lies in a closed year.
 * @throws FaultError `refused` before the workshop is set up
 */
export function stockAt(db: ReadDb, on: string): StockAt {
  const rack = rackOf(db, on);
  const knives = knivesOf(db, on);
  const { opened, baths, makings } = others(db, on);
  const inWork = knives.filter((knife) => knife.finishedOn === null);
  const finished = knives.filter((knife) => knife.finishedOn !== null);
  const suppliesMicro = sumOf(
    rack.filter((row) => row.supply),
    value,
  );
  const rackMicro = sumOf(rack, value);
  const openedMicro = sumOf([...opened, ...baths], value);
  const inWorkMicro = sumOf(inWork, value) + sumOf(makings, value);
  const finishedMicro = sumOf(finished, value);
  return {
    ...{ on, rack, inWork, finished, opened, baths, makings },
    materialsMicro: rackMicro - suppliesMicro,
    ...{ suppliesMicro, openedMicro, rawMicro: rackMicro + openedMicro, inWorkMicro, finishedMicro },
    totalMicro: rackMicro + openedMicro + inWorkMicro + finishedMicro,
  };
}
