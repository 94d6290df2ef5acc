/** Row types of the tables of selling: buyers, orders, invoices, releases, parcels. Column meanings are in the migrations. */
import type { Generated } from 'kysely';

export interface NumberPatternsTable {
  kind: string;
  pattern: string;
}

export interface PaperTextsTable {
  kind: string;
  language: string;
  text: string;
}

export interface SupporterLevelsTable {
  id: string;
  name: string;
  rank: number;
  per_month_minor: number;
  archived: Generated<number>;
}

export interface SupporterSpansTable {
  id: string;
  buyer_id: string;
  level_id: string;
  from_on: string | null;
  until_on: string | null;
}

export interface BuyersTable {
  id: string;
  name: string;
  email: string;
  phone: string;
  address: string;
  city: Generated<string>;
  region: Generated<string>;
  postcode: Generated<string>;
  country: string;
  tax_place_id: string | null;
  tax_number: Generated<string>;
  language: Generated<string>;
  first_contact_on: string | null;
  note: string;
  archived: Generated<number>;
  erased_on: string | null;
  merged_into_id: string | null;
}

export interface BuyerAddressesTable {
  id: string;
  buyer_id: string;
  label: string;
  recipient: string;
  address: string;
  city: string;
  region: string;
  postcode: string;
  country: string;
  archived: Generated<number>;
}

export interface ModelOptionsTable {
  id: string;
  model_id: string;
  position: number;
  name: string;
  price_minor: number;
  archived: Generated<number>;
}

export interface DepositPoliciesTable {
  id: string;
  name: string;
  from_date: string;
  percent_ppm: number;
  least_minor: number;
  special_ppm: number;
  refundable: string;
  kept_ppm: number;
  deposit_days: number;
  balance_days: number;
  note: string;
  archived: Generated<number>;
}

export interface OrdersTable {
  id: string;
  number: number;
  buyer_id: string;
  model_id: string | null;
  state: string;
  asked_on: string;
  place: number | null;
  wish: string;
  price_minor: number | null;
  special_minor: Generated<number>;
  shipping_minor: Generated<number>;
  channel_id: string | null;
  tax_place_id: string | null;
  abroad: Generated<number>;
  address_id: string | null;
  offered_on: string | null;
  answer_by: string | null;
  agreed_on: string | null;
  promised_on: string | null;
  ended_on: string | null;
  end_reason: Generated<string>;
  last_contact_on: string | null;
  policy_id: string | null;
  terms: Generated<string>;
  deposit_minor: Generated<number>;
  kept_minor: Generated<number>;
  kept_tax_minor: Generated<number>;
  sale_id: string | null;
  note: string;
}

export interface OrderOptionsTable {
  order_id: string;
  position: number;
  option_id: string | null;
  name: string;
  price_minor: number;
}

export interface OrderBuildsTable {
  id: string;
  order_id: string;
  build_id: string;
  from_on: string;
  until_on: string | null;
  reason: string;
}

export interface OrderChangesTable {
  seq: Generated<number>;
  id: string;
  order_id: string;
  on_date: string;
  what: string;
  before: string;
  after: string;
  reason: string;
}

export interface SalesTable {
  id: string;
  build_id: string;
  buyer_id: string;
  channel_id: string;
  on_date: string;
  price_minor: number;
  shipping_minor: number;
  tax_place_id: string | null;
  tax_label: string;
  tax_rate_ppm: number;
  tax_on_shipping: number;
  tax_inclusive: number;
  tax_rounding: string;
  tax_note: string;
  tax_minor: number;
  abroad: number;
  fee_minor: number;
  postage_paid_minor: number;
  taken_back_on: string | null;
  order_id: string | null;
  release_id: string | null;
  deposit_fee_minor: number;
  flaw: string;
  address_id: string | null;
  kept_minor: number;
  tax_category: string;
}

export interface ServicesTable {
  id: string;
  build_id: string | null;
  buyer_id: string | null;
  knife: string;
  kind: string;
  received_on: string;
  done_on: string | null;
  sent_on: string | null;
  note: string;
  price_minor: number;
  postage_paid_minor: Generated<number>;
  cancelled_on: string | null;
}

export interface InvoicesTable {
  id: string;
  series: string;
  series_no: number;
  number: string;
  kind: string;
  sale_id: string | null;
  order_id: string | null;
  service_id: string | null;
  buyer_id: string;
  issued_on: string;
  supply_on: string;
  due_on: string;
  currency: string;
  language: string;
  seller_name: string;
  seller_address: string;
  seller_tax_number: string;
  buyer_name: string;
  buyer_address: string;
  particulars: string;
  net_minor: number;
  tax_label: string;
  tax_rate_ppm: number;
  tax_base_minor: number;
  tax_minor: number;
  tax_category: string;
  tax_reason: string;
  total_minor: number;
  prepaid_minor: number;
  prepaid_tax_minor: number;
  note: string;
  credits_id: string | null;
  document_path: string;
  document_sha256: string;
  tax_on: string | null;
}

