/** Row types of the tables of answers: practice, trials, decisions, promises. Column meanings are in the migrations. */
import type { Generated } from 'kysely';

export interface PracticeTable {
  family: string;
  n: number;
  factor_ppm: number;
}

export interface TrialsTable {
  id: string;
  number: number;
  title: string;
  model_id: string;
  stage_code: string;
  from_on: string | null;
  until_on: string | null;
  seed: number;
  note: string;
  archived: Generated<number>;
}

export interface TrialWaysTable {
  trial_id: string;
  position: number;
  name: string;
  method: string;
}

export interface TrialExceptionsTable {
  trial_id: string;
  build_id: string;
  position: number;
  reason: string;
}

export interface DecisionsTable {
  seq: Generated<number>;
  id: string;
  build_id: string;
  on_date: string;
  chosen: string;
  reason: string;
  ways: string;
}

export interface PromiseSettingsTable {
  id: number;
  week_minutes: number | null;
}

export interface ClosedDaysTable {
  id: string;
  from_on: string;
  until_on: string;
  note: string;
}

export interface PromiseNotesTable {
  id: string;
  order_id: string;
  on_date: string;
  half_on: string;
  likely_on: string;
}

export interface QuotesTable {
  id: string;
  number: number;
  buyer_id: string;
  model_id: string;
  order_id: string | null;
  on_date: string;
  valid_until: string;
  wish: string;
  blade_nm: number | null;
  steel: string;
  finish: string;
  channel_id: string;
  tax_place_id: string;
  abroad: number;
  price_minor: number;
  special_minor: number;
  shipping_minor: number;
  promised_on: string | null;
  note: string;
  asked: string;
  working: string;
  taken_on: Generated<string | null>;
  closed_on: Generated<string | null>;
  close_reason: Generated<string>;
}

export interface QuoteOptionsTable {
  quote_id: string;
  position: number;
  option_id: string | null;
  name: string;
  price_minor: number;
}

/** Every table of answers. */
export interface AnswersTables {
  practice: PracticeTable;
  trials: TrialsTable;
  trial_ways: TrialWaysTable;
  trial_exceptions: TrialExceptionsTable;
  decisions: DecisionsTable;
  promise_settings: PromiseSettingsTable;
  closed_days: ClosedDaysTable;
  promise_notes: PromiseNotesTable;
  quotes: QuotesTable;
  quote_options: QuoteOptionsTable;
}
