/** Row types of the tables of the year. Column meanings are in the migrations. */

export interface FiscalRulesTable {
  from_on: string;
  kind: string;
  month: number;
  day: number;
}

/** Every table of the year. */
export interface YearTables {
  fiscal_rules: FiscalRulesTable;
}
