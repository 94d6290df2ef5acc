/** Row types of the books, one per table, as kysely sees them. Column meanings are in the migrations. */
import type { Generated } from 'kysely';
import type { AnswersTables } from './schema-answers.ts';
import type { CountTables } from './schema-count.ts';
import type { ForgeTables } from './schema-forge.ts';
import type { SealTables } from './schema-seal.ts';
import type { MoneyTables } from './schema-money.ts';
import type { SellingTables } from './schema-selling.ts';
import type { SheetTables } from './schema-sheet.ts';
import type { YearTables } from './schema-year.ts';

export interface JournalTable {
  seq: number;
  at: string;
  who: string;
  command: string;
  body: string;
  prev_hash: string;
  hash: string;
}

export interface TaxPlacesTable {
  id: string;
  name: string;
  label: string;
  rate_ppm: number;
  on_shipping: number;
  inclusive: number;
  rounding: string;
  note: string;
  archived: Generated<number>;
  deposit_tax: Generated<string>;
  forfeit_taxed: Generated<number>;
  category: Generated<string>;
  reason_code: Generated<string>;
}

export interface WorkshopTable {
  id: number;
  name: string;
  maker: string;
  address: string;
  country: string;
  email: string;
  phone: string;
  website: string;
  tax_number: string;
  currency: string;
  length_habit: string;
  weight_habit: string;
  paper: string;
  home_tax_place_id: string;
  invoice_pattern: string;
  invoice_terms_days: number;
  invoice_note: string;
  set_up_at: string;
  city: Generated<string>;
  region: Generated<string>;
  postcode: Generated<string>;
  register_number: Generated<string>;
  iban: Generated<string>;
  bic: Generated<string>;
  bank_name: Generated<string>;
  language: Generated<string>;
  accent: Generated<string>;
  logo_path: Generated<string | null>;
  logo_sha256: Generated<string | null>;
}

export interface RatesTable {
  id: string;
  kind: string;
  from_date: string;
  per_hour_micro: number;
  note: string;
}

export interface ChannelsTable {
  id: string;
  name: string;
  fee_ppm: number;
  fee_fixed_minor: number;
  abroad_extra_ppm: number;
  archived: Generated<number>;
}

export interface StagesTable {
  code: string;
  name: string;
  position: number;
  attended: number;
  archived: Generated<number>;
}

export interface SuppliersTable {
  id: string;
  name: string;
  email: string;
  phone: string;
  website: string;
  lead_days: number;
  note: string;
  archived: Generated<number>;
}

export interface ItemsTable {
  id: string;
  name: string;
  kind: string;
  form: string;
  unit: string;
  piece_word: string;
  costing: string;
  useful_remnant: number;
  kerf_nm: number;
  thickness_nm: number | null;
  width_nm: number | null;
  density_milli: number | null;
  supplier_id: string | null;
  low_level: number;
  note: string;
  archived: Generated<number>;
  consumed_by: Generated<string>;
  grit_scale: string | null;
  grit: Generated<string>;
  backing: Generated<string>;
  incidental: Generated<number>;
}

export interface PurchasesTable {
  id: string;
  supplier_id: string;
  on_date: string;
  reference: string;
  freight_micro: number;
  freight_rule: string;
  note: string;
}

export interface PurchaseLinesTable {
  id: string;
  purchase_id: string;
  position: number;
  item_id: string;
  pieces: number;
  qty_each: number;
  price_micro: number;
  freight_share_micro: number;
  heat_number: string;
  place: string;
}

export interface LotsTable {
  id: string;
  number: number;
  item_id: string;
  purchase_line_id: string | null;
  supplier_id: string | null;
  received_on: string;
  heat_number: string;
  place: string;
  note: string;
  qty_received: number;
  value_received_micro: number;
  qty_left: number;
  value_left_micro: number;
  making_id: Generated<string | null>;
  length_nm: Generated<number | null>;
  width_nm: Generated<number | null>;
  parent_id: Generated<string | null>;
  species: Generated<string>;
  listing: Generated<string>;
  origin: Generated<string>;
  paper_number: Generated<string>;
}

export interface ModelsTable {
  id: string;
  code: string;
  name: string;
  family: string;
  method: string;
  note: string;
  archived: Generated<number>;
  care: Generated<string>;
  blade_nm: Generated<number | null>;
  steel: Generated<string>;
  finish: Generated<string>;
}

export interface ModelStagesTable {
  model_id: string;
  position: number;
  stage_code: string;
  minutes: number;
}

