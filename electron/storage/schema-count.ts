/** Row types of the tables of stocktakes. Column meanings are in the migration. */
import type { Generated } from 'kysely';

export interface StocktakesTable {
  id: string;
  number: number;
  on_date: string;
  state: string;
  places: string;
  note: string;
  started_at: string;
  ended_at: Generated<string | null>;
  booked_micro: Generated<number | null>;
  materials_micro: Generated<number | null>;
  supplies_micro: Generated<number | null>;
  opened_micro: Generated<number | null>;
  in_work_micro: Generated<number | null>;
  finished_micro: Generated<number | null>;
}

export interface StocktakeLinesTable {
  id: string;
  stocktake_id: string;
  number: number;
  place: string;
  item_id: string;
  reason: Generated<string>;
  reason_note: Generated<string>;
  booked_qty: Generated<number | null>;
  booked_micro: Generated<number | null>;
  counted_qty: Generated<number | null>;
  difference_qty: Generated<number | null>;
  difference_micro: Generated<number | null>;
}

export interface StocktakeLineLotsTable {
  line_id: string;
  lot_id: string;
}

export interface StocktakeCountsTable {
  line_id: string;
  who: string;
  qty: number;
  booked_qty: number;
  counted_at: string;
}

export interface StocktakeOpeningsTable {
  stocktake_id: string;
  opening_id: string;
  left_ppm: number;
}

export interface StocktakeKnivesTable {
  stocktake_id: string;
  build_id: string;
  whereabouts: string;
  with_whom: string;
  state: Generated<string | null>;
  held_for: Generated<string>;
  value_micro: Generated<number | null>;
}

export interface StocktakeOthersTable {
  stocktake_id: string;
  position: number;
  kind: string;
  label: string;
  value_micro: number;
}

export interface StocktakeMovementsTable {
  movement_id: string;
  line_id: string;
}

export interface CountTables {
  stocktakes: StocktakesTable;
  stocktake_lines: StocktakeLinesTable;
  stocktake_line_lots: StocktakeLineLotsTable;
  stocktake_counts: StocktakeCountsTable;
  stocktake_openings: StocktakeOpeningsTable;
  stocktake_knives: StocktakeKnivesTable;
  stocktake_others: StocktakeOthersTable;
  stocktake_movements: StocktakeMovementsTable;
}
