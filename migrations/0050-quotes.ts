/** Size, steel and finish of models and knives, and quotes with the working they stood on. Frozen: never edit, add another migration instead. */
export const migration = {
  number: 50,
  name: 'quotes',
  sql: `
-- Length of the blade in nanometres; null is not known.
ALTER TABLE models ADD COLUMN blade_nm INTEGER CHECK (blade_nm > 0);
ALTER TABLE models ADD COLUMN steel TEXT NOT NULL DEFAULT '';
ALTER TABLE models ADD COLUMN finish TEXT NOT NULL DEFAULT '';
-- Null is as the model.
ALTER TABLE builds ADD COLUMN blade_nm INTEGER CHECK (blade_nm > 0);
ALTER TABLE builds ADD COLUMN steel TEXT;
ALTER TABLE builds ADD COLUMN finish TEXT;

-- What a knife made to order would cost, as it was told to a buyer. Amounts as the tax place counts them.
CREATE TABLE quotes (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE,
  buyer_id TEXT NOT NULL REFERENCES buyers (id),
  model_id TEXT NOT NULL REFERENCES models (id),
  -- The wish it answers, or the order it became.
  order_id TEXT REFERENCES orders (id),
  on_date TEXT NOT NULL,
  valid_until TEXT NOT NULL,
  wish TEXT NOT NULL,
  blade_nm INTEGER CHECK (blade_nm > 0),
  steel TEXT NOT NULL,
  finish TEXT NOT NULL,
  channel_id TEXT NOT NULL REFERENCES channels (id),
  tax_place_id TEXT NOT NULL REFERENCES tax_places (id),
  abroad INTEGER NOT NULL CHECK (abroad IN (0, 1)),
  price_minor INTEGER NOT NULL CHECK (price_minor > 0),
  special_minor INTEGER NOT NULL CHECK (special_minor >= 0),
  shipping_minor INTEGER NOT NULL CHECK (shipping_minor >= 0),
  promised_on TEXT,
  note TEXT NOT NULL,
  -- JSON: what was asked of the reckoning, and every figure it answered then.
  asked TEXT NOT NULL,
  working TEXT NOT NULL,
  -- The day it became an offer in the order book.
  taken_on TEXT,
  closed_on TEXT,
  close_reason TEXT NOT NULL DEFAULT '',
  CHECK (valid_until >= on_date)
) STRICT;
CREATE INDEX quotes_by_buyer ON quotes (buyer_id, number);
CREATE INDEX quotes_by_order ON quotes (order_id);
CREATE TRIGGER quotes_no_rewrite BEFORE UPDATE OF number, model_id, on_date, valid_until, blade_nm, steel, finish, channel_id,
  tax_place_id, abroad, price_minor, special_minor, shipping_minor, promised_on, asked, working ON quotes
BEGIN SELECT RAISE(ABORT, 'a quote is not rewritten'); END;
CREATE TRIGGER quotes_no_delete BEFORE DELETE ON quotes BEGIN SELECT RAISE(ABORT, 'a quote is not rewritten'); END;
CREATE TABLE quote_options (
  quote_id TEXT NOT NULL REFERENCES quotes (id),
  position INTEGER NOT NULL,
  option_id TEXT REFERENCES model_options (id),
  name TEXT NOT NULL,
  price_minor INTEGER NOT NULL,
  PRIMARY KEY (quote_id, position)
) STRICT;
CREATE TRIGGER quote_options_no_update BEFORE UPDATE ON quote_options BEGIN SELECT RAISE(ABORT, 'a quote is not rewritten'); END;
CREATE TRIGGER quote_options_no_delete BEFORE DELETE ON quote_options BEGIN SELECT RAISE(ABORT, 'a quote is not rewritten'); END;
`,
} as const;
