/** Row types of the sheet for the preparer: lists of lines, what goes on which, answers and sheets handed over. Column meanings are in the migrations. */
import type { Generated } from 'kysely';

export interface TaxFormsTable {
  id: string;
  name: string;
  note: string;
  archived: Generated<number>;
}

export interface TaxFormLinesTable {
  form_id: string;
  position: number;
  code: string;
  label: string;
  part: string;
}

export interface TaxFormMapTable {
  form_id: string;
  source: string;
  from_year: number;
  line_code: string;
}

export interface SheetAnswersTable {
  from_on: string;
  to_on: string;
  form_id: string;
  view: string;
  valued_at: string;
  method_changed: number;
  last_closing_minor: number | null;
  opening_note: string;
  note: string;
}

export interface SheetsHandedTable {
  seq: Generated<number>;
  id: string;
  from_on: string;
  to_on: string;
  on_date: string;
  form_id: string;
  view: string;
  closing_minor: number;
  lines: string;
}

/** The tables of the sheet for the preparer. */
export interface SheetTables {
  tax_forms: TaxFormsTable;
  tax_form_lines: TaxFormLinesTable;
  tax_form_map: TaxFormMapTable;
  sheet_answers: SheetAnswersTable;
  sheets_handed: SheetsHandedTable;
}
