/** The first books. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 10,
  name: 'first-books',
  sql: `
CREATE TABLE journal (
  seq INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  command TEXT NOT NULL,
  body TEXT NOT NULL,
  prev_hash TEXT NOT NULL,
  hash TEXT NOT NULL UNIQUE
) STRICT;
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;

CREATE TABLE tax_places (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  label TEXT NOT NULL,
  rate_ppm INTEGER NOT NULL CHECK (rate_ppm BETWEEN 0 AND 1000000),
  on_shipping INTEGER NOT NULL CHECK (on_shipping IN (0, 1)),
  inclusive INTEGER NOT NULL CHECK (inclusive IN (0, 1)),
  rounding TEXT NOT NULL CHECK (rounding IN ('invoice', 'line')),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE TABLE workshop (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL,
  maker TEXT NOT NULL,
  address TEXT NOT NULL,
  country TEXT NOT NULL,
  email TEXT NOT NULL,
  phone TEXT NOT NULL,
  website TEXT NOT NULL,
  tax_number TEXT NOT NULL,
  currency TEXT NOT NULL,
  length_habit TEXT NOT NULL CHECK (length_habit IN ('inch', 'mm')),
  weight_habit TEXT NOT NULL CHECK (weight_habit IN ('oz', 'g')),
  paper TEXT NOT NULL CHECK (paper IN ('A4', 'Letter')),
  home_tax_place_id TEXT NOT NULL REFERENCES tax_places (id),
  invoice_pattern TEXT NOT NULL,
  invoice_terms_days INTEGER NOT NULL,
  invoice_note TEXT NOT NULL,
  set_up_at TEXT NOT NULL
) STRICT;

CREATE TABLE rates (
  id TEXT PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('labour', 'overhead')),
  from_date TEXT NOT NULL,
  per_hour_micro INTEGER NOT NULL CHECK (per_hour_micro >= 0),
  note TEXT NOT NULL,
  UNIQUE (kind, from_date)
) STRICT;

CREATE TABLE channels (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  fee_ppm INTEGER NOT NULL CHECK (fee_ppm BETWEEN 0 AND 1000000),
  fee_fixed_minor INTEGER NOT NULL CHECK (fee_fixed_minor >= 0),
  abroad_extra_ppm INTEGER NOT NULL CHECK (abroad_extra_ppm BETWEEN 0 AND 1000000),
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE TABLE stages (
  code TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  attended INTEGER NOT NULL CHECK (attended IN (0, 1)),
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE TABLE suppliers (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  email TEXT NOT NULL,
  phone TEXT NOT NULL,
  website TEXT NOT NULL,
  lead_days INTEGER NOT NULL CHECK (lead_days >= 0),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE TABLE items (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  form TEXT NOT NULL CHECK (form IN ('length', 'area', 'weight', 'volume', 'piece', 'pair', 'worth')),
  unit TEXT NOT NULL,
  piece_word TEXT NOT NULL,
  costing TEXT NOT NULL CHECK (costing IN ('fifo', 'specific')),
  useful_remnant INTEGER NOT NULL CHECK (useful_remnant >= 0),
  kerf_nm INTEGER NOT NULL CHECK (kerf_nm >= 0),
  -- Null where the item has no such dimension (glue, thread) or nobody measured it.
  thickness_nm INTEGER,
  width_nm INTEGER,
  density_milli INTEGER,
  -- Null until the maker settles on a usual supplier.
  supplier_id TEXT REFERENCES suppliers (id),
  low_level INTEGER NOT NULL CHECK (low_level >= 0),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE TABLE purchases (
  id TEXT PRIMARY KEY,
  supplier_id TEXT NOT NULL REFERENCES suppliers (id),
  on_date TEXT NOT NULL,
  reference TEXT NOT NULL,
  freight_micro INTEGER NOT NULL CHECK (freight_micro >= 0),
  freight_rule TEXT NOT NULL CHECK (freight_rule IN ('spread', 'overhead')),
  note TEXT NOT NULL
) STRICT;
CREATE INDEX purchases_by_date ON purchases (on_date, id);

CREATE TABLE purchase_lines (
  id TEXT PRIMARY KEY,
  purchase_id TEXT NOT NULL REFERENCES purchases (id),
  position INTEGER NOT NULL,
  item_id TEXT NOT NULL REFERENCES items (id),
  pieces INTEGER NOT NULL CHECK (pieces > 0),
  qty_each INTEGER NOT NULL CHECK (qty_each > 0),
  price_micro INTEGER NOT NULL CHECK (price_micro >= 0),
  freight_share_micro INTEGER NOT NULL CHECK (freight_share_micro >= 0),
  heat_number TEXT NOT NULL,
  place TEXT NOT NULL,
  UNIQUE (purchase_id, position)
) STRICT;
CREATE INDEX purchase_lines_by_item ON purchase_lines (item_id);

CREATE TABLE lots (
  id TEXT PRIMARY KEY,
  -- Rises with every lot: the order of "first in, first out" within one day, and the number on the tag.
  number INTEGER NOT NULL UNIQUE,
  item_id TEXT NOT NULL REFERENCES items (id),
  -- Null for a lot that did not come by a purchase.
  purchase_line_id TEXT REFERENCES purchase_lines (id),
  supplier_id TEXT REFERENCES suppliers (id),
  received_on TEXT NOT NULL,
  heat_number TEXT NOT NULL,
  place TEXT NOT NULL,
  note TEXT NOT NULL,
  qty_received INTEGER NOT NULL CHECK (qty_received > 0),
  value_received_micro INTEGER NOT NULL CHECK (value_received_micro >= 0),
  -- Running sums of the movements, kept for speed; a check compares them with the ledger.
  qty_left INTEGER NOT NULL CHECK (qty_left >= 0),
  value_left_micro INTEGER NOT NULL CHECK (value_left_micro >= 0),
  CHECK (qty_left > 0 OR value_left_micro = 0)
) STRICT;
CREATE INDEX lots_by_item ON lots (item_id, received_on, number);
CREATE INDEX lots_on_rack ON lots (item_id, received_on, number) WHERE qty_left > 0;
CREATE INDEX lots_by_line ON lots (purchase_line_id);

CREATE TABLE models (
  id TEXT PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  family TEXT NOT NULL,
  method TEXT NOT NULL,
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE TABLE model_stages (
  model_id TEXT NOT NULL REFERENCES models (id),
  position INTEGER NOT NULL,
  stage_code TEXT NOT NULL REFERENCES stages (code),
  minutes INTEGER NOT NULL CHECK (minutes >= 0),
  PRIMARY KEY (model_id, stage_code)
) STRICT;
CREATE TABLE model_parts (
  id TEXT PRIMARY KEY,
  model_id TEXT NOT NULL REFERENCES models (id),
  position INTEGER NOT NULL,
  label TEXT NOT NULL,
  item_id TEXT NOT NULL REFERENCES items (id),
  use_as TEXT NOT NULL CHECK (use_as IN ('material', 'consumable', 'energy', 'packaging')),
  qty INTEGER NOT NULL CHECK (qty > 0),
  -- Null: the knife pays for what is taken. A number: each blank carries that share of its bar or sheet.
  per_bar INTEGER CHECK (per_bar > 0),
  stage_code TEXT REFERENCES stages (code)
) STRICT;
CREATE INDEX model_parts_by_model ON model_parts (model_id, position);
CREATE TABLE model_flats (
  id TEXT PRIMARY KEY,
  model_id TEXT NOT NULL REFERENCES models (id),
  position INTEGER NOT NULL,
  label TEXT NOT NULL,
  use_as TEXT NOT NULL CHECK (use_as IN ('material', 'consumable', 'energy', 'packaging')),
  amount_micro INTEGER NOT NULL CHECK (amount_micro >= 0)
) STRICT;
CREATE INDEX model_flats_by_model ON model_flats (model_id, position);
CREATE TABLE model_prices (
  model_id TEXT NOT NULL REFERENCES models (id),
  from_date TEXT NOT NULL,
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  PRIMARY KEY (model_id, from_date)
) STRICT;

CREATE TABLE builds (
  id TEXT PRIMARY KEY,
  -- Rises with every knife planned; the stable order of lists.
  number INTEGER NOT NULL UNIQUE,
  serial TEXT NOT NULL UNIQUE,
  title TEXT NOT NULL,
  model_id TEXT NOT NULL REFERENCES models (id),
  state TEXT NOT NULL CHECK (state IN ('planned', 'inWork', 'finished', 'sold', 'scrapped', 'kept')),
  method TEXT NOT NULL,
  batch TEXT NOT NULL,
  planned_on TEXT NOT NULL,
  started_on TEXT,
  finished_on TEXT,
  ended_on TEXT,
  end_reason TEXT NOT NULL,
  note TEXT NOT NULL,
  -- Running sums kept for lists; a check compares them with sessions, movements and charges.
  minutes INTEGER NOT NULL DEFAULT 0,
  cost_micro INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX builds_by_state ON builds (state, number);
CREATE INDEX builds_by_model ON builds (model_id, number);
CREATE TABLE build_stages (
  build_id TEXT NOT NULL REFERENCES builds (id),
  position INTEGER NOT NULL,
  stage_code TEXT NOT NULL REFERENCES stages (code),
  usual_minutes INTEGER NOT NULL CHECK (usual_minutes >= 0),
  done_on TEXT,
  PRIMARY KEY (build_id, stage_code)
) STRICT;
CREATE TABLE build_notes (
  id TEXT PRIMARY KEY,
  build_id TEXT NOT NULL REFERENCES builds (id),
  at TEXT NOT NULL,
  text TEXT NOT NULL
) STRICT;
CREATE INDEX build_notes_by_build ON build_notes (build_id, at);

CREATE TABLE movements (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  lot_id TEXT NOT NULL REFERENCES lots (id),
  on_date TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('receipt', 'draw', 'scrap', 'count', 'personal', 'sample', 'return', 'shortEnd', 'reversal')),
  qty INTEGER NOT NULL,
  value_micro INTEGER NOT NULL,
  use_as TEXT CHECK (use_as IN ('material', 'consumable', 'energy', 'packaging')),
  build_id TEXT REFERENCES builds (id),
  stage_code TEXT REFERENCES stages (code),
  -- The usual part this draw served, so that a knife shows what it still lacks.
  part_label TEXT NOT NULL,
  net_qty INTEGER,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES movements (id),
  CHECK (kind <> 'draw' OR (build_id IS NOT NULL AND use_as IS NOT NULL))
) STRICT;
CREATE INDEX movements_by_lot ON movements (lot_id, seq);
CREATE INDEX movements_by_build ON movements (build_id, seq) WHERE build_id IS NOT NULL;
CREATE INDEX movements_by_date ON movements (on_date, seq);
CREATE TRIGGER movements_no_update BEFORE UPDATE ON movements BEGIN SELECT RAISE(ABORT, 'movements are immutable'); END;
CREATE TRIGGER movements_no_delete BEFORE DELETE ON movements BEGIN SELECT RAISE(ABORT, 'movements are immutable'); END;

CREATE TABLE charges (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  build_id TEXT NOT NULL REFERENCES builds (id),
  on_date TEXT NOT NULL,
  label TEXT NOT NULL,
  use_as TEXT NOT NULL CHECK (use_as IN ('material', 'consumable', 'energy', 'packaging')),
  amount_micro INTEGER NOT NULL,
  rung INTEGER NOT NULL CHECK (rung BETWEEN 1 AND 4),
  -- The model's usual cost it came from, so that it is not booked twice by mistake.
  flat_id TEXT,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES charges (id)
) STRICT;
CREATE INDEX charges_by_build ON charges (build_id, seq);
CREATE TRIGGER charges_no_update BEFORE UPDATE ON charges BEGIN SELECT RAISE(ABORT, 'charges are immutable'); END;
CREATE TRIGGER charges_no_delete BEFORE DELETE ON charges BEGIN SELECT RAISE(ABORT, 'charges are immutable'); END;

CREATE TABLE sessions (
  -- One version of a session. Corrections add a version; the newest counts.
  id TEXT PRIMARY KEY,
  -- Shared by all versions of one session.
  root_id TEXT NOT NULL,
  version INTEGER NOT NULL CHECK (version >= 1),
  -- 1 for the version that counts. The only column that may change, and only to 0.
  current INTEGER NOT NULL CHECK (current IN (0, 1)),
  cancelled INTEGER NOT NULL CHECK (cancelled IN (0, 1)),
  on_date TEXT NOT NULL,
  started_at TEXT,
  ended_at TEXT,
  minutes INTEGER NOT NULL CHECK (minutes > 0),
  stage_code TEXT REFERENCES stages (code),
  work_kind TEXT,
  source TEXT NOT NULL CHECK (source IN ('clock', 'guess', 'entered', 'import')),
  note TEXT NOT NULL,
  reason TEXT NOT NULL,
  recorded_at TEXT NOT NULL,
  CHECK ((stage_code IS NULL) <> (work_kind IS NULL)),
  UNIQUE (root_id, version)
) STRICT;
CREATE INDEX sessions_by_date ON sessions (on_date, id) WHERE current = 1 AND cancelled = 0;
CREATE TRIGGER sessions_no_update BEFORE UPDATE ON sessions
WHEN NOT (OLD.current = 1 AND NEW.current = 0 AND OLD.id = NEW.id AND OLD.root_id = NEW.root_id AND OLD.version = NEW.version
  AND OLD.cancelled = NEW.cancelled AND OLD.on_date = NEW.on_date AND OLD.minutes = NEW.minutes
  AND OLD.stage_code IS NEW.stage_code AND OLD.work_kind IS NEW.work_kind AND OLD.source = NEW.source
  AND OLD.started_at IS NEW.started_at AND OLD.ended_at IS NEW.ended_at AND OLD.note = NEW.note
  AND OLD.reason = NEW.reason AND OLD.recorded_at = NEW.recorded_at)
BEGIN SELECT RAISE(ABORT, 'sessions are corrected by a new version'); END;
CREATE TRIGGER sessions_no_delete BEFORE DELETE ON sessions BEGIN SELECT RAISE(ABORT, 'sessions are corrected by a new version'); END;
CREATE TABLE session_shares (
  session_id TEXT NOT NULL REFERENCES sessions (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  weight INTEGER NOT NULL CHECK (weight > 0),
  minutes INTEGER NOT NULL CHECK (minutes >= 0),
  PRIMARY KEY (session_id, build_id)
) STRICT;
CREATE INDEX session_shares_by_build ON session_shares (build_id);
CREATE TRIGGER session_shares_no_update BEFORE UPDATE ON session_shares BEGIN SELECT RAISE(ABORT, 'sessions are corrected by a new version'); END;
CREATE TRIGGER session_shares_no_delete BEFORE DELETE ON session_shares BEGIN SELECT RAISE(ABORT, 'sessions are corrected by a new version'); END;

CREATE TABLE running_clock (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  started_at TEXT NOT NULL,
  stage_code TEXT REFERENCES stages (code),
  work_kind TEXT,
  -- JSON array of build ids: the clock is a draft, its shares are booked when it stops.
  build_ids TEXT NOT NULL,
  note TEXT NOT NULL,
  CHECK ((stage_code IS NULL) <> (work_kind IS NULL))
) STRICT;

CREATE TABLE buyers (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  email TEXT NOT NULL,
  phone TEXT NOT NULL,
  address TEXT NOT NULL,
  country TEXT NOT NULL,
  -- Null: no tax is charged unless the sale says otherwise.
  tax_place_id TEXT REFERENCES tax_places (id),
  supporter INTEGER NOT NULL CHECK (supporter IN (0, 1)),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE INDEX buyers_by_name ON buyers (name);

CREATE TABLE sales (
  id TEXT PRIMARY KEY,
  build_id TEXT NOT NULL REFERENCES builds (id),
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  channel_id TEXT NOT NULL REFERENCES channels (id),
  on_date TEXT NOT NULL,
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  shipping_minor INTEGER NOT NULL CHECK (shipping_minor >= 0),
  -- Null: outside every tax place the workshop knows; no tax.
  tax_place_id TEXT REFERENCES tax_places (id),
  tax_label TEXT NOT NULL,
  tax_rate_ppm INTEGER NOT NULL,
  tax_on_shipping INTEGER NOT NULL CHECK (tax_on_shipping IN (0, 1)),
  tax_inclusive INTEGER NOT NULL CHECK (tax_inclusive IN (0, 1)),
  tax_rounding TEXT NOT NULL CHECK (tax_rounding IN ('invoice', 'line')),
  tax_note TEXT NOT NULL,
  tax_minor INTEGER NOT NULL CHECK (tax_minor >= 0),
  abroad INTEGER NOT NULL CHECK (abroad IN (0, 1)),
  fee_minor INTEGER NOT NULL CHECK (fee_minor >= 0),
  postage_paid_minor INTEGER NOT NULL CHECK (postage_paid_minor >= 0),
  -- Set when the knife came back and the sale was credited; the sale then counts no more.
  taken_back_on TEXT
) STRICT;
CREATE UNIQUE INDEX sales_one_per_build ON sales (build_id) WHERE taken_back_on IS NULL;
CREATE INDEX sales_by_date ON sales (on_date, id);
CREATE INDEX sales_by_buyer ON sales (buyer_id, on_date);

CREATE TABLE invoices (
  id TEXT PRIMARY KEY,
  -- Numbers run without gaps within a series; the series is the pattern's fixed part, e.g. the year.
  series TEXT NOT NULL,
  series_no INTEGER NOT NULL CHECK (series_no > 0),
  number TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL CHECK (kind IN ('sale', 'credit')),
  sale_id TEXT NOT NULL REFERENCES sales (id),
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  issued_on TEXT NOT NULL,
  supply_on TEXT NOT NULL,
  due_on TEXT NOT NULL,
  currency TEXT NOT NULL,
  seller_name TEXT NOT NULL,
  seller_address TEXT NOT NULL,
  seller_tax_number TEXT NOT NULL,
  buyer_name TEXT NOT NULL,
  buyer_address TEXT NOT NULL,
  net_minor INTEGER NOT NULL,
  tax_label TEXT NOT NULL,
  tax_rate_ppm INTEGER NOT NULL,
  tax_base_minor INTEGER NOT NULL,
  tax_minor INTEGER NOT NULL,
  total_minor INTEGER NOT NULL,
  note TEXT NOT NULL,
  credits_id TEXT UNIQUE REFERENCES invoices (id),
  document_path TEXT NOT NULL,
  document_sha256 TEXT NOT NULL,
  UNIQUE (series, series_no),
  CHECK ((kind = 'credit') = (credits_id IS NOT NULL)),
  CHECK (total_minor = net_minor + tax_minor)
) STRICT;
CREATE UNIQUE INDEX invoices_one_per_sale ON invoices (sale_id) WHERE kind = 'sale';
CREATE INDEX invoices_by_date ON invoices (issued_on, id);
CREATE INDEX invoices_by_buyer ON invoices (buyer_id, issued_on);
CREATE TRIGGER invoices_no_update BEFORE UPDATE ON invoices BEGIN SELECT RAISE(ABORT, 'an issued invoice is immutable'); END;
CREATE TRIGGER invoices_no_delete BEFORE DELETE ON invoices BEGIN SELECT RAISE(ABORT, 'an issued invoice is immutable'); END;
CREATE TABLE invoice_lines (
  invoice_id TEXT NOT NULL REFERENCES invoices (id),
  position INTEGER NOT NULL,
  description TEXT NOT NULL,
  detail TEXT NOT NULL,
  qty INTEGER NOT NULL,
  unit_price_minor INTEGER NOT NULL,
  net_minor INTEGER NOT NULL,
  tax_rate_ppm INTEGER NOT NULL,
  PRIMARY KEY (invoice_id, position)
) STRICT;
CREATE TRIGGER invoice_lines_no_update BEFORE UPDATE ON invoice_lines BEGIN SELECT RAISE(ABORT, 'an issued invoice is immutable'); END;
CREATE TRIGGER invoice_lines_no_delete BEFORE DELETE ON invoice_lines BEGIN SELECT RAISE(ABORT, 'an issued invoice is immutable'); END;

CREATE TABLE payments (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  invoice_id TEXT NOT NULL REFERENCES invoices (id),
  on_date TEXT NOT NULL,
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  method TEXT NOT NULL,
  reference TEXT NOT NULL,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES payments (id)
) STRICT;
CREATE INDEX payments_by_invoice ON payments (invoice_id, seq);
CREATE TRIGGER payments_no_update BEFORE UPDATE ON payments BEGIN SELECT RAISE(ABORT, 'payments are immutable'); END;
CREATE TRIGGER payments_no_delete BEFORE DELETE ON payments BEGIN SELECT RAISE(ABORT, 'payments are immutable'); END;

CREATE TABLE attachments (
  id TEXT PRIMARY KEY,
  owner_kind TEXT NOT NULL CHECK (owner_kind IN ('build', 'lot', 'purchase', 'item')),
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
  -- The file itself stays; only its place on the screen goes.
  removed_at TEXT
) STRICT;
CREATE INDEX attachments_by_owner ON attachments (owner_kind, owner_id, added_at);

CREATE TABLE import_mappings (
  kind TEXT NOT NULL,
  -- The file's headings joined: the next file with the same headings is matched the same way.
  headings TEXT NOT NULL,
  mapping TEXT NOT NULL,
  PRIMARY KEY (kind, headings)
) STRICT;
`,
} as const;