export interface InvoiceLinesTable {
  invoice_id: string;
  position: number;
  description: string;
  detail: string;
  qty: number;
  unit_price_minor: number;
  net_minor: number;
  tax_rate_ppm: number;
  qty_scale: number;
  unit_code: string;
  tax_category: string;
}

export interface PaymentsTable {
  seq: Generated<number>;
  id: string;
  invoice_id: string;
  on_date: string;
  amount_minor: number;
  method: string;
  reference: string;
  reason: string;
  reverses_id: string | null;
  fee_minor: number;
  channel_id: string | null;
}

export interface InvoiceDraftsTable {
  id: string;
  kind: string;
  buyer_id: string;
  service_id: string | null;
  tax_place_id: string | null;
  lines: string;
  note: string;
  changed_at: string;
}

export interface StructuredInvoicesTable {
  invoice_id: string;
  made_at: string;
  document_path: string;
  document_sha256: string;
}

export interface RemindersTable {
  id: string;
  invoice_id: string;
  nth: number;
  on_date: string;
  pay_by: string;
  open_minor: number;
  document_path: string;
  document_sha256: string;
}

export interface ReleasesTable {
  id: string;
  number: number;
  title: string;
  state: string;
  note: string;
  rule: string;
  least_rank: number;
  one_each: number;
  hold_minutes: number;
  preview_on: string | null;
  early_from: string;
  early_until: string;
  ended_on: string | null;
}

export interface ReleaseKnivesTable {
  release_id: string;
  build_id: string;
  position: number;
  price_minor: number;
  shipping_minor: number;
  words: string;
  withdrawn_on: string | null;
}

export interface ReleaseEntriesTable {
  id: string;
  release_id: string;
  build_id: string | null;
  number: number;
  buyer_id: string;
  at: string;
  withdrawn_at: string | null;
}

export interface ReleaseDrawsTable {
  id: string;
  release_id: string;
  build_id: string;
  at: string;
  seed: string;
  outcome: string;
}

export interface ClaimsTable {
  id: string;
  build_id: string;
  buyer_id: string;
  release_id: string | null;
  kind: string;
  by_rule: string;
  from_at: string;
  until_at: string;
  ended_at: string | null;
  outcome: string | null;
  note: string;
}

export interface FairnessLogTable {
  seq: Generated<number>;
  release_id: string;
  at: string;
  what: string;
  build_id: string | null;
  buyer_id: string | null;
  detail: string;
}

export interface ShipRulesTable {
  id: string;
  country: string;
  region: string;
  answer: string;
  what: string;
  checked_on: string;
  archived: Generated<number>;
}

export interface ShipTicksTable {
  seq: Generated<number>;
  subject_kind: string;
  subject_id: string;
  reminder: string;
  text: string;
  at: string;
}

export interface ShipmentsTable {
  id: string;
  sale_id: string;
  on_date: string;
  address: string;
  country: string;
  carrier: string;
  tracking: string;
  weight_ng: number | null;
  insured_minor: number;
  contents: string;
  note: string;
  cancelled_on: string | null;
}

export interface KeptBytesTable {
  path: string;
  sha256: string;
  bytes: Uint8Array;
}

export interface SeparateBuyersTable {
  one_id: string;
  other_id: string;
}

export interface ServiceSettingsTable {
  id: number;
  free_months: number;
}

/** Every table of selling. */
export interface SellingTables {
  number_patterns: NumberPatternsTable;
  paper_texts: PaperTextsTable;
  supporter_levels: SupporterLevelsTable;
  supporter_spans: SupporterSpansTable;
  buyers: BuyersTable;
  buyer_addresses: BuyerAddressesTable;
  model_options: ModelOptionsTable;
  deposit_policies: DepositPoliciesTable;
  orders: OrdersTable;
  order_options: OrderOptionsTable;
  order_builds: OrderBuildsTable;
  order_changes: OrderChangesTable;
  sales: SalesTable;
  services: ServicesTable;
  invoices: InvoicesTable;
  invoice_lines: InvoiceLinesTable;
  payments: PaymentsTable;
  invoice_drafts: InvoiceDraftsTable;
  structured_invoices: StructuredInvoicesTable;
  reminders: RemindersTable;
  releases: ReleasesTable;
  release_knives: ReleaseKnivesTable;
  release_entries: ReleaseEntriesTable;
  release_draws: ReleaseDrawsTable;
  claims: ClaimsTable;
  fairness_log: FairnessLogTable;
  ship_rules: ShipRulesTable;
  ship_ticks: ShipTicksTable;
  shipments: ShipmentsTable;
  kept_bytes: KeptBytesTable;
  separate_buyers: SeparateBuyersTable;
  service_settings: ServiceSettingsTable;
}
