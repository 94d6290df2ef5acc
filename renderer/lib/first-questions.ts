/** What every screen asks, and what the lists that can be long ask first. */
import type { Input } from '../../electron/api/contract.ts';
import type { Question } from './ahead.ts';
import { rowsInSight } from './rows-in-sight.ts';

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
