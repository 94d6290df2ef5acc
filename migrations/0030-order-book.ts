/** The order book, invoices in full, First look and what follows a sale. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 30,
  name: 'order-book',
  sql: `
ALTER TABLE workshop ADD COLUMN city TEXT NOT NULL DEFAULT '';
ALTER TABLE workshop ADD COLUMN region TEXT NOT NULL DEFAULT '';
ALTER TABLE workshop ADD COLUMN postcode TEXT NOT NULL DEFAULT '';
-- Registration other than for value added tax, e.g. of a trade register.
ALTER TABLE workshop ADD COLUMN register_number TEXT NOT NULL DEFAULT '';
ALTER TABLE workshop ADD COLUMN iban TEXT NOT NULL DEFAULT '';
ALTER TABLE workshop ADD COLUMN bic TEXT NOT NULL DEFAULT '';
ALTER TABLE workshop ADD COLUMN bank_name TEXT NOT NULL DEFAULT '';
-- Language of papers unless the buyer has another.
ALTER TABLE workshop ADD COLUMN language TEXT NOT NULL DEFAULT 'en';
-- Empty: the house's own ink. Else #rrggbb.
ALTER TABLE workshop ADD COLUMN accent TEXT NOT NULL DEFAULT '';
ALTER TABLE workshop ADD COLUMN logo_path TEXT;
ALTER TABLE workshop ADD COLUMN logo_sha256 TEXT;
-- Numbers of papers that do not run with the plain invoices.
CREATE TABLE number_patterns (
  kind TEXT PRIMARY KEY CHECK (kind IN ('deposit', 'credit', 'service')),
  pattern TEXT NOT NULL
) STRICT;
-- The maker's own words on papers, by language; empty ones fall back to nothing at all.
CREATE TABLE paper_texts (
  kind TEXT NOT NULL CHECK (kind IN ('care', 'warranty', 'returns', 'restricted', 'reminder', 'preview', 'orderTerms')),
  language TEXT NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (kind, language)
) STRICT;

-- When the tax on a deposit is owed, and whether a kept deposit carries tax.
ALTER TABLE tax_places ADD COLUMN deposit_tax TEXT NOT NULL DEFAULT 'balance' CHECK (deposit_tax IN ('deposit', 'balance', 'delivery'));
ALTER TABLE tax_places ADD COLUMN forfeit_taxed INTEGER NOT NULL DEFAULT 0 CHECK (forfeit_taxed IN (0, 1));
-- Duty or tax category of UNTDID 5305, empty: S above zero, else Z.
ALTER TABLE tax_places ADD COLUMN category TEXT NOT NULL DEFAULT '' CHECK (category IN ('', 'S', 'Z', 'E', 'AE', 'K', 'G', 'O'));
ALTER TABLE tax_places ADD COLUMN reason_code TEXT NOT NULL DEFAULT '';

CREATE TABLE supporter_levels (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  -- Higher ranks see a release no later than lower ones.
  rank INTEGER NOT NULL,
  per_month_minor INTEGER NOT NULL CHECK (per_month_minor >= 0),
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
INSERT INTO supporter_levels (id, name, rank, per_month_minor) SELECT 'supporter', 'Supporter', 1, 0 FROM buyers WHERE supporter = 1 LIMIT 1;
CREATE TABLE buyers_new (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  email TEXT NOT NULL,
  phone TEXT NOT NULL,
  -- Street lines of the invoice address; before this migration the whole address.
  address TEXT NOT NULL,
  city TEXT NOT NULL DEFAULT '',
  region TEXT NOT NULL DEFAULT '',
  postcode TEXT NOT NULL DEFAULT '',
  country TEXT NOT NULL,
  tax_place_id TEXT REFERENCES tax_places (id),
  -- For a business that accounts for the tax itself.
  tax_number TEXT NOT NULL DEFAULT '',
  language TEXT NOT NULL DEFAULT '',
  first_contact_on TEXT,
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)),
  -- Set when the person asked to be forgotten: the row stays for the books, without the person.
  erased_on TEXT,
  merged_into_id TEXT REFERENCES buyers (id)
) STRICT;
INSERT INTO buyers_new (id, name, email, phone, address, country, tax_place_id, note, archived)
SELECT id, name, email, phone, address, country, tax_place_id, note, archived FROM buyers;
CREATE TABLE supporter_spans (
  id TEXT PRIMARY KEY,
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  level_id TEXT NOT NULL REFERENCES supporter_levels (id),
  -- Null: since before these books.
  from_on TEXT,
  -- Null: still. Else the first day without it.
  until_on TEXT,
  CHECK (from_on IS NULL OR until_on IS NULL OR until_on >= from_on)
) STRICT;
CREATE INDEX supporter_spans_by_buyer ON supporter_spans (buyer_id, from_on);
INSERT INTO supporter_spans (id, buyer_id, level_id) SELECT 'span-' || id, id, 'supporter' FROM buyers WHERE supporter = 1;
DROP TABLE buyers;
ALTER TABLE buyers_new RENAME TO buyers;
-- In the order of the list, whatever the case.
CREATE INDEX buyers_by_name ON buyers (name COLLATE NOCASE, id);
-- Where parcels go when that is not the invoice address.
CREATE TABLE buyer_addresses (
  id TEXT PRIMARY KEY,
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  label TEXT NOT NULL,
  recipient TEXT NOT NULL,
  address TEXT NOT NULL,
  city TEXT NOT NULL,
  region TEXT NOT NULL,
  postcode TEXT NOT NULL,
  country TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE INDEX buyer_addresses_by_buyer ON buyer_addresses (buyer_id);

-- Options of a model, each with its price.
CREATE TABLE model_options (
  id TEXT PRIMARY KEY,
  model_id TEXT NOT NULL REFERENCES models (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  price_minor INTEGER NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE INDEX model_options_by_model ON model_options (model_id, position);
ALTER TABLE models ADD COLUMN care TEXT NOT NULL DEFAULT '';
-- Not empty: sold as a second, with this flaw stated.
ALTER TABLE builds ADD COLUMN flaw TEXT NOT NULL DEFAULT '';

CREATE TABLE deposit_policies (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  from_date TEXT NOT NULL,
  percent_ppm INTEGER NOT NULL CHECK (percent_ppm BETWEEN 0 AND 1000000),
  least_minor INTEGER NOT NULL CHECK (least_minor >= 0),
  -- Share of the special-material part asked ahead.
  special_ppm INTEGER NOT NULL CHECK (special_ppm BETWEEN 0 AND 1000000),
  refundable TEXT NOT NULL CHECK (refundable IN ('always', 'untilWork', 'never')),
  -- Share of the deposit kept once it is not refundable any more.
  kept_ppm INTEGER NOT NULL CHECK (kept_ppm BETWEEN 0 AND 1000000),
  deposit_days INTEGER NOT NULL CHECK (deposit_days >= 0),
  balance_days INTEGER NOT NULL CHECK (balance_days >= 0),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

-- A wish without money, an offer, a pre-order with money: one row from the first word to the knife or the end of it.
CREATE TABLE orders (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  model_id TEXT REFERENCES models (id),
  state TEXT NOT NULL CHECK (state IN ('asked', 'offered', 'agreed', 'delivered', 'cancelled', 'closed')),
  asked_on TEXT NOT NULL,
  -- Place on the waiting list, rising; null when it does not wait.
  place INTEGER,
  wish TEXT NOT NULL,
  -- Of the knife before options; as the tax place counts it.
  price_minor INTEGER CHECK (price_minor >= 0),
  special_minor INTEGER NOT NULL DEFAULT 0 CHECK (special_minor >= 0),
  shipping_minor INTEGER NOT NULL DEFAULT 0 CHECK (shipping_minor >= 0),
  channel_id TEXT REFERENCES channels (id),
  tax_place_id TEXT REFERENCES tax_places (id),
  abroad INTEGER NOT NULL DEFAULT 0 CHECK (abroad IN (0, 1)),
  address_id TEXT REFERENCES buyer_addresses (id),
  offered_on TEXT,
  answer_by TEXT,
  agreed_on TEXT,
  promised_on TEXT,
  ended_on TEXT,
  end_reason TEXT NOT NULL DEFAULT '',
  last_contact_on TEXT,
  policy_id TEXT REFERENCES deposit_policies (id),
  -- JSON of the policy as it stood when agreed.
  terms TEXT NOT NULL DEFAULT '',
  deposit_minor INTEGER NOT NULL DEFAULT 0 CHECK (deposit_minor >= 0),
  kept_minor INTEGER NOT NULL DEFAULT 0 CHECK (kept_minor >= 0),
  kept_tax_minor INTEGER NOT NULL DEFAULT 0 CHECK (kept_tax_minor >= 0),
  sale_id TEXT REFERENCES sales (id),
  note TEXT NOT NULL
) STRICT;
CREATE INDEX orders_by_state ON orders (state, place);
CREATE INDEX orders_by_buyer ON orders (buyer_id, asked_on);
CREATE TABLE order_options (
  order_id TEXT NOT NULL REFERENCES orders (id),
  position INTEGER NOT NULL,
  option_id TEXT REFERENCES model_options (id),
  name TEXT NOT NULL,
  price_minor INTEGER NOT NULL,
  PRIMARY KEY (order_id, position)
) STRICT;
-- Which knife serves an order; after a scrap the remake takes over.
CREATE TABLE order_builds (
  id TEXT PRIMARY KEY,
  order_id TEXT NOT NULL REFERENCES orders (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  from_on TEXT NOT NULL,
  until_on TEXT,
  reason TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX order_builds_one_per_order ON order_builds (order_id) WHERE until_on IS NULL;
CREATE UNIQUE INDEX order_builds_one_per_build ON order_builds (build_id) WHERE until_on IS NULL;
CREATE TABLE order_changes (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  order_id TEXT NOT NULL REFERENCES orders (id),
  on_date TEXT NOT NULL,
  what TEXT NOT NULL,
  before TEXT NOT NULL,
  after TEXT NOT NULL,
  reason TEXT NOT NULL
) STRICT;
CREATE INDEX order_changes_by_order ON order_changes (order_id, seq);
CREATE TRIGGER order_changes_no_update BEFORE UPDATE ON order_changes BEGIN SELECT RAISE(ABORT, 'what changed in an order is not rewritten'); END;
CREATE TRIGGER order_changes_no_delete BEFORE DELETE ON order_changes BEGIN SELECT RAISE(ABORT, 'what changed in an order is not rewritten'); END;

ALTER TABLE sales ADD COLUMN order_id TEXT REFERENCES orders (id);
ALTER TABLE sales ADD COLUMN release_id TEXT REFERENCES releases (id);
-- Part of fee_minor that was paid with the deposits.
ALTER TABLE sales ADD COLUMN deposit_fee_minor INTEGER NOT NULL DEFAULT 0 CHECK (deposit_fee_minor >= 0);
ALTER TABLE sales ADD COLUMN flaw TEXT NOT NULL DEFAULT '';
ALTER TABLE sales ADD COLUMN address_id TEXT REFERENCES buyer_addresses (id);
-- Kept of the price, without tax, when the knife came back: restocking.
ALTER TABLE sales ADD COLUMN kept_minor INTEGER NOT NULL DEFAULT 0 CHECK (kept_minor >= 0);
ALTER TABLE sales ADD COLUMN tax_category TEXT NOT NULL DEFAULT '';

CREATE TABLE services (
  id TEXT PRIMARY KEY,
  -- Null: a knife of another hand.
  build_id TEXT REFERENCES builds (id),
  buyer_id TEXT REFERENCES buyers (id),
  knife TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('sharpening', 'repair', 'warranty', 'other')),
  received_on TEXT NOT NULL,
  done_on TEXT,
  sent_on TEXT,
  note TEXT NOT NULL,
  -- Asked for it, as the tax place counts it; zero is free.
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  postage_paid_minor INTEGER NOT NULL DEFAULT 0 CHECK (postage_paid_minor >= 0),
  cancelled_on TEXT
) STRICT;
CREATE INDEX services_by_build ON services (build_id, received_on);

CREATE TABLE invoices_new (
  id TEXT PRIMARY KEY,
  series TEXT NOT NULL,
  series_no INTEGER NOT NULL CHECK (series_no > 0),
  number TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL CHECK (kind IN ('sale', 'second', 'deposit', 'balance', 'service', 'credit')),
  sale_id TEXT REFERENCES sales (id),
  order_id TEXT REFERENCES orders (id),
  service_id TEXT REFERENCES services (id),
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  issued_on TEXT NOT NULL,
  supply_on TEXT NOT NULL,
  due_on TEXT NOT NULL,
  currency TEXT NOT NULL,
  language TEXT NOT NULL DEFAULT 'en',
  seller_name TEXT NOT NULL,
  seller_address TEXT NOT NULL,
  seller_tax_number TEXT NOT NULL,
  buyer_name TEXT NOT NULL,
  buyer_address TEXT NOT NULL,
  -- JSON: both parties in parts, account, reference, terms, as they stood; what a structured invoice is made from.
  particulars TEXT NOT NULL DEFAULT '{}',
  net_minor INTEGER NOT NULL,
  tax_label TEXT NOT NULL,
  tax_rate_ppm INTEGER NOT NULL,
  tax_base_minor INTEGER NOT NULL,
  tax_minor INTEGER NOT NULL,
  tax_category TEXT NOT NULL DEFAULT '',
  tax_reason TEXT NOT NULL DEFAULT '',
  total_minor INTEGER NOT NULL,
  -- Paid before on deposit invoices, tax in it included; what is asked is total less this.
  prepaid_minor INTEGER NOT NULL DEFAULT 0 CHECK (prepaid_minor >= 0),
  -- Tax already owed with those deposits.
  prepaid_tax_minor INTEGER NOT NULL DEFAULT 0 CHECK (prepaid_tax_minor >= 0),
  note TEXT NOT NULL,
  credits_id TEXT REFERENCES invoices (id),
  document_path TEXT NOT NULL,
  document_sha256 TEXT NOT NULL,
  UNIQUE (series, series_no),
  CHECK ((kind = 'credit') = (credits_id IS NOT NULL)),
  CHECK (total_minor = net_minor + tax_minor)
) STRICT;
INSERT INTO invoices_new (id, series, series_no, number, kind, sale_id, buyer_id, issued_on, supply_on, due_on, currency,
  seller_name, seller_address, seller_tax_number, buyer_name, buyer_address, net_minor, tax_label, tax_rate_ppm,
  tax_base_minor, tax_minor, total_minor, note, credits_id, document_path, document_sha256)
SELECT id, series, series_no, number, kind, sale_id, buyer_id, issued_on, supply_on, due_on, currency,
  seller_name, seller_address, seller_tax_number, buyer_name, buyer_address, net_minor, tax_label, tax_rate_ppm,
  tax_base_minor, tax_minor, total_minor, note, credits_id, document_path, document_sha256 FROM invoices;
DROP TABLE invoices;
ALTER TABLE invoices_new RENAME TO invoices;
CREATE UNIQUE INDEX invoices_one_per_sale ON invoices (sale_id) WHERE kind IN ('sale', 'second', 'balance');
CREATE INDEX invoices_by_date ON invoices (issued_on, series_no);
CREATE INDEX invoices_by_buyer ON invoices (buyer_id, issued_on);
CREATE INDEX invoices_by_order ON invoices (order_id) WHERE order_id IS NOT NULL;
CREATE INDEX invoices_by_credited ON invoices (credits_id) WHERE credits_id IS NOT NULL;
CREATE TRIGGER invoices_no_update BEFORE UPDATE ON invoices BEGIN SELECT RAISE(ABORT, 'an issued invoice is immutable'); END;
CREATE TRIGGER invoices_no_delete BEFORE DELETE ON invoices BEGIN SELECT RAISE(ABORT, 'an issued invoice is immutable'); END;
-- Quantity is qty / 10^qty_scale of the unit (UN/ECE Recommendation 20).
ALTER TABLE invoice_lines ADD COLUMN qty_scale INTEGER NOT NULL DEFAULT 0 CHECK (qty_scale BETWEEN 0 AND 4);
ALTER TABLE invoice_lines ADD COLUMN unit_code TEXT NOT NULL DEFAULT 'C62';
ALTER TABLE invoice_lines ADD COLUMN tax_category TEXT NOT NULL DEFAULT '';

-- What the channel kept of this one charge, where it is not part of a sale: deposits, services.
ALTER TABLE payments ADD COLUMN fee_minor INTEGER NOT NULL DEFAULT 0 CHECK (fee_minor >= 0);
ALTER TABLE payments ADD COLUMN channel_id TEXT REFERENCES channels (id);

-- Free to change until issued.
CREATE TABLE invoice_drafts (
  id TEXT PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('service')),
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  service_id TEXT REFERENCES services (id),
  tax_place_id TEXT REFERENCES tax_places (id),
  -- JSON array of lines as written.
  lines TEXT NOT NULL,
  note TEXT NOT NULL,
  changed_at TEXT NOT NULL
) STRICT;
CREATE TABLE structured_invoices (
  invoice_id TEXT PRIMARY KEY REFERENCES invoices (id),
  made_at TEXT NOT NULL,
  document_path TEXT NOT NULL,
  document_sha256 TEXT NOT NULL
) STRICT;
CREATE TABLE reminders (
  id TEXT PRIMARY KEY,
  invoice_id TEXT NOT NULL REFERENCES invoices (id),
  nth INTEGER NOT NULL CHECK (nth > 0),
  on_date TEXT NOT NULL,
  pay_by TEXT NOT NULL,
  open_minor INTEGER NOT NULL,
  document_path TEXT NOT NULL,
  document_sha256 TEXT NOT NULL,
  UNIQUE (invoice_id, nth)
) STRICT;

CREATE TABLE releases (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  title TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('draft', 'set', 'ended', 'dropped')),
  note TEXT NOT NULL,
  -- 'first': who comes first buys. 'lot': a draw gives the right to buy.
  rule TEXT NOT NULL CHECK (rule IN ('first', 'lot')),
  -- Lowest rank that belongs to the early group.
  least_rank INTEGER NOT NULL,
  one_each INTEGER NOT NULL CHECK (one_each IN (0, 1)),
  hold_minutes INTEGER NOT NULL CHECK (hold_minutes > 0),
  preview_on TEXT,
  -- UTC instants; the early window is from first to second, then all may buy.
  early_from TEXT NOT NULL,
  early_until TEXT NOT NULL,
  ended_on TEXT,
  CHECK (early_until > early_from)
) STRICT;
CREATE TABLE release_knives (
  release_id TEXT NOT NULL REFERENCES releases (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  position INTEGER NOT NULL,
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  shipping_minor INTEGER NOT NULL CHECK (shipping_minor >= 0),
  words TEXT NOT NULL,
  withdrawn_on TEXT,
  PRIMARY KEY (release_id, build_id)
) STRICT;
CREATE INDEX release_knives_by_build ON release_knives (build_id);
-- Names in the hat, for one knife each or for any (null).
CREATE TABLE release_entries (
  id TEXT PRIMARY KEY,
  release_id TEXT NOT NULL REFERENCES releases (id),
  build_id TEXT REFERENCES builds (id),
  number INTEGER NOT NULL,
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  at TEXT NOT NULL,
  withdrawn_at TEXT,
  UNIQUE (release_id, number)
) STRICT;
CREATE TABLE release_draws (
  id TEXT PRIMARY KEY,
  release_id TEXT NOT NULL REFERENCES releases (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  at TEXT NOT NULL,
  seed TEXT NOT NULL,
  -- JSON: entries in the order drawn.
  outcome TEXT NOT NULL
) STRICT;
-- A knife kept for one person until an hour: held on request, or offered to the one whose turn it is.
CREATE TABLE claims (
  id TEXT PRIMARY KEY,
  build_id TEXT NOT NULL REFERENCES builds (id),
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  release_id TEXT REFERENCES releases (id),
  kind TEXT NOT NULL CHECK (kind IN ('held', 'offered')),
  by_rule TEXT NOT NULL,
  from_at TEXT NOT NULL,
  until_at TEXT NOT NULL,
  ended_at TEXT,
  outcome TEXT CHECK (outcome IN ('sold', 'lapsed', 'declined', 'freed')),
  note TEXT NOT NULL,
  CHECK (until_at > from_at),
  CHECK ((ended_at IS NULL) = (outcome IS NULL))
) STRICT;
CREATE UNIQUE INDEX claims_one_open ON claims (build_id) WHERE ended_at IS NULL;
CREATE INDEX claims_by_release ON claims (release_id, from_at);
-- Who was offered what, when, by which rule.
CREATE TABLE fairness_log (
  seq INTEGER PRIMARY KEY,
  release_id TEXT NOT NULL REFERENCES releases (id),
  at TEXT NOT NULL,
  what TEXT NOT NULL,
  build_id TEXT REFERENCES builds (id),
  buyer_id TEXT REFERENCES buyers (id),
  detail TEXT NOT NULL
) STRICT;
CREATE INDEX fairness_log_by_release ON fairness_log (release_id, seq);
CREATE TRIGGER fairness_log_no_update BEFORE UPDATE ON fairness_log BEGIN SELECT RAISE(ABORT, 'the fairness log is not rewritten'); END;
CREATE TRIGGER fairness_log_no_delete BEFORE DELETE ON fairness_log BEGIN SELECT RAISE(ABORT, 'the fairness log is not rewritten'); END;

-- Places not shipped to or to ask about first.
CREATE TABLE ship_rules (
  id TEXT PRIMARY KEY,
  country TEXT NOT NULL,
  -- Empty: the whole country.
  region TEXT NOT NULL,
  answer TEXT NOT NULL CHECK (answer IN ('no', 'ask')),
  what TEXT NOT NULL,
  checked_on TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE INDEX ship_rules_by_country ON ship_rules (country, region);
-- What the maker ticked before a sale, an agreed order or a parcel.
CREATE TABLE ship_ticks (
  seq INTEGER PRIMARY KEY,
  subject_kind TEXT NOT NULL CHECK (subject_kind IN ('sale', 'order', 'shipment')),
  subject_id TEXT NOT NULL,
  reminder TEXT NOT NULL,
  text TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;
CREATE INDEX ship_ticks_by_subject ON ship_ticks (subject_kind, subject_id);
CREATE TABLE shipments (
  id TEXT PRIMARY KEY,
  sale_id TEXT NOT NULL REFERENCES sales (id),
  on_date TEXT NOT NULL,
  -- The label's lines as they stood.
  address TEXT NOT NULL,
  country TEXT NOT NULL,
  carrier TEXT NOT NULL,
  tracking TEXT NOT NULL,
  weight_ng INTEGER CHECK (weight_ng > 0),
  insured_minor INTEGER NOT NULL CHECK (insured_minor >= 0),
  -- JSON array: what is in the box, customs words, value, weight, tariff number, origin.
  contents TEXT NOT NULL,
  note TEXT NOT NULL,
  cancelled_on TEXT
) STRICT;
CREATE INDEX shipments_by_sale ON shipments (sale_id, on_date);

CREATE TABLE attachments_new (
  id TEXT PRIMARY KEY,
  owner_kind TEXT NOT NULL CHECK (owner_kind IN ('build', 'lot', 'purchase', 'item', 'check', 'making', 'heat', 'order', 'service', 'shipment')),
  owner_id TEXT NOT NULL,
  role TEXT NOT NULL CHECK (role IN ('photo', 'drawing', 'paper')),
  name TEXT NOT NULL,
  caption TEXT NOT NULL,
  mime TEXT NOT NULL,
  bytes INTEGER NOT NULL,
  path TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  thumb_path TEXT,
  thumb_sha256 TEXT,
  added_at TEXT NOT NULL,
  removed_at TEXT
) STRICT;
INSERT INTO attachments_new SELECT * FROM attachments;
DROP TABLE attachments;
ALTER TABLE attachments_new RENAME TO attachments;
CREATE INDEX attachments_by_owner ON attachments (owner_kind, owner_id, added_at);
`,
} as const;
