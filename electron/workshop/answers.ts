/** From a calculation's answer to a value, or to the fault a person sees. */
import { invalid, refused } from '../api/errors.ts';
import type { Outcome } from '../domain/outcome.ts';

/** The value of an outcome. @throws FaultError `refused` with the outcome's own sentence */
export function valueOrRefuse<T>(outcome: Outcome<T>, field?: string): T {
  if (!outcome.ok) throw refused(outcome.message, field);
  return outcome.value;
}

/** The value of reading something typed. @throws FaultError `invalid` with the outcome's own sentence */
export function valueOrInvalid<T>(outcome: Outcome<T>, field?: string): T {
  if (!outcome.ok) throw invalid(outcome.message, field);
  return outcome.value;
}
