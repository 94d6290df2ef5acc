/** Trials of two ways, practice by family, and what was decided about a doubtful knife. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 40,
  name: 'answers',
  sql: `
-- The maker's own word on how much longer the n-th knife of a family takes than usual.
CREATE TABLE practice (
  family TEXT NOT NULL,
  n INTEGER NOT NULL CHECK (n > 0),
  factor_ppm INTEGER NOT NULL CHECK (factor_ppm BETWEEN 100000 AND 10000000),
  PRIMARY KEY (family, n)
) STRICT;

-- Two ways of doing one stage, over the knives of one model.
CREATE TABLE trials (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  title TEXT NOT NULL,
  model_id TEXT NOT NULL REFERENCES models (id),
  stage_code TEXT NOT NULL REFERENCES stages (code),
  from_on TEXT,
  until_on TEXT,
  -- For drawing anew: the same seed gives the same interval.
  seed INTEGER NOT NULL,
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE TABLE trial_ways (
  trial_id TEXT NOT NULL REFERENCES trials (id),
  position INTEGER NOT NULL CHECK (position IN (1, 2)),
  name TEXT NOT NULL,
  -- Knives with this way of working belong here.
  method TEXT NOT NULL,
  PRIMARY KEY (trial_id, position)
) STRICT;
-- Knives put on the other side or left out by hand; 0 is left out.
CREATE TABLE trial_exceptions (
  trial_id TEXT NOT NULL REFERENCES trials (id),
  build_id TEXT NOT NULL REFERENCES builds (id),
  position INTEGER NOT NULL CHECK (position IN (0, 1, 2)),
  reason TEXT NOT NULL,
  PRIMARY KEY (trial_id, build_id)
) STRICT;

-- What was decided at a doubtful knife, with every way as it was reckoned then.
CREATE TABLE decisions (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  build_id TEXT NOT NULL REFERENCES builds (id),
  on_date TEXT NOT NULL,
  chosen TEXT NOT NULL CHECK (chosen IN ('asPlanned', 'rework', 'shorten', 'second', 'scrap')),
  reason TEXT NOT NULL,
  -- JSON of the ways: hours, material, chance, price, what is left.
  ways TEXT NOT NULL
) STRICT;
CREATE INDEX decisions_by_build ON decisions (build_id, seq);
CREATE TRIGGER decisions_no_update BEFORE UPDATE ON decisions BEGIN SELECT RAISE(ABORT, 'a decision is not rewritten'); END;
CREATE TRIGGER decisions_no_delete BEFORE DELETE ON decisions BEGIN SELECT RAISE(ABORT, 'a decision is not rewritten'); END;

-- How many bench hours a week are reckoned with; no row: the last ten weeks speak.
CREATE TABLE promise_settings (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  week_minutes INTEGER CHECK (week_minutes > 0)
) STRICT;
-- Days away from the bench, both ends counted.
CREATE TABLE closed_days (
  id TEXT PRIMARY KEY,
  from_on TEXT NOT NULL,
  until_on TEXT NOT NULL,
  note TEXT NOT NULL,
  CHECK (until_on >= from_on)
) STRICT;
-- Days named for an order when it was promised, to hold against the day it was done.
CREATE TABLE promise_notes (
  id TEXT PRIMARY KEY,
  order_id TEXT NOT NULL REFERENCES orders (id),
  on_date TEXT NOT NULL,
  half_on TEXT NOT NULL,
  likely_on TEXT NOT NULL
) STRICT;
CREATE INDEX promise_notes_by_order ON promise_notes (order_id, on_date);
`,
} as const;