export interface ModelPartsTable {
  id: string;
  model_id: string;
  position: number;
  label: string;
  item_id: string;
  use_as: string;
  qty: number;
  per_bar: number | null;
  stage_code: string | null;
  rung: Generated<number>;
}

export interface ModelFlatsTable {
  id: string;
  model_id: string;
  position: number;
  label: string;
  use_as: string;
  amount_micro: number;
}

export interface ModelPricesTable {
  model_id: string;
  from_date: string;
  price_minor: number;
}

export interface BuildsTable {
  id: string;
  number: number;
  serial: string;
  title: string;
  model_id: string;
  state: string;
  method: string;
  batch: string;
  planned_on: string;
  started_on: string | null;
  finished_on: string | null;
  ended_on: string | null;
  end_reason: string;
  note: string;
  minutes: Generated<number>;
  cost_micro: Generated<number>;
  flaw: Generated<string>;
  blade_nm: Generated<number | null>;
  steel: Generated<string | null>;
  finish: Generated<string | null>;
}

export interface BuildStagesTable {
  build_id: string;
  position: number;
  stage_code: string;
  usual_minutes: number;
  done_on: string | null;
}

export interface BuildNotesTable {
  id: string;
  build_id: string;
  at: string;
  text: string;
}

export interface MovementsTable {
  seq: Generated<number>;
  id: string;
  lot_id: string;
  on_date: string;
  kind: string;
  qty: number;
  value_micro: number;
  use_as: string | null;
  build_id: string | null;
  stage_code: string | null;
  part_label: string;
  net_qty: number | null;
  reason: string;
  reverses_id: string | null;
  making_id: Generated<string | null>;
  opening_id: Generated<string | null>;
  burn_id: Generated<string | null>;
  bath_event_id: Generated<string | null>;
  rung: Generated<number | null>;
}

export interface ChargesTable {
  seq: Generated<number>;
  id: string;
  build_id: string;
  on_date: string;
  label: string;
  use_as: string;
  amount_micro: number;
  rung: number;
  flat_id: string | null;
  reason: string;
  reverses_id: string | null;
  burn_id: Generated<string | null>;
  bath_event_id: Generated<string | null>;
  item_count_id: Generated<string | null>;
  item_id: Generated<string | null>;
  how: Generated<string>;
}

export interface SessionsTable {
  id: string;
  root_id: string;
  version: number;
  current: number;
  cancelled: number;
  on_date: string;
  started_at: string | null;
  ended_at: string | null;
  minutes: number;
  stage_code: string | null;
  work_kind: string | null;
  source: string;
  note: string;
  reason: string;
  recorded_at: string;
  person_id: Generated<string | null>;
  making_id: Generated<string | null>;
  setup_minutes: Generated<number>;
}

export interface SessionSharesTable {
  session_id: string;
  build_id: string;
  weight: number;
  minutes: number;
}

export interface AttachmentsTable {
  id: string;
  owner_kind: string;
  owner_id: string;
  role: string;
  name: string;
  caption: string;
  mime: string;
  bytes: number;
  path: string;
  sha256: string;
  thumb_path: string | null;
  thumb_sha256: string | null;
  added_at: string;
  removed_at: string | null;
}

export interface ImportMappingsTable {
  kind: string;
  headings: string;
  mapping: string;
}

/** Every table of the books. */
export interface Tables
  extends
    ForgeTables,
    SellingTables,
    AnswersTables,
    MoneyTables,
    CountTables,
    SealTables,
    SheetTables,
    YearTables {
  journal: JournalTable;
  tax_places: TaxPlacesTable;
  workshop: WorkshopTable;
  rates: RatesTable;
  channels: ChannelsTable;
  stages: StagesTable;
  suppliers: SuppliersTable;
  items: ItemsTable;
  purchases: PurchasesTable;
  purchase_lines: PurchaseLinesTable;
  lots: LotsTable;
  models: ModelsTable;
  model_stages: ModelStagesTable;
  model_parts: ModelPartsTable;
  model_flats: ModelFlatsTable;
  model_prices: ModelPricesTable;
  builds: BuildsTable;
  build_stages: BuildStagesTable;
  build_notes: BuildNotesTable;
  movements: MovementsTable;
  charges: ChargesTable;
  sessions: SessionsTable;
  session_shares: SessionSharesTable;
  attachments: AttachmentsTable;
  import_mappings: ImportMappingsTable;
}
