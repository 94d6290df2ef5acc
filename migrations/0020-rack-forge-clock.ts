/** The rack, the forge and the clock in full. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 20,
  name: 'rack-forge-clock',
  sql: `
CREATE TABLE items_new (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  form TEXT NOT NULL CHECK (form IN ('length', 'area', 'weight', 'volume', 'piece', 'pair', 'worth')),
  unit TEXT NOT NULL,
  piece_word TEXT NOT NULL,
  -- 'average': physically oldest first, valued at the moving average of all lots of the item.
  costing TEXT NOT NULL CHECK (costing IN ('fifo', 'specific', 'average')),
  useful_remnant INTEGER NOT NULL CHECK (useful_remnant >= 0),
  kerf_nm INTEGER NOT NULL CHECK (kerf_nm >= 0),
  thickness_nm INTEGER,
  width_nm INTEGER,
  density_milli INTEGER,
  supplier_id TEXT REFERENCES suppliers (id),
  low_level INTEGER NOT NULL CHECK (low_level >= 0),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)),
  -- How its stock falls: 'use' by what knives take, 'opening' when a new one is opened.
  consumed_by TEXT NOT NULL DEFAULT 'use' CHECK (consumed_by IN ('use', 'opening')),
  -- Coated abrasives only: the scale the grade belongs to, so that P400 and 400 never merge.
  grit_scale TEXT CHECK (grit_scale IN ('fepa', 'cami', 'micron', 'other')),
  grit TEXT NOT NULL DEFAULT '',
  backing TEXT NOT NULL DEFAULT ''
) STRICT;
INSERT INTO items_new (id, name, kind, form, unit, piece_word, costing, useful_remnant, kerf_nm, thickness_nm, width_nm,
  density_milli, supplier_id, low_level, note, archived)
SELECT id, name, kind, form, unit, piece_word, costing, useful_remnant, kerf_nm, thickness_nm, width_nm,
  density_milli, supplier_id, low_level, note, archived FROM items;
DROP TABLE items;
ALTER TABLE items_new RENAME TO items;

-- Helpers beside the maker, who is the empty reference everywhere.
CREATE TABLE people (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE TABLE person_rates (
  person_id TEXT NOT NULL REFERENCES people (id),
  from_date TEXT NOT NULL,
  per_hour_micro INTEGER NOT NULL CHECK (per_hour_micro >= 0),
  PRIMARY KEY (person_id, from_date)
) STRICT;

CREATE TABLE makings (
  id TEXT PRIMARY KEY,
  -- Rises with every making; the number on its tag.
  number INTEGER NOT NULL UNIQUE,
  title TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('billet', 'scales', 'blanks', 'other')),
  state TEXT NOT NULL CHECK (state IN ('open', 'done', 'scrapped')),
  started_on TEXT NOT NULL,
  ended_on TEXT,
  -- How cost is shared over what came out; fixed for this making.
  share_key TEXT NOT NULL CHECK (share_key IN ('weight', 'equal', 'length', 'first')),
  -- Whether the labour rests on all that came out, or only on what knives have taken so far.
  labour_over TEXT NOT NULL CHECK (labour_over IN ('all', 'taken')),
  -- Layers of the first stack; null where nothing is layered.
  start_layers INTEGER CHECK (start_layers > 0),
  end_reason TEXT NOT NULL,
  note TEXT NOT NULL,
  CHECK ((state = 'open') = (ended_on IS NULL))
) STRICT;
CREATE INDEX makings_by_state ON makings (state, number);
CREATE TABLE making_steps (
  id TEXT PRIMARY KEY,
  making_id TEXT NOT NULL REFERENCES makings (id),
  position INTEGER NOT NULL,
  on_date TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('stack', 'weld', 'draw', 'clean', 'cut', 'twist', 'grind', 'crop', 'other')),
  label TEXT NOT NULL,
  -- Nanograms after this step; null where nobody weighed.
  weight_after_ng INTEGER CHECK (weight_after_ng > 0),
  -- Into how many pieces it was cut and restacked; 1 for none.
  pieces INTEGER NOT NULL CHECK (pieces >= 1),
  note TEXT NOT NULL,
  UNIQUE (making_id, position)
) STRICT;
CREATE TABLE making_outputs (
  making_id TEXT NOT NULL REFERENCES makings (id),
  position INTEGER NOT NULL,
  lot_id TEXT NOT NULL UNIQUE REFERENCES lots (id),
  -- The measure the cost was shared by: nanograms, nanometres or a count, by the making's key.
  share INTEGER NOT NULL CHECK (share >= 0),
  PRIMARY KEY (making_id, position)
) STRICT;

ALTER TABLE lots ADD COLUMN making_id TEXT REFERENCES makings (id);
-- Size of a sheet as it lies on the rack; null for everything that is not a sheet.
ALTER TABLE lots ADD COLUMN length_nm INTEGER CHECK (length_nm > 0);
ALTER TABLE lots ADD COLUMN width_nm INTEGER CHECK (width_nm > 0);
-- The lot this was cut off from.
ALTER TABLE lots ADD COLUMN parent_id TEXT REFERENCES lots (id);
ALTER TABLE lots ADD COLUMN species TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN listing TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN origin TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN paper_number TEXT NOT NULL DEFAULT '';
CREATE INDEX lots_by_making ON lots (making_id) WHERE making_id IS NOT NULL;
CREATE INDEX lots_by_parent ON lots (parent_id) WHERE parent_id IS NOT NULL;

-- A new one taken into use: a belt on the grinder, a sheet of paper, a stone.
CREATE TABLE openings (
  id TEXT PRIMARY KEY,
  item_id TEXT NOT NULL REFERENCES items (id),
  -- Null where stock falls by use and the opening only records how long it lasted.
  lot_id TEXT REFERENCES lots (id),
  supplier_id TEXT REFERENCES suppliers (id),
  opened_at TEXT NOT NULL,
  on_date TEXT NOT NULL,
  stage_code TEXT REFERENCES stages (code),
  qty INTEGER NOT NULL CHECK (qty > 0),
  state TEXT NOT NULL CHECK (state IN ('inUse', 'dull', 'gone', 'takenBack')),
  -- The day it went to the dull peg, or away; and which one it took the place of.
  blunt_on TEXT, ended_on TEXT,
  replaces_id TEXT REFERENCES openings (id),
  note TEXT NOT NULL
) STRICT;
CREATE INDEX openings_by_item ON openings (item_id, on_date);
CREATE INDEX openings_by_state ON openings (state, item_id);
CREATE TABLE opening_builds (
  opening_id TEXT NOT NULL REFERENCES openings (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  weight INTEGER NOT NULL CHECK (weight > 0),
  PRIMARY KEY (opening_id, build_id)
) STRICT;
CREATE INDEX opening_builds_by_build ON opening_builds (build_id);

-- Fuel burnt or current drawn for a batch or a making.
CREATE TABLE burns (
  id TEXT PRIMARY KEY,
  on_date TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('gasByWeight', 'gasByHours', 'current')),
  label TEXT NOT NULL,
  -- Gas: the item drawn. Current has no stock.
  item_id TEXT REFERENCES items (id),
  making_id TEXT REFERENCES makings (id),
  before_ng INTEGER,
  after_ng INTEGER,
  fire_minutes INTEGER,
  -- Nanograms an hour.
  burn_rate_ng INTEGER,
  -- Watt-hours, and what a kilowatt-hour cost that day.
  watt_hours INTEGER,
  per_kwh_micro INTEGER,
  qty_ng INTEGER,
  amount_micro INTEGER NOT NULL CHECK (amount_micro >= 0),
  note TEXT NOT NULL,
  taken_back INTEGER NOT NULL DEFAULT 0 CHECK (taken_back IN (0, 1))
) STRICT;
CREATE INDEX burns_by_date ON burns (on_date, id);
CREATE TABLE burn_builds (
  burn_id TEXT NOT NULL REFERENCES burns (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  weight INTEGER NOT NULL CHECK (weight > 0),
  PRIMARY KEY (burn_id, build_id)
) STRICT;
CREATE TABLE tariffs (
  from_date TEXT PRIMARY KEY,
  per_kwh_micro INTEGER NOT NULL CHECK (per_kwh_micro >= 0),
  note TEXT NOT NULL
) STRICT;
-- Ovens and forges with what they draw or burn by habit.
CREATE TABLE fires (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL CHECK (kind IN ('oven', 'forge')),
  watts INTEGER NOT NULL CHECK (watts >= 0),
  -- Share of the time the elements are on, parts per million.
  duty_ppm INTEGER NOT NULL CHECK (duty_ppm BETWEEN 0 AND 1000000),
  burn_rate_ng INTEGER NOT NULL CHECK (burn_rate_ng >= 0),
  gas_item_id TEXT REFERENCES items (id),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;

CREATE TABLE baths (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  item_id TEXT NOT NULL REFERENCES items (id),
  -- Limits set by the maker; null for none.
  life_quenches INTEGER CHECK (life_quenches > 0),
  life_days INTEGER CHECK (life_days > 0),
  -- Milli degrees Celsius, from the product's safety sheet.
  flash_milli_c INTEGER,
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
-- The bath's own ledger: what is in it, what it is worth, how often it quenched.
CREATE TABLE bath_events (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  bath_id TEXT NOT NULL REFERENCES baths (id),
  on_date TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('fill', 'topUp', 'quench', 'filter', 'water', 'change', 'reversal')),
  -- Nanolitres in (positive) or out (negative); quenches of this event; value in (positive) or out (negative).
  qty_nl INTEGER NOT NULL,
  quenches INTEGER NOT NULL,
  value_micro INTEGER NOT NULL,
  heat_id TEXT,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES bath_events (id)
) STRICT;
CREATE INDEX bath_events_by_bath ON bath_events (bath_id, seq);
CREATE TRIGGER bath_events_no_update BEFORE UPDATE ON bath_events BEGIN SELECT RAISE(ABORT, 'the bath ledger is immutable'); END;
CREATE TRIGGER bath_events_no_delete BEFORE DELETE ON bath_events BEGIN SELECT RAISE(ABORT, 'the bath ledger is immutable'); END;

CREATE TABLE movements_new (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  lot_id TEXT NOT NULL REFERENCES lots (id),
  on_date TEXT NOT NULL,
  -- made/intoMaking: out of and into a making. split: an offcut gets a lot of its own. evenOut: the moving average.
  -- opened: taken into use, not yet shared over knives. intoBath: oil poured into a quench tank.
  kind TEXT NOT NULL CHECK (kind IN ('receipt', 'draw', 'scrap', 'count', 'personal', 'sample', 'return', 'shortEnd', 'reversal',
    'made', 'intoMaking', 'split', 'evenOut', 'opened', 'intoBath')),
  qty INTEGER NOT NULL,
  value_micro INTEGER NOT NULL,
  use_as TEXT CHECK (use_as IN ('material', 'consumable', 'energy', 'packaging')),
  build_id TEXT REFERENCES builds (id),
  stage_code TEXT REFERENCES stages (code),
  part_label TEXT NOT NULL,
  net_qty INTEGER,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES movements_new (id),
  making_id TEXT REFERENCES makings (id),
  opening_id TEXT REFERENCES openings (id),
  burn_id TEXT REFERENCES burns (id),
  bath_event_id TEXT REFERENCES bath_events (id),
  -- Which step of the ladder the figure stands on; null for material.
  rung INTEGER CHECK (rung BETWEEN 1 AND 4),
  CHECK (kind <> 'draw' OR (build_id IS NOT NULL AND use_as IS NOT NULL)),
  CHECK (kind NOT IN ('made', 'intoMaking') OR making_id IS NOT NULL),
  CHECK (kind <> 'evenOut' OR qty = 0),
  CHECK (kind <> 'opened' OR opening_id IS NOT NULL)
) STRICT;
INSERT INTO movements_new (seq, id, lot_id, on_date, kind, qty, value_micro, use_as, build_id, stage_code, part_label,
  net_qty, reason, reverses_id)
SELECT seq, id, lot_id, on_date, kind, qty, value_micro, use_as, build_id, stage_code, part_label, net_qty, reason,
  reverses_id FROM movements;
DROP TABLE movements;
ALTER TABLE movements_new RENAME TO movements;
CREATE INDEX movements_by_lot ON movements (lot_id, seq);
CREATE INDEX movements_by_build ON movements (build_id, seq) WHERE build_id IS NOT NULL;
CREATE INDEX movements_by_date ON movements (on_date, seq);
CREATE INDEX movements_by_making ON movements (making_id, seq) WHERE making_id IS NOT NULL;
CREATE INDEX movements_by_opening ON movements (opening_id, seq) WHERE opening_id IS NOT NULL;
CREATE INDEX movements_by_burn ON movements (burn_id, seq) WHERE burn_id IS NOT NULL;
CREATE TRIGGER movements_no_update BEFORE UPDATE ON movements BEGIN SELECT RAISE(ABORT, 'movements are immutable'); END;
CREATE TRIGGER movements_no_delete BEFORE DELETE ON movements BEGIN SELECT RAISE(ABORT, 'movements are immutable'); END;

ALTER TABLE charges ADD COLUMN burn_id TEXT REFERENCES burns (id);
ALTER TABLE charges ADD COLUMN bath_event_id TEXT REFERENCES bath_events (id);
ALTER TABLE charges ADD COLUMN item_count_id TEXT;
-- The consumable it stands for, where one is known.
ALTER TABLE charges ADD COLUMN item_id TEXT REFERENCES items (id);
ALTER TABLE charges ADD COLUMN how TEXT NOT NULL DEFAULT '';
CREATE INDEX charges_by_burn ON charges (burn_id) WHERE burn_id IS NOT NULL;

-- Costs of a making that have no stock behind them: a cutting bill, current, flux by the pinch.
CREATE TABLE making_charges (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  making_id TEXT NOT NULL REFERENCES makings (id),
  on_date TEXT NOT NULL,
  label TEXT NOT NULL,
  amount_micro INTEGER NOT NULL,
  burn_id TEXT REFERENCES burns (id),
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES making_charges (id)
) STRICT;
CREATE INDEX making_charges_by_making ON making_charges (making_id, seq);
CREATE TRIGGER making_charges_no_update BEFORE UPDATE ON making_charges BEGIN SELECT RAISE(ABORT, 'charges are immutable'); END;
CREATE TRIGGER making_charges_no_delete BEFORE DELETE ON making_charges BEGIN SELECT RAISE(ABORT, 'charges are immutable'); END;

-- A count of one consumable, and what became of the difference.
CREATE TABLE item_counts (
  id TEXT PRIMARY KEY,
  item_id TEXT NOT NULL REFERENCES items (id),
  on_date TEXT NOT NULL,
  counted_qty INTEGER NOT NULL CHECK (counted_qty >= 0),
  -- Found less than the books say: negative.
  difference_qty INTEGER NOT NULL,
  difference_micro INTEGER NOT NULL,
  settled TEXT NOT NULL CHECK (settled IN ('overhead', 'builds')),
  from_date TEXT NOT NULL,
  reason TEXT NOT NULL
) STRICT;
CREATE INDEX item_counts_by_item ON item_counts (item_id, on_date);

-- Which rung a usual consumable stands on: its usual amount, its openings, or the measured average.
ALTER TABLE model_parts ADD COLUMN rung INTEGER NOT NULL DEFAULT 2 CHECK (rung BETWEEN 2 AND 4);

ALTER TABLE sessions ADD COLUMN person_id TEXT REFERENCES people (id);
ALTER TABLE sessions ADD COLUMN making_id TEXT REFERENCES makings (id);
-- Of the minutes, those spent setting up once for the whole batch.
ALTER TABLE sessions ADD COLUMN setup_minutes INTEGER NOT NULL DEFAULT 0 CHECK (setup_minutes >= 0 AND setup_minutes <= minutes);
CREATE INDEX sessions_by_making ON sessions (making_id) WHERE making_id IS NOT NULL;
DROP TRIGGER sessions_no_update;
CREATE TRIGGER sessions_no_update BEFORE UPDATE ON sessions
WHEN NOT (OLD.current = 1 AND NEW.current = 0 AND OLD.id = NEW.id AND OLD.root_id = NEW.root_id AND OLD.version = NEW.version
  AND OLD.cancelled = NEW.cancelled AND OLD.on_date = NEW.on_date AND OLD.minutes = NEW.minutes
  AND OLD.stage_code IS NEW.stage_code AND OLD.work_kind IS NEW.work_kind AND OLD.source = NEW.source
  AND OLD.started_at IS NEW.started_at AND OLD.ended_at IS NEW.ended_at AND OLD.note = NEW.note
  AND OLD.reason = NEW.reason AND OLD.recorded_at = NEW.recorded_at AND OLD.person_id IS NEW.person_id
  AND OLD.making_id IS NEW.making_id AND OLD.setup_minutes = NEW.setup_minutes)
BEGIN SELECT RAISE(ABORT, 'sessions are corrected by a new version'); END;

-- One running clock for each person; the maker is the empty text.
CREATE TABLE running_clocks (
  who TEXT PRIMARY KEY,
  started_at TEXT NOT NULL,
  stage_code TEXT REFERENCES stages (code),
  work_kind TEXT,
  -- JSON array of { id, weight }: the clock is a draft, its shares are booked when it stops.
  shares TEXT NOT NULL,
  making_id TEXT REFERENCES makings (id),
  -- The instant the set-up ended; null where none was told apart.
  setup_until TEXT,
  note TEXT NOT NULL,
  CHECK ((stage_code IS NULL) <> (work_kind IS NULL))
) STRICT;
INSERT INTO running_clocks (who, started_at, stage_code, work_kind, shares, note)
SELECT '', started_at, stage_code, work_kind,
  (SELECT json_group_array(json_object('id', each.value, 'weight', 1)) FROM json_each(running_clock.build_ids) AS each), note
FROM running_clock;
DROP TABLE running_clock;

-- Time nobody stands there for. It moves dates, never labour cost.
CREATE TABLE waits (
  id TEXT PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('kiln', 'temper', 'anneal', 'cold', 'glue', 'etch', 'oilCoat', 'leather', 'pickle', 'other')),
  label TEXT NOT NULL,
  stage_code TEXT REFERENCES stages (code),
  making_id TEXT REFERENCES makings (id),
  heat_id TEXT,
  started_at TEXT NOT NULL,
  ends_at TEXT NOT NULL,
  -- The instant somebody saw to it; null while it runs or waits to be seen to.
  done_at TEXT,
  dropped_at TEXT,
  note TEXT NOT NULL
) STRICT;
CREATE INDEX waits_open ON waits (ends_at) WHERE done_at IS NULL AND dropped_at IS NULL;
CREATE TABLE wait_builds (
  wait_id TEXT NOT NULL REFERENCES waits (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  PRIMARY KEY (wait_id, build_id)
) STRICT;
CREATE INDEX wait_builds_by_build ON wait_builds (build_id);

-- What a gate asks for: by model and steel, by either, or for all. Numbers in the base unit of the measure.
CREATE TABLE gate_targets (
  id TEXT PRIMARY KEY,
  measure TEXT NOT NULL,
  model_id TEXT REFERENCES models (id),
  steel_item_id TEXT REFERENCES items (id),
  target INTEGER,
  low INTEGER,
  high INTEGER,
  note TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX gate_targets_once ON gate_targets (measure, coalesce(model_id, ''), coalesce(steel_item_id, ''));
CREATE TABLE checks (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  build_id TEXT NOT NULL REFERENCES builds (id),
  on_date TEXT NOT NULL,
  measure TEXT NOT NULL,
  verdict TEXT NOT NULL CHECK (verdict IN ('pass', 'rework', 'fail')),
  -- Hardness only: the scale the readings were taken on, in thousandths of it.
  scale TEXT CHECK (scale IN ('HRC', 'HV', 'HBW')),
  -- What was asked for on that day.
  target INTEGER,
  low INTEGER,
  high INTEGER,
  stage_code TEXT REFERENCES stages (code),
  heat_id TEXT,
  note TEXT NOT NULL,
  recorded_at TEXT NOT NULL,
  -- Written down wrongly: it stays, with the reason, and counts no more.
  voided_reason TEXT
) STRICT;
CREATE INDEX checks_by_build ON checks (build_id, seq);
CREATE INDEX checks_by_measure ON checks (measure, on_date);
CREATE TRIGGER checks_no_update BEFORE UPDATE ON checks
WHEN NOT (OLD.voided_reason IS NULL AND NEW.voided_reason IS NOT NULL AND OLD.id = NEW.id AND OLD.build_id = NEW.build_id
  AND OLD.on_date = NEW.on_date AND OLD.measure = NEW.measure AND OLD.verdict = NEW.verdict AND OLD.target IS NEW.target
  AND OLD.low IS NEW.low AND OLD.high IS NEW.high AND OLD.scale IS NEW.scale AND OLD.note = NEW.note AND OLD.recorded_at = NEW.recorded_at)
BEGIN SELECT RAISE(ABORT, 'a check is voided and made again, not changed'); END;
CREATE TRIGGER checks_no_delete BEFORE DELETE ON checks BEGIN SELECT RAISE(ABORT, 'a check is voided and made again, not changed'); END;
CREATE TABLE check_readings (
  check_id TEXT NOT NULL REFERENCES checks (id),
  position INTEGER NOT NULL,
  -- heel, middle, tip; empty where the place does not matter.
  place TEXT NOT NULL,
  value INTEGER NOT NULL,
  PRIMARY KEY (check_id, position)
) STRICT;
CREATE TRIGGER check_readings_no_update BEFORE UPDATE ON check_readings BEGIN SELECT RAISE(ABORT, 'a check is voided and made again, not changed'); END;
CREATE TRIGGER check_readings_no_delete BEFORE DELETE ON check_readings BEGIN SELECT RAISE(ABORT, 'a check is voided and made again, not changed'); END;

CREATE TABLE recipes (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  steel_item_id TEXT REFERENCES items (id),
  -- A bar that behaves in a way of its own.
  lot_id TEXT REFERENCES lots (id),
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE TABLE recipe_steps (
  recipe_id TEXT NOT NULL REFERENCES recipes (id),
  position INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('normalise', 'anneal', 'preheat', 'soak', 'quench', 'cold', 'temper', 'stressRelief')),
  -- Milli degrees Celsius; the bath's temperature for a quench.
  temp_milli_c INTEGER,
  minutes INTEGER NOT NULL CHECK (minutes >= 0),
  note TEXT NOT NULL,
  PRIMARY KEY (recipe_id, position)
) STRICT;
CREATE TABLE heats (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  on_date TEXT NOT NULL,
  batch TEXT NOT NULL,
  recipe_id TEXT REFERENCES recipes (id),
  fire_id TEXT REFERENCES fires (id),
  bath_id TEXT REFERENCES baths (id),
  note TEXT NOT NULL
) STRICT;
CREATE INDEX heats_by_date ON heats (on_date, number);
CREATE TABLE heat_steps (
  heat_id TEXT NOT NULL REFERENCES heats (id),
  position INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('normalise', 'anneal', 'preheat', 'soak', 'quench', 'cold', 'temper', 'stressRelief')),
  temp_milli_c INTEGER,
  minutes INTEGER NOT NULL CHECK (minutes >= 0),
  note TEXT NOT NULL,
  PRIMARY KEY (heat_id, position)
) STRICT;
CREATE TABLE heat_builds (
  heat_id TEXT NOT NULL REFERENCES heats (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  PRIMARY KEY (heat_id, build_id)
) STRICT;
CREATE INDEX heat_builds_by_build ON heat_builds (build_id);

-- What was ordered from a supplier and has not come yet.
CREATE TABLE supply_orders (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  supplier_id TEXT NOT NULL REFERENCES suppliers (id),
  on_date TEXT NOT NULL,
  due_on TEXT,
  state TEXT NOT NULL CHECK (state IN ('open', 'received', 'dropped')),
  purchase_id TEXT REFERENCES purchases (id),
  note TEXT NOT NULL
) STRICT;
CREATE INDEX supply_orders_by_state ON supply_orders (state, number);
CREATE TABLE supply_order_lines (
  id TEXT PRIMARY KEY,
  order_id TEXT NOT NULL REFERENCES supply_orders (id),
  position INTEGER NOT NULL,
  item_id TEXT NOT NULL REFERENCES items (id),
  pieces INTEGER NOT NULL CHECK (pieces > 0),
  qty_each INTEGER NOT NULL CHECK (qty_each > 0),
  price_micro INTEGER NOT NULL CHECK (price_micro >= 0),
  UNIQUE (order_id, position)
) STRICT;
CREATE INDEX supply_order_lines_by_item ON supply_order_lines (item_id);

CREATE TABLE attachments_new (
  id TEXT PRIMARY KEY,
  owner_kind TEXT NOT NULL CHECK (owner_kind IN ('build', 'lot', 'purchase', 'item', 'check', 'making', 'heat')),
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
