/** Papers kept in the books until their file is safe, the day tax counts, two persons who look like one, free service. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 90,
  name: 'kept-bytes',
  sql: `
-- The bytes of a paper, in the transaction that issued it. They stay until its file and folder are flushed.
CREATE TABLE kept_bytes (
  -- Relative to the workshop folder, with forward slashes.
  path TEXT PRIMARY KEY,
  sha256 TEXT NOT NULL,
  bytes BLOB NOT NULL
) STRICT;

-- The day an invoice's tax counts; NULL is the day it was issued.
ALTER TABLE invoices ADD COLUMN tax_on TEXT;
-- What was credited of a sale is asked for with every line of the list of sales.
CREATE INDEX invoices_by_sale ON invoices (sale_id) WHERE sale_id IS NOT NULL;

-- Two entries of buyers that look like one person and are two; the lower id first.
CREATE TABLE separate_buyers (
  one_id TEXT NOT NULL REFERENCES buyers (id),
  other_id TEXT NOT NULL REFERENCES buyers (id),
  PRIMARY KEY (one_id, other_id),
  CHECK (one_id < other_id)
) STRICT;

-- For how many months after the sale the first service is proposed free; no row: twelve.
CREATE TABLE service_settings (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  free_months INTEGER NOT NULL CHECK (free_months BETWEEN 0 AND 120)
) STRICT;
`,
} as const;
