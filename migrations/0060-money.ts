/** Expenses, mileage, assets and other income. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 60,
  name: 'money',
  sql: `
-- What money was spent on. The kind says where a year's report counts it.
CREATE TABLE expense_categories (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('overhead', 'postage', 'platformFee', 'taxPaid', 'supplies')),
  position INTEGER NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
-- The line of the tax form a category goes to, from a tax year on until the next row; an empty line is none.
CREATE TABLE category_lines (
  category_id TEXT NOT NULL REFERENCES expense_categories (id),
  from_year INTEGER NOT NULL CHECK (from_year BETWEEN 1900 AND 9999),
  line TEXT NOT NULL,
  PRIMARY KEY (category_id, from_year)
) STRICT;

-- Costs that come again every so many months; each is booked only when a person confirms it.
CREATE TABLE expense_repeats (
  id TEXT PRIMARY KEY,
  category_id TEXT NOT NULL REFERENCES expense_categories (id),
  payee TEXT NOT NULL,
  amount_minor INTEGER NOT NULL CHECK (amount_minor > 0),
  tax_minor INTEGER NOT NULL CHECK (tax_minor BETWEEN 0 AND amount_minor),
  share_ppm INTEGER NOT NULL CHECK (share_ppm BETWEEN 1 AND 1000000),
  every_months INTEGER NOT NULL CHECK (every_months BETWEEN 1 AND 60),
  from_on TEXT NOT NULL,
  -- The last day one may fall on.
  until_on TEXT,
  note TEXT NOT NULL,
  CHECK (until_on IS NULL OR until_on >= from_on)
) STRICT;
-- A day of a repeat that was passed over.
CREATE TABLE expense_passed (
  repeat_id TEXT NOT NULL REFERENCES expense_repeats (id),
  on_date TEXT NOT NULL,
  PRIMARY KEY (repeat_id, on_date)
) STRICT;

CREATE TABLE expenses (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  category_id TEXT NOT NULL REFERENCES expense_categories (id),
  -- The day the cost belongs to, which the earned view counts by.
  cost_on TEXT NOT NULL,
  -- The day it was paid, which the cash view counts by; null while it is owed.
  paid_on TEXT,
  payee TEXT NOT NULL,
  -- The whole sum of the receipt; below zero in a row that takes one back.
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  -- Sales tax within it that is kept apart, as it comes back from the tax office.
  tax_minor INTEGER NOT NULL,
  -- Share of it that is the workshop's.
  share_ppm INTEGER NOT NULL CHECK (share_ppm BETWEEN 1 AND 1000000),
  -- What it costs the workshop: its share of the amount without the tax kept apart.
  cost_minor INTEGER NOT NULL,
  -- 1 when a receipt on paper is kept; files hang on the row by attachments.
  receipt INTEGER NOT NULL CHECK (receipt IN (0, 1)),
  note TEXT NOT NULL,
  repeat_id TEXT REFERENCES expense_repeats (id),
  repeat_on TEXT,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES expenses (id),
  CHECK ((amount_minor > 0) = (reverses_id IS NULL)),
  CHECK (abs(tax_minor) <= abs(amount_minor) AND abs(cost_minor) <= abs(amount_minor)),
  CHECK ((repeat_id IS NULL) = (repeat_on IS NULL))
) STRICT;
CREATE INDEX expenses_by_day ON expenses (cost_on, seq);
CREATE INDEX expenses_by_paid ON expenses (paid_on, seq);
CREATE INDEX expenses_by_category ON expenses (category_id, cost_on);
CREATE INDEX expenses_by_repeat ON expenses (repeat_id, repeat_on);
-- Only two things may be added later: the day it was paid, and that a receipt was found.
CREATE TRIGGER expenses_no_update BEFORE UPDATE ON expenses WHEN
  NEW.seq IS NOT OLD.seq OR NEW.id IS NOT OLD.id OR NEW.category_id IS NOT OLD.category_id
  OR NEW.cost_on IS NOT OLD.cost_on OR NEW.payee IS NOT OLD.payee OR NEW.amount_minor IS NOT OLD.amount_minor
  OR NEW.tax_minor IS NOT OLD.tax_minor OR NEW.share_ppm IS NOT OLD.share_ppm OR NEW.cost_minor IS NOT OLD.cost_minor
  OR NEW.note IS NOT OLD.note OR NEW.repeat_id IS NOT OLD.repeat_id OR NEW.repeat_on IS NOT OLD.repeat_on
  OR NEW.reason IS NOT OLD.reason OR NEW.reverses_id IS NOT OLD.reverses_id
  OR (OLD.paid_on IS NOT NULL AND NEW.paid_on IS NOT OLD.paid_on)
BEGIN SELECT RAISE(ABORT, 'expenses are immutable'); END;
CREATE TRIGGER expenses_no_delete BEFORE DELETE ON expenses BEGIN SELECT RAISE(ABORT, 'expenses are immutable'); END;

-- What a mile or a kilometre costs, from a day on.
CREATE TABLE mileage_rates (
  from_on TEXT PRIMARY KEY,
  unit TEXT NOT NULL CHECK (unit IN ('mi', 'km')),
  per_unit_micro INTEGER NOT NULL CHECK (per_unit_micro >= 0),
  note TEXT NOT NULL
) STRICT;
CREATE TABLE mileage (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  on_date TEXT NOT NULL,
  -- Thousandths of the unit; below zero in a row that takes one back.
  distance_milli INTEGER NOT NULL CHECK (distance_milli <> 0),
  unit TEXT NOT NULL CHECK (unit IN ('mi', 'km')),
  purpose TEXT NOT NULL,
  -- Distance times the rate in force; restated when that rate is changed.
  amount_minor INTEGER NOT NULL,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES mileage (id),
  CHECK ((distance_milli > 0) = (reverses_id IS NULL))
) STRICT;
CREATE INDEX mileage_by_day ON mileage (on_date, seq);
CREATE TRIGGER mileage_no_update BEFORE UPDATE ON mileage WHEN
  NEW.seq IS NOT OLD.seq OR NEW.id IS NOT OLD.id OR NEW.on_date IS NOT OLD.on_date
  OR NEW.distance_milli IS NOT OLD.distance_milli OR NEW.unit IS NOT OLD.unit OR NEW.purpose IS NOT OLD.purpose
  OR NEW.reason IS NOT OLD.reason OR NEW.reverses_id IS NOT OLD.reverses_id
BEGIN SELECT RAISE(ABORT, 'trips are immutable'); END;
CREATE TRIGGER mileage_no_delete BEFORE DELETE ON mileage BEGIN SELECT RAISE(ABORT, 'trips are immutable'); END;

-- Things that last for years. Depreciation is reckoned from these, never stored.
CREATE TABLE assets (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  name TEXT NOT NULL,
  supplier TEXT NOT NULL,
  bought_on TEXT NOT NULL,
  in_service_on TEXT NOT NULL,
  -- As invoiced, with its share of the delivery.
  cost_minor INTEGER NOT NULL CHECK (cost_minor > 0),
  share_ppm INTEGER NOT NULL CHECK (share_ppm BETWEEN 1 AND 1000000),
  -- What it is thought to be worth at the end; straight line only.
  residual_minor INTEGER NOT NULL CHECK (residual_minor BETWEEN 0 AND cost_minor),
  method TEXT NOT NULL CHECK (method IN ('months', 'table', 'atOnce')),
  life_months INTEGER CHECK (life_months BETWEEN 1 AND 1200),
  class_years INTEGER CHECK (class_years IN (3, 5, 7)),
  convention TEXT CHECK (convention IN ('halfYear', 'q1', 'q2', 'q3', 'q4', 'straight')),
  note TEXT NOT NULL,
  disposed_on TEXT,
  disposed_how TEXT CHECK (disposed_how IN ('sold', 'scrapped', 'given', 'lost')),
  proceeds_minor INTEGER NOT NULL DEFAULT 0 CHECK (proceeds_minor >= 0),
  disposal_note TEXT NOT NULL DEFAULT '',
  CHECK (in_service_on >= bought_on),
  CHECK (disposed_on IS NULL OR disposed_on >= in_service_on),
  CHECK ((disposed_on IS NULL) = (disposed_how IS NULL)),
  CHECK ((method = 'months') = (life_months IS NOT NULL)),
  CHECK ((method = 'table') = (class_years IS NOT NULL)),
  CHECK ((class_years IS NULL) = (convention IS NULL))
) STRICT;

-- Income that is on no invoice.
CREATE TABLE incomes (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL CHECK (kind IN ('supporters', 'content', 'other')),
  -- The day it was earned; the last of its month for supporters.
  earned_on TEXT NOT NULL,
  -- The day the money came; null while it is awaited.
  received_on TEXT,
  payer TEXT NOT NULL,
  -- Before the platform's fee; below zero in a row that takes one back.
  gross_minor INTEGER NOT NULL CHECK (gross_minor <> 0),
  -- What the platform kept: a cost of its own, not a lower income.
  fee_minor INTEGER NOT NULL,
  note TEXT NOT NULL,
  -- First day of the month supporters paid for.
  month TEXT,
  -- JSON: heads and price of each level on the month's last day.
  heads TEXT,
  reason TEXT NOT NULL,
  reverses_id TEXT UNIQUE REFERENCES incomes (id),
  CHECK ((gross_minor > 0) = (reverses_id IS NULL)),
  CHECK (abs(fee_minor) <= abs(gross_minor)),
  CHECK ((kind = 'supporters') = (month IS NOT NULL))
) STRICT;
CREATE INDEX incomes_by_day ON incomes (earned_on, seq);
CREATE INDEX incomes_by_received ON incomes (received_on, seq);
CREATE INDEX incomes_by_month ON incomes (month);
CREATE TRIGGER incomes_no_update BEFORE UPDATE ON incomes WHEN
  NEW.seq IS NOT OLD.seq OR NEW.id IS NOT OLD.id OR NEW.kind IS NOT OLD.kind OR NEW.earned_on IS NOT OLD.earned_on
  OR NEW.payer IS NOT OLD.payer OR NEW.gross_minor IS NOT OLD.gross_minor OR NEW.fee_minor IS NOT OLD.fee_minor
  OR NEW.note IS NOT OLD.note OR NEW.month IS NOT OLD.month OR NEW.heads IS NOT OLD.heads
  OR NEW.reason IS NOT OLD.reason OR NEW.reverses_id IS NOT OLD.reverses_id
  OR (OLD.received_on IS NOT NULL AND NEW.received_on IS NOT OLD.received_on)
BEGIN SELECT RAISE(ABORT, 'income is immutable'); END;
CREATE TRIGGER incomes_no_delete BEFORE DELETE ON incomes BEGIN SELECT RAISE(ABORT, 'income is immutable'); END;

-- What a maker settled once; no row: the usual.
CREATE TABLE money_settings (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  -- What the supporters' platform keeps.
  platform_ppm INTEGER NOT NULL CHECK (platform_ppm BETWEEN 0 AND 1000000),
  -- Up to this much for each thing as invoiced a tool may be an expense; null asks nothing.
  small_tool_minor INTEGER CHECK (small_tool_minor > 0)
) STRICT;

INSERT INTO expense_categories (id, name, kind, position) VALUES
  ('cat-insurance', 'Insurance', 'overhead', 1),
  ('cat-website', 'Website and domain', 'overhead', 2),
  ('cat-power', 'Base power of the shop', 'overhead', 3),
  ('cat-preparer', 'Tax preparer and legal', 'overhead', 4),
  ('cat-tools', 'Small tools and repairs', 'overhead', 5),
  ('cat-safety', 'Safety', 'overhead', 6),
  ('cat-freight', 'Freight-in', 'overhead', 7),
  ('cat-photo', 'Photo and content props', 'overhead', 8),
  ('cat-supplies', 'Shop supplies', 'supplies', 9),
  ('cat-advertising', 'Advertising and shows', 'overhead', 10),
  ('cat-office', 'Office, phone and software', 'overhead', 11),
  ('cat-rent', 'Rent', 'overhead', 12),
  ('cat-travel', 'Travel', 'overhead', 13),
  ('cat-learning', 'Courses, books and dues', 'overhead', 14),
  ('cat-bank', 'Bank charges', 'overhead', 15),
  ('cat-outside', 'Outside work', 'overhead', 16),
  ('cat-licences', 'Taxes and licences', 'overhead', 17),
  ('cat-postage', 'Postage not on a sale', 'postage', 18),
  ('cat-platform', 'Platform fees', 'platformFee', 19),
  ('cat-tax-paid', 'Sales tax paid over', 'taxPaid', 20),
  ('cat-other', 'Other', 'overhead', 21);
-- Lines of Schedule C (Form 1040) as the form of tax year 2024 has them; a preparer may put each elsewhere.
INSERT INTO category_lines (category_id, from_year, line) VALUES
  ('cat-insurance', 2024, '15'),
  ('cat-website', 2024, '8'),
  ('cat-power', 2024, '25'),
  ('cat-preparer', 2024, '17'),
  ('cat-tools', 2024, '22'),
  ('cat-safety', 2024, '22'),
  ('cat-freight', 2024, '27b'),
  ('cat-photo', 2024, '8'),
  ('cat-supplies', 2024, '22'),
  ('cat-advertising', 2024, '8'),
  ('cat-office', 2024, '18'),
  ('cat-rent', 2024, '20b'),
  ('cat-travel', 2024, '24a'),
  ('cat-learning', 2024, '27b'),
  ('cat-bank', 2024, '27b'),
  ('cat-outside', 2024, '11'),
  ('cat-licences', 2024, '23'),
  ('cat-postage', 2024, '27b'),
  ('cat-platform', 2024, '10'),
  ('cat-tax-paid', 2024, ''),
  ('cat-other', 2024, '27b');

-- Receipts hang on expenses, papers on assets and on income; stocktakes and years may hold papers too.
CREATE TABLE attachments_new (
  id TEXT PRIMARY KEY,
  owner_kind TEXT NOT NULL CHECK (owner_kind IN ('build', 'lot', 'purchase', 'item', 'check', 'making', 'heat', 'order', 'service', 'shipment', 'expense', 'asset', 'income', 'stocktake', 'year')),
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
