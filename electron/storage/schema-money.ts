/** Row types of the tables of money: expenses, mileage, assets, other income. Column meanings are in the migrations. */
import type { Generated } from 'kysely';

export interface ExpenseCategoriesTable {
  id: string;
  name: string;
  kind: string;
  position: number;
  archived: Generated<number>;
}

export interface CategoryLinesTable {
  category_id: string;
  from_year: number;
  line: string;
}

export interface ExpenseRepeatsTable {
  id: string;
  category_id: string;
  payee: string;
  amount_minor: number;
  tax_minor: number;
  share_ppm: number;
  every_months: number;
  from_on: string;
  until_on: string | null;
  note: string;
}

export interface ExpensePassedTable {
  repeat_id: string;
  on_date: string;
}

export interface ExpensesTable {
  seq: Generated<number>;
  id: string;
  category_id: string;
  cost_on: string;
  paid_on: string | null;
  payee: string;
  amount_minor: number;
  tax_minor: number;
  share_ppm: number;
  cost_minor: number;
  receipt: number;
  note: string;
  repeat_id: string | null;
  repeat_on: string | null;
  reason: string;
  reverses_id: string | null;
}

export interface MileageRatesTable {
  from_on: string;
  unit: string;
  per_unit_micro: number;
  note: string;
}

export interface MileageTable {
  seq: Generated<number>;
  id: string;
  on_date: string;
  distance_milli: number;
  unit: string;
  purpose: string;
  amount_minor: number;
  reason: string;
  reverses_id: string | null;
}

export interface AssetsTable {
  id: string;
  number: number;
  name: string;
  supplier: string;
  bought_on: string;
  in_service_on: string;
  cost_minor: number;
  share_ppm: number;
  residual_minor: number;
  method: string;
  life_months: number | null;
  class_years: number | null;
  convention: string | null;
  note: string;
  disposed_on: string | null;
  disposed_how: string | null;
  proceeds_minor: Generated<number>;
  disposal_note: Generated<string>;
}

export interface IncomesTable {
  seq: Generated<number>;
  id: string;
  kind: string;
  earned_on: string;
  received_on: string | null;
  payer: string;
  gross_minor: number;
  fee_minor: number;
  note: string;
  month: string | null;
  heads: string | null;
  reason: string;
  reverses_id: string | null;
}

export interface MoneySettingsTable {
  id: number;
  platform_ppm: number;
  small_tool_minor: number | null;
}

/** Every table of money out and in beside purchases and sales. */
export interface MoneyTables {
  expense_categories: ExpenseCategoriesTable;
  category_lines: CategoryLinesTable;
  expense_repeats: ExpenseRepeatsTable;
  expense_passed: ExpensePassedTable;
  expenses: ExpensesTable;
  mileage_rates: MileageRatesTable;
  mileage: MileageTable;
  assets: AssetsTable;
  incomes: IncomesTable;
  money_settings: MoneySettingsTable;
}
