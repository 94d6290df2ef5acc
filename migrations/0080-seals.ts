/** Years that are closed: their seals, what each seal covers, and why one was opened again. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 80,
  name: 'seals',
  sql: `
-- A closed year. While no reopening stands beside it, nothing dated up to its last day may change.
CREATE TABLE year_seals (
  id TEXT PRIMARY KEY,
  -- Rises with every seal.
  number INTEGER NOT NULL UNIQUE,
  from_on TEXT NOT NULL,
  until_on TEXT NOT NULL,
  -- UTC instant of sealing.
  sealed_at TEXT NOT NULL,
  -- The journal as it stood: number and hash of its last entry before the seal.
  seq INTEGER NOT NULL CHECK (seq > 0),
  journal_hash TEXT NOT NULL,
  -- JSON: the control totals of the year, names and whole numbers.
  totals TEXT NOT NULL,
  -- How many rows the year has, and SHA-256 over all of them in order.
  row_count INTEGER NOT NULL CHECK (row_count >= 0),
  rows_hash TEXT NOT NULL,
  -- JSON array: what the checks still found and the maker accepted.
  accepted TEXT NOT NULL,
  note TEXT NOT NULL,
  -- SHA-256 over all of the above; the line that is printed.
  seal TEXT NOT NULL UNIQUE,
  CHECK (until_on >= from_on)
) STRICT;
CREATE TRIGGER year_seals_no_update BEFORE UPDATE ON year_seals BEGIN SELECT RAISE(ABORT, 'a seal is not rewritten'); END;
CREATE TRIGGER year_seals_no_delete BEFORE DELETE ON year_seals BEGIN SELECT RAISE(ABORT, 'a seal is not rewritten'); END;
-- A short mark of each row the seal covers, to name the one that differs.
CREATE TABLE year_seal_rows (
  seal_id TEXT NOT NULL REFERENCES year_seals (id),
  table_name TEXT NOT NULL,
  row_key TEXT NOT NULL,
  -- The first 16 letters of the row's SHA-256.
  mark TEXT NOT NULL,
  PRIMARY KEY (seal_id, table_name, row_key)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER year_seal_rows_no_update BEFORE UPDATE ON year_seal_rows BEGIN SELECT RAISE(ABORT, 'a seal is not rewritten'); END;
CREATE TRIGGER year_seal_rows_no_delete BEFORE DELETE ON year_seal_rows BEGIN SELECT RAISE(ABORT, 'a seal is not rewritten'); END;
-- A closed year that was opened again, and why. It stays, whatever comes after.
CREATE TABLE year_reopenings (
  seal_id TEXT PRIMARY KEY REFERENCES year_seals (id),
  -- UTC instant.
  reopened_at TEXT NOT NULL,
  reason TEXT NOT NULL CHECK (reason <> '')
) STRICT;
CREATE TRIGGER year_reopenings_no_update BEFORE UPDATE ON year_reopenings BEGIN SELECT RAISE(ABORT, 'a reopening is not rewritten'); END;
CREATE TRIGGER year_reopenings_no_delete BEFORE DELETE ON year_reopenings BEGIN SELECT RAISE(ABORT, 'a reopening is not rewritten'); END;
`,
} as const;
