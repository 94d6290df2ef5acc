/** What every screen asks, and what the lists that can be long ask first. */
import type { Input } from '../../electron/api/contract.ts';
import type { Question } from './ahead.ts';

/** Lowest height of a row in pixels, and how many rows are asked for at least and at most. */
const row = 45;
const fewest = 12;
const most = 60;

/** As many rows as this window can show at once. */
const rowsInSight = (): number => {
  const height = typeof innerHeight === 'number' ? innerHeight : 0;
  return Math.min(most, Math.max(fewest, Math.ceil(height / row)));
};

/** The list of knives as it opens: a long one is shown from its first rows. */
export const firstKnives = { text: '', states: [], limit: rowsInSight() } satisfies Input<'builds.list'>;

const everywhere: readonly Question[] = [
  ['workshop.state', {}],
  ['host.info', {}],
  ['hours.clock', {}],
];

/** @param fragment of the address the page was opened at, e.g. `#/builds` */
export const firstQuestions = (fragment: string): readonly Question[] =>
  fragment === '#/builds' ? [...everywhere, ['builds.list', firstKnives], ['builds.models', {}]] : everywhere;
