/** Reads an end-of-day guess as a person writes it: a time, the work, and the knives it was for. */
import { invalid } from '../../api/errors.ts';
import { type GuessReading, type WorkKind, workKinds } from '../../api/hours.ts';
import { minutesText, parseDuration } from '../../domain/durations.ts';
import type { KnifeRecord, StageRecord } from '../../storage/queries/hours.ts';
import { readKnives } from './read-knives.ts';
import { workWords } from './work.ts';

const EXAMPLE = 'Write it like “2 h hand finish on W19 and W20” or “45 min cleaning”.';
const LONGEST = 24 * 60;
/** A time takes at most so many words: `1 h 30 min`. */
const TIME_WORDS = 4;

interface Timed {
  readonly minutes: number;
  readonly rest: readonly string[];
}

/** The longest run of words at the beginning, else at the end, that reads as a time. */
function takeTime(words: readonly string[]): Timed {
  for (let n = Math.min(TIME_WORDS, words.length); n > 0; n -= 1) {
    const front = parseDuration(words.slice(0, n).join(' '));
    if (front.ok) return { minutes: front.value, rest: words.slice(n) };
  }
  for (let n = Math.min(TIME_WORDS, words.length); n > 0; n -= 1) {
    const back = parseDuration(words.slice(-n).join(' '));
    if (back.ok) return { minutes: back.value, rest: words.slice(0, -n) };
  }
  throw invalid(`No time was found in this. ${EXAMPLE}`, 'text');
}

const checkTime = (minutes: number): number => {
  if (minutes < 1) throw invalid('A session needs at least one minute.', 'text');
  if (minutes > LONGEST)
    throw invalid('One session cannot be longer than a day. Split it over the days.', 'text');
  return minutes;
};

/** A stage or a kind of other work, by any of its names. */
export interface Choice {
  readonly stage?: StageRecord;
  readonly kind?: WorkKind;
  readonly name: string;
  readonly names: readonly string[];
}

const stageChoices = (stages: readonly StageRecord[]): Choice[] =>
  stages
    .filter((stage) => stage.attended === 1 && stage.archived === 0)
    .map((stage) => ({ stage, name: stage.name, names: [stage.code, stage.name] }));

const kindChoices: readonly Choice[] = workKinds.map((kind) => ({
  kind,
  name: workWords[kind],
  names: [kind, workWords[kind]],
}));

/** Those named exactly; else those whose name begins so; else those with a word that begins so. */
function matches(choices: readonly Choice[], typed: string): readonly Choice[] {
  const lower = typed.toLowerCase();
  const tests: ((name: string) => boolean)[] = [
    (name) => name === lower,
    (name) => name.startsWith(lower),
    (name) => ` ${name}`.includes(` ${lower}`),
  ];
  for (const test of tests) {
    const hits = choices.filter((choice) => choice.names.some((name) => test(name.toLowerCase())));
    if (hits.length > 0) return hits;
  }
  return [];
}

function pick(hits: readonly Choice[], typed: string): Choice {
  const [first, ...others] = hits;
  if (!first)
    throw invalid(
      `“${typed}” is neither a stage nor a kind of other work. Use a stage’s code or name. ${EXAMPLE}`,
      'text',
    );
  if (others.length > 0) {
    throw invalid(
      `“${typed}” could be ${hits.map((hit) => hit.name).join(' or ')}. Write more of the word.`,
      'text',
    );
  }
  return first;
}

/**
 * Finds the work a person named. With knives only a stage makes sense; without, other work comes first.
 * @throws FaultError when nothing or more than one thing fits
 */
export function chooseWork(typed: string, stages: readonly StageRecord[], withKnives: boolean): Choice {
  const atBench = stageChoices(stages);
  if (withKnives) return pick(matches(atBench, typed), typed);
  const other = matches(kindChoices, typed);
  if (other.length > 0) return pick(other, typed);
  const choice = pick(matches(atBench, typed), typed);
  throw invalid(`Say which knives the ${choice.name} was for, for example “on W01 and W02”.`, 'text');
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

const sentenceOf = (minutes: number, choice: Choice, knives: readonly KnifeRecord[]): string => {
  const what = `${minutesText(minutes)} of ${choice.name}`;
  if (knives.length === 0) return `${what}, for no knife.`;
  const split = knives.length > 1 ? ', split equally' : '';
  return `${what} on ${listed(knives.map((knife) => knife.serial))}${split}.`;
};

const endedWords: Readonly<Record<string, string>> = {
  sold: 'sold',
  scrapped: 'scrapped',
  kept: 'kept out of sale',
};

/** Late hours may well belong to a knife that has ended, but its figures have been given out. */
function remarkOf(knives: readonly KnifeRecord[]): string | null {
  const ended = knives.filter((knife) => knife.state in endedWords);
  if (ended.length === 0) return null;
  const states = Object.entries(endedWords).flatMap(([state, word]) => {
    const serials = ended.filter((knife) => knife.state === state).map((knife) => knife.serial);
    return serials.length === 0 ? [] : [`${listed(serials)} ${serials.length === 1 ? 'is' : 'are'} ${word}`];
  });
  const [it, its] = ended.length === 1 ? ['it', 'its'] : ['them', 'their'];
  const service = ended.some((knife) => knife.state === 'sold')
    ? ' Work on a knife that came back is written as service, without its serial.'
    : '';
  return `${listed(states)}. Book this only if the time went into making ${it}: ${its} hours and what they earned change.${service}`;
}

/**
 * Reads a guess.
 * @throws FaultError naming the part that could not be read
 */
export function readGuess(
  text: string,
  stages: readonly StageRecord[],
  knives: readonly KnifeRecord[],
): GuessReading {
  const { minutes, rest } = takeTime(
    text
      .trim()
      .replace(/[.!]+$/, '')
      .split(/\s+/),
  );
  checkTime(minutes);
  const read = readKnives(rest, knives);
  const work = read.rest.filter((word) => !/^(?:of|of the|the)$/i.test(word)).join(' ');
  if (work === '') throw invalid(`Say what the time was for. ${EXAMPLE}`, 'text');
  const choice = chooseWork(work, stages, read.knives.length > 0);
  return {
    sentence: sentenceOf(minutes, choice, read.knives),
    remark: remarkOf(read.knives),
    minutes,
    stageCode: choice.stage?.code ?? null,
    workKind: choice.kind ?? null,
    buildIds: read.knives.map((knife) => knife.id),
  };
}
