/** What a trial found, in words a maker can act on. */
import type { Comparison, TrialOutcome, TrialWarning } from '../../domain/trial.ts';

const percent = (share: number): string => `${String(Math.round(Math.abs(share) * 100))} %`;
const minutes = (value: number): string => value.toFixed(1);

const warningWords: Readonly<Record<TrialWarning, string>> = {
  tooFew:
    'Too few to say: fewer than three knives on one side. The figures below are what there is, not proof.',
  changedWithExperience:
    'The method changed at the same time as experience: every knife of one way was begun before the first of the other. Part of the difference may be practice, a new belt, better light. Make some the old way again to be sure.',
  noPractice:
    'How practice quickened the hand is not known for every one of these knives, so it is not divided out. Book hours on the other stages too, or write a practice table for the family.',
};

/** Warnings in plain words. */
export const warningSentences = (outcome: TrialOutcome): string[] =>
  outcome.warnings.map((warning) => warningWords[warning]);

const changed = (of: Comparison, names: readonly [string, string]): string => {
  const way = of.saving >= 0 ? 'less' : 'more';
  return `${names[1]} took ${percent(of.saving)} ${way} than ${names[0]} (${minutes(of.first.mean)} → ${minutes(of.second.mean)} min)`;
};

/** The finding: raw, and with practice divided out. */
export function finding(outcome: TrialOutcome, names: readonly [string, string]): string {
  const { raw, practised, warnings } = outcome;
  const start = warnings.includes('tooFew') ? 'Too few to say. So far ' : '';
  const said = changed(raw, names);
  if (warnings.includes('noPractice')) return `${start}${said}. Practice is not divided out.`;
  const way = practised.saving >= 0 ? 'less' : 'more';
  return `${start}${said}. With practice divided out it is ${percent(practised.saving)} ${way} (${minutes(practised.first.mean)} → ${minutes(practised.second.mean)} min).`;
}

/** Why there is nothing to find yet. */
export const nothingYet = (names: readonly [string, string], counts: readonly [number, number]): string => {
  const missing = counts[0] === 0 ? names[0] : names[1];
  return `No knife has this stage behind it by “${missing}” yet.`;
};
