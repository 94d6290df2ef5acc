/** Row types of the tables of the rack, the forge and the clock. Column meanings are in the migrations. */
import type { Generated } from 'kysely';

export interface PeopleTable {
  id: string;
  name: string;
  note: string;
  archived: Generated<number>;
}

export interface PersonRatesTable {
  person_id: string;
  from_date: string;
  per_hour_micro: number;
}

export interface MakingsTable {
  id: string;
  number: number;
  title: string;
  kind: string;
  state: string;
  started_on: string;
  ended_on: string | null;
  share_key: string;
  labour_over: string;
  start_layers: number | null;
  end_reason: string;
  note: string;
}

export interface MakingStepsTable {
  id: string;
  making_id: string;
  position: number;
  on_date: string;
  kind: string;
  label: string;
  weight_after_ng: number | null;
  pieces: number;
  note: string;
}

export interface MakingOutputsTable {
  making_id: string;
  position: number;
  lot_id: string;
  share: number;
}

export interface OpeningsTable {
  id: string;
  item_id: string;
  lot_id: string | null;
  supplier_id: string | null;
  opened_at: string;
  on_date: string;
  stage_code: string | null;
  qty: number;
  state: string;
  blunt_on: string | null;
  ended_on: string | null;
  replaces_id: string | null;
  note: string;
}

export interface OpeningBuildsTable {
  opening_id: string;
  build_id: string;
  weight: number;
}

export interface BurnsTable {
  id: string;
  on_date: string;
  kind: string;
  label: string;
  item_id: string | null;
  making_id: string | null;
  before_ng: number | null;
  after_ng: number | null;
  fire_minutes: number | null;
  burn_rate_ng: number | null;
  watt_hours: number | null;
  per_kwh_micro: number | null;
  qty_ng: number | null;
  amount_micro: number;
  note: string;
  taken_back: Generated<number>;
}

export interface BurnBuildsTable {
  burn_id: string;
  build_id: string;
  weight: number;
}

export interface TariffsTable {
  from_date: string;
  per_kwh_micro: number;
  note: string;
}

export interface FiresTable {
  id: string;
  name: string;
  kind: string;
  watts: number;
  duty_ppm: number;
  burn_rate_ng: number;
  gas_item_id: string | null;
  note: string;
  archived: Generated<number>;
}

export interface BathsTable {
  id: string;
  name: string;
  item_id: string;
  life_quenches: number | null;
  life_days: number | null;
  flash_milli_c: number | null;
  note: string;
  archived: Generated<number>;
}

export interface BathEventsTable {
  seq: Generated<number>;
  id: string;
  bath_id: string;
  on_date: string;
  kind: string;
  qty_nl: number;
  quenches: number;
  value_micro: number;
  heat_id: string | null;
  reason: string;
  reverses_id: string | null;
}

export interface MakingChargesTable {
  seq: Generated<number>;
  id: string;
  making_id: string;
  on_date: string;
  label: string;
  amount_micro: number;
  burn_id: string | null;
  reason: string;
  reverses_id: string | null;
}

export interface ItemCountsTable {
  id: string;
  item_id: string;
  on_date: string;
  counted_qty: number;
  difference_qty: number;
  difference_micro: number;
  settled: string;
  from_date: string;
  reason: string;
}

export interface RunningClocksTable {
  who: string;
  started_at: string;
  stage_code: string | null;
  work_kind: string | null;
  shares: string;
  making_id: string | null;
  setup_until: string | null;
  note: string;
}

export interface WaitsTable {
  id: string;
  kind: string;
  label: string;
  stage_code: string | null;
  making_id: string | null;
  heat_id: string | null;
  started_at: string;
  ends_at: string;
  done_at: string | null;
  dropped_at: string | null;
  note: string;
}

export interface WaitBuildsTable {
  wait_id: string;
  build_id: string;
}

export interface GateTargetsTable {
  id: string;
  measure: string;
  model_id: string | null;
  steel_item_id: string | null;
  target: number | null;
  low: number | null;
  high: number | null;
  note: string;
}

export interface ChecksTable {
  seq: Generated<number>;
  id: string;
  build_id: string;
  on_date: string;
  measure: string;
  verdict: string;
  scale: string | null;
  target: number | null;
  low: number | null;
  high: number | null;
  stage_code: string | null;
  heat_id: string | null;
  note: string;
  recorded_at: string;
  voided_reason: string | null;
}

export interface CheckReadingsTable {
  check_id: string;
  position: number;
  place: string;
  value: number;
}

export interface RecipesTable {
  id: string;
  name: string;
  steel_item_id: string | null;
  lot_id: string | null;
  note: string;
  archived: Generated<number>;
}

export interface RecipeStepsTable {
  recipe_id: string;
  position: number;
  kind: string;
  temp_milli_c: number | null;
  minutes: number;
  note: string;
}

export interface HeatsTable {
  id: string;
  number: number;
  on_date: string;
  batch: string;
  recipe_id: string | null;
  fire_id: string | null;
  bath_id: string | null;
  note: string;
}

export interface HeatStepsTable {
  heat_id: string;
  position: number;
  kind: string;
  temp_milli_c: number | null;
  minutes: number;
  note: string;
}

export interface HeatBuildsTable {
  heat_id: string;
  build_id: string;
}

export interface SupplyOrdersTable {
  id: string;
  number: number;
  supplier_id: string;
  on_date: string;
  due_on: string | null;
  state: string;
  purchase_id: string | null;
  note: string;
}

export interface SupplyOrderLinesTable {
  id: string;
  order_id: string;
  position: number;
  item_id: string;
  pieces: number;
  qty_each: number;
  price_micro: number;
}

/** Tables of the rack, the forge and the clock. */
export interface ForgeTables {
  people: PeopleTable;
  person_rates: PersonRatesTable;
  makings: MakingsTable;
  making_steps: MakingStepsTable;
  making_outputs: MakingOutputsTable;
  openings: OpeningsTable;
  opening_builds: OpeningBuildsTable;
  burns: BurnsTable;
  burn_builds: BurnBuildsTable;
  tariffs: TariffsTable;
  fires: FiresTable;
  baths: BathsTable;
  bath_events: BathEventsTable;
  making_charges: MakingChargesTable;
  item_counts: ItemCountsTable;
  running_clocks: RunningClocksTable;
  waits: WaitsTable;
  wait_builds: WaitBuildsTable;
  gate_targets: GateTargetsTable;
  checks: ChecksTable;
  check_readings: CheckReadingsTable;
  recipes: RecipesTable;
  recipe_steps: RecipeStepsTable;
  heats: HeatsTable;
  heat_steps: HeatStepsTable;
  heat_builds: HeatBuildsTable;
  supply_orders: SupplyOrdersTable;
  supply_order_lines: SupplyOrderLinesTable;
}
