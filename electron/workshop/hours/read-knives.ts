/** Reads a list of serials at the end of a sentence: `on W19 and W20`, `W01-W03, W07`. */
import { invalid } from '../../api/errors.ts';
import type { KnifeRecord } from '../../storage/queries/hours.ts';

const LINK = /^(?:on|for|at|and|to|und|&|\+|,|-|–|through)$/i;
const RANGE = /^(?:to|-|–|through)$/i;

interface Serial {
  readonly head: string;
  readonly number: number;
}

const splitSerial = (serial: string): Serial | undefined => {
  const match = /^(.*?)(\d+)$/.exec(serial);
  return match === null ? undefined : { head: (match[1] ?? '').toLowerCase(), number: Number(match[2]) };
};

type Shelf = ReadonlyMap<string, KnifeRecord>;

const shelfOf = (knives: readonly KnifeRecord[]): Shelf =>
  new Map(knives.map((knife) => [knife.serial.toLowerCase(), knife]));

const unknown = (serial: string): never => {
  throw invalid(`There is no knife ${serial} in the books. Check the serial.`, 'text');
};

/** Every knife whose serial lies between the two ends, ends included. */
function between(knives: readonly KnifeRecord[], from: KnifeRecord, to: KnifeRecord): KnifeRecord[] {
  const a = splitSerial(from.serial);
  const b = splitSerial(to.serial);
  if (a === undefined || a.head !== b?.head || a.number > b.number) {
    throw invalid(
      `${from.serial} to ${to.serial} is not a run of serials. Name the knives one by one.`,
      'text',
    );
  }
  return knives.filter((knife) => {
    const serial = splitSerial(knife.serial);
    return serial?.head === a.head && serial.number >= a.number && serial.number <= b.number;
  });
}

/** `W01-W03` or `W01-03` as its two ends; undefined when the word is something else. */
function rangeEnds(word: string, shelf: Shelf): readonly [KnifeRecord, KnifeRecord] | undefined {
  for (const match of word.matchAll(/[-–]/g)) {
    const left = word.slice(0, match.index);
    const right = word.slice(match.index + 1);
    const from = shelf.get(left.toLowerCase());
    if (!from || right === '') continue;
    const to =
      shelf.get(right.toLowerCase()) ??
      shelf.get(`${splitSerial(from.serial)?.head ?? ''}${right}`.toLowerCase());
    return [from, to ?? unknown(right)];
  }
  return undefined;
}

/** A word that looks like a serial of this workshop, known or not. */
const looksLikeSerial = (word: string, heads: ReadonlySet<string>): boolean => {
  const serial = splitSerial(word);
  return serial !== undefined && serial.head !== '' && heads.has(serial.head);
};

type Token = readonly KnifeRecord[] | 'link' | 'range' | undefined;

function tokenOf(
  word: string,
  knives: readonly KnifeRecord[],
  shelf: Shelf,
  heads: ReadonlySet<string>,
): Token {
  const known = shelf.get(word.toLowerCase());
  if (known) return [known];
  const ends = rangeEnds(word, shelf);
  if (ends) return between(knives, ...ends);
  if (RANGE.test(word)) return 'range';
  if (LINK.test(word)) return 'link';
  return looksLikeSerial(word, heads) ? unknown(word) : undefined;
}

export interface KnivesRead {
  readonly knives: readonly KnifeRecord[];
  /** The words before the list. */
  readonly rest: readonly string[];
}

/** Joins `W01 to W03` into the run it means; everything else is listed as it stands. */
function collect(
  tokens: readonly Exclude<Token, undefined>[],
  knives: readonly KnifeRecord[],
): KnifeRecord[] {
  const out: KnifeRecord[] = [];
  let open = false;
  for (const token of tokens) {
    if (token === 'range') open = out.length > 0;
    if (typeof token === 'string') continue;
    const last = out.at(-1);
    const first = token[0];
    if (open && last && first) out.push(...between(knives, last, first).slice(1));
    else out.push(...token);
    open = false;
  }
  return [...new Set(out)];
}

/**
 * Takes the knives named at the end of a sentence.
 * @throws FaultError when a word looks like a serial of this workshop but no knife has it
 */
export function readKnives(words: readonly string[], knives: readonly KnifeRecord[]): KnivesRead {
  const shelf = shelfOf(knives);
  const heads = new Set(knives.map((knife) => splitSerial(knife.serial)?.head ?? ''));
  const parts = words.flatMap((word) => word.split(/(,)/).filter((part) => part !== ''));
  const tokens: Exclude<Token, undefined>[] = [];
  let end = parts.length;
  for (; end > 0; end -= 1) {
    const token = tokenOf(parts[end - 1] ?? '', knives, shelf, heads);
    if (token === undefined) break;
    tokens.unshift(token);
  }
  return { knives: collect(tokens, knives), rest: parts.slice(0, end) };
}
