/** Row types of the tables of answers: practice, trials, decisions. Column meanings are in the migrations. */
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

/** Every table of answers. */
export interface AnswersTables {
  practice: PracticeTable;
  trials: TrialsTable;
  trial_ways: TrialWaysTable;
  trial_exceptions: TrialExceptionsTable;
  decisions: DecisionsTable;
}
