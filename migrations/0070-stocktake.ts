/** Stocktakes: what lay there on a day, counted place by place, and kept. Frozen: never edited, add another migration instead. */
export const migration = {
  number: 70,
  name: 'stocktake',
  sql: `
CREATE TABLE stocktakes (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  -- Everything is counted as it lay at the end of this day.
  on_date TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('open', 'finished', 'dropped')),
  -- JSON array of the places counted; empty for the whole workshop.
  places TEXT NOT NULL,
  note TEXT NOT NULL,
  started_at TEXT NOT NULL,
  ended_at TEXT,
  -- What it came to, kept when it is finished. Value before the differences and after them, in millionths.
  booked_micro INTEGER,
  materials_micro INTEGER,
  supplies_micro INTEGER,
  opened_micro INTEGER,
  in_work_micro INTEGER,
  finished_micro INTEGER,
  CHECK ((state = 'open') = (ended_at IS NULL)),
  CHECK ((state = 'finished') = (booked_micro IS NOT NULL))
) STRICT;
CREATE INDEX stocktakes_by_day ON stocktakes (on_date, number);
-- One line of the count sheet: a lot, or all lots of an item that lie together at one place.
CREATE TABLE stocktake_lines (
  id TEXT PRIMARY KEY,
  stocktake_id TEXT NOT NULL REFERENCES stocktakes (id),
  -- Printed on the sheet, from one on.
  number INTEGER NOT NULL,
  place TEXT NOT NULL,
  item_id TEXT NOT NULL REFERENCES items (id),
  -- Why it differs; empty where it does not.
  reason TEXT NOT NULL DEFAULT '' CHECK (reason IN ('', 'lost', 'damaged', 'unbooked', 'miscounted', 'found', 'other')),
  reason_note TEXT NOT NULL DEFAULT '',
  -- Kept when the stocktake is finished; counted is null where the books were taken over uncounted.
  booked_qty INTEGER,
  booked_micro INTEGER,
  counted_qty INTEGER CHECK (counted_qty >= 0),
  difference_qty INTEGER,
  difference_micro INTEGER,
  UNIQUE (stocktake_id, number)
) STRICT;
CREATE TABLE stocktake_line_lots (
  line_id TEXT NOT NULL REFERENCES stocktake_lines (id),
  lot_id TEXT NOT NULL REFERENCES lots (id),
  PRIMARY KEY (line_id, lot_id)
) STRICT;
CREATE INDEX stocktake_line_lots_by_lot ON stocktake_line_lots (lot_id);
-- What one person counted of a line; the maker is the empty text, as everywhere.
CREATE TABLE stocktake_counts (
  line_id TEXT NOT NULL REFERENCES stocktake_lines (id),
  who TEXT NOT NULL,
  -- As it lay at the end of the day, opened ones included with what is left of them.
  qty INTEGER NOT NULL CHECK (qty >= 0),
  -- What the books said of that day when it was counted, to see whether they moved since.
  booked_qty INTEGER NOT NULL,
  counted_at TEXT NOT NULL,
  PRIMARY KEY (line_id, who)
) STRICT;
-- Opened ones in use on the day: the share of their life left, as the maker judges it.
CREATE TABLE stocktake_openings (
  stocktake_id TEXT NOT NULL REFERENCES stocktakes (id),
  opening_id TEXT NOT NULL REFERENCES openings (id),
  left_ppm INTEGER NOT NULL CHECK (left_ppm BETWEEN 0 AND 1000000),
  PRIMARY KEY (stocktake_id, opening_id)
) STRICT;
-- Where a finished knife is. Started ones stand here too when the stocktake is finished, with what they hold.
CREATE TABLE stocktake_knives (
  stocktake_id TEXT NOT NULL REFERENCES stocktakes (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  whereabouts TEXT NOT NULL CHECK (whereabouts IN ('here', 'consignment', 'away', 'notSeen')),
  with_whom TEXT NOT NULL,
  -- Kept when the stocktake is finished.
  state TEXT CHECK (state IN ('inWork', 'finished')),
  held_for TEXT NOT NULL DEFAULT '',
  value_micro INTEGER,
  PRIMARY KEY (stocktake_id, build_id)
) STRICT;
-- What else holds value on the day: opened and not yet with a knife, oil in a tank, a making under way.
CREATE TABLE stocktake_others (
  stocktake_id TEXT NOT NULL REFERENCES stocktakes (id),
  position INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('opened', 'bath', 'making')),
  label TEXT NOT NULL,
  value_micro INTEGER NOT NULL,
  PRIMARY KEY (stocktake_id, position)
) STRICT;
CREATE TABLE stocktake_movements (
  movement_id TEXT PRIMARY KEY REFERENCES movements (id),
  line_id TEXT NOT NULL REFERENCES stocktake_lines (id)
) STRICT;
CREATE INDEX stocktake_movements_by_line ON stocktake_movements (line_id);

-- A stocktake that ended is never rewritten.
CREATE TRIGGER stocktakes_no_update BEFORE UPDATE ON stocktakes WHEN OLD.state <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktakes_no_delete BEFORE DELETE ON stocktakes
BEGIN SELECT RAISE(ABORT, 'a stocktake is not deleted'); END;
CREATE TRIGGER stocktake_lines_no_update BEFORE UPDATE ON stocktake_lines
WHEN (SELECT state FROM stocktakes WHERE id = OLD.stocktake_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_lines_no_insert BEFORE INSERT ON stocktake_lines
WHEN (SELECT state FROM stocktakes WHERE id = NEW.stocktake_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_lines_no_delete BEFORE DELETE ON stocktake_lines
BEGIN SELECT RAISE(ABORT, 'a stocktake is not deleted'); END;
CREATE TRIGGER stocktake_knives_no_update BEFORE UPDATE ON stocktake_knives
WHEN (SELECT state FROM stocktakes WHERE id = OLD.stocktake_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_knives_no_delete BEFORE DELETE ON stocktake_knives
WHEN (SELECT state FROM stocktakes WHERE id = OLD.stocktake_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_others_no_update BEFORE UPDATE ON stocktake_others
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_others_no_delete BEFORE DELETE ON stocktake_others
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_counts_no_update BEFORE UPDATE ON stocktake_counts
WHEN (SELECT s.state FROM stocktakes s JOIN stocktake_lines l ON l.stocktake_id = s.id WHERE l.id = OLD.line_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_counts_no_delete BEFORE DELETE ON stocktake_counts
WHEN (SELECT s.state FROM stocktakes s JOIN stocktake_lines l ON l.stocktake_id = s.id WHERE l.id = OLD.line_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
CREATE TRIGGER stocktake_openings_no_update BEFORE UPDATE ON stocktake_openings
WHEN (SELECT state FROM stocktakes WHERE id = OLD.stocktake_id) <> 'open'
BEGIN SELECT RAISE(ABORT, 'a stocktake that ended is not rewritten'); END;
`,
} as const;
