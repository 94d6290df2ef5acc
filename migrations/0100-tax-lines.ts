/** Lines of the sheet for the preparer, what goes on which, and supplies expensed when bought. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 100,
  name: 'tax lines',
  sql: `
-- Supplies of which no count is kept: an expense on the day they are bought, never stock.
ALTER TABLE items ADD COLUMN incidental INTEGER NOT NULL DEFAULT 0 CHECK (incidental IN (0, 1));

-- Lists of lines the maker wrote down for another country or year; the ones that come with the house are not rows.
CREATE TABLE tax_forms (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  -- Whose form, which year it was read for: printed on the sheet.
  note TEXT NOT NULL,
  archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1))
) STRICT;
CREATE TABLE tax_form_lines (
  form_id TEXT NOT NULL REFERENCES tax_forms (id),
  position INTEGER NOT NULL,
  code TEXT NOT NULL,
  label TEXT NOT NULL,
  part TEXT NOT NULL CHECK (part IN ('income', 'goods', 'expenses')),
  PRIMARY KEY (form_id, code)
) STRICT;

-- Which line a source of figures goes on, from a tax year on; no row: as the form proposes.
CREATE TABLE tax_form_map (
  form_id TEXT NOT NULL,
  source TEXT NOT NULL,
  from_year INTEGER NOT NULL CHECK (from_year BETWEEN 1900 AND 9999),
  -- Empty: on no line at all, on purpose.
  line_code TEXT NOT NULL,
  PRIMARY KEY (form_id, source, from_year)
) STRICT;

-- What the maker says for one year's sheet and the books cannot know.
CREATE TABLE sheet_answers (
  from_on TEXT PRIMARY KEY,
  to_on TEXT NOT NULL,
  form_id TEXT NOT NULL,
  view TEXT NOT NULL CHECK (view IN ('cash', 'earned')),
  valued_at TEXT NOT NULL CHECK (valued_at IN ('cost', 'lower', 'other', '')),
  method_changed INTEGER NOT NULL CHECK (method_changed IN (0, 1)),
  -- Closing stock as last year's form said it; null: not told.
  last_closing_minor INTEGER CHECK (last_closing_minor >= 0),
  opening_note TEXT NOT NULL,
  note TEXT NOT NULL,
  CHECK (to_on >= from_on)
) STRICT;

-- A sheet as it was handed over, to hold a later one against.
CREATE TABLE sheets_handed (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  from_on TEXT NOT NULL,
  to_on TEXT NOT NULL,
  on_date TEXT NOT NULL,
  form_id TEXT NOT NULL,
  view TEXT NOT NULL,
  closing_minor INTEGER NOT NULL,
  -- JSON: line code and amount in the minor unit, in the order of the form.
  lines TEXT NOT NULL
) STRICT;
CREATE INDEX sheets_handed_by_year ON sheets_handed (to_on, seq);
CREATE TRIGGER sheets_handed_no_update BEFORE UPDATE ON sheets_handed BEGIN SELECT RAISE(ABORT, 'a sheet handed over is not rewritten'); END;
CREATE TRIGGER sheets_handed_no_delete BEFORE DELETE ON sheets_handed BEGIN SELECT RAISE(ABORT, 'a sheet handed over is not rewritten'); END;
`,
} as const;
