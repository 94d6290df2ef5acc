/** Row types of the tables of closed years. Column meanings are in the migrations. */

export interface YearSealsTable {
  id: string;
  number: number;
  from_on: string;
  until_on: string;
  sealed_at: string;
  seq: number;
  journal_hash: string;
  totals: string;
  row_count: number;
  rows_hash: string;
  accepted: string;
  note: string;
  seal: string;
}

export interface YearSealRowsTable {
  seal_id: string;
  table_name: string;
  row_key: string;
  mark: string;
}

export interface YearReopeningsTable {
  seal_id: string;
  reopened_at: string;
  reason: string;
}

/** Every table of closed years. */
export interface SealTables {
  year_seals: YearSealsTable;
  year_seal_rows: YearSealRowsTable;
  year_reopenings: YearReopeningsTable;
}
