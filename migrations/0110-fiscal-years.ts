/** How fiscal years begin, and what makes the year's sums quick. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 110,
  name: 'fiscal years',
  sql: `
-- From which day on years begin how; without a row they are calendar years.
CREATE TABLE fiscal_rules (
  -- First day it holds for; a year begins here, which may be short.
  from_on TEXT PRIMARY KEY,
  -- date: begins on month/day. last, nearest: ends on the last weekday (Monday 1) of the month, or the one nearest to its end.
  kind TEXT NOT NULL CHECK (kind IN ('date', 'last', 'nearest')),
  month INTEGER NOT NULL CHECK (month BETWEEN 1 AND 12),
  day INTEGER NOT NULL CHECK (day BETWEEN 1 AND 31),
  CHECK (kind = 'date' OR day <= 7)
) STRICT;

CREATE INDEX charges_by_date ON charges (on_date, seq);
CREATE INDEX making_charges_by_date ON making_charges (on_date, seq);
CREATE INDEX payments_by_date ON payments (on_date, seq);
CREATE INDEX payments_by_invoice_day ON payments (invoice_id, on_date);
CREATE INDEX sales_by_build ON sales (build_id, on_date);
CREATE INDEX builds_by_start ON builds (started_on) WHERE started_on IS NOT NULL;
`,
} as const;
