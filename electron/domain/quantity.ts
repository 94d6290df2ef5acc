/** Reads and writes quantities; inside the books they are whole numbers of the form's base unit. */
import { mixedFraction, readNumber } from './fractions.ts';
import { groupThousands, parseMicro } from './money.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import {
  compare,
  decimalText,
  over,
  plus,
  rational,
  times,
  toInteger,
  toScaled,
  trimZeros,
} from './rational.ts';
import type { Rational } from './rational.ts';
import { findUnit, formNames, unitOf, unitsOf } from './units.ts';
import type { Form, Unit, UnitCode } from './units.ts';

export interface QuantityReading {
  /** Whole number of base units. */
  readonly base: number;
  /** The unit it was typed in (the last one of `4 ft 6 in`), so that the screen can answer in kind. */
  readonly unit: UnitCode;
}

export interface ReadOptions {
  /** Take a minus sign (counts that came out short). Refused otherwise. */
  readonly negative?: boolean;
  /** Take zero. Taken unless this is false. */
  readonly zero?: boolean;
  /** What one piece is called here, e.g. `belt`; then `3 belts` is understood. */
  readonly word?: string;
}

interface Term {
  readonly number: string;
  readonly unit: string;
}

const NUMBER = String.raw`\d[\d.,]*(?:(?:\s+|\s*-\s*)\d+\s*[/⁄]\s*\d+|\s*[/⁄]\s*\d+|\s*[½¼¾⅓⅔⅛⅜⅝⅞])?|[.,]\d+|[½¼¾⅓⅔⅛⅜⅝⅞]`;
const UNIT = String.raw`(?:sq(?:uare)?|fl(?:uid)?)[.\s]\s*\p{L}+\.?|\p{L}+[2²]?\.?|''|["″”'′’]`;
const TERM = new RegExp(String.raw`^(${NUMBER})\s*(${UNIT})?(?:\s*,?\s+|$|(?=\d))`, 'u');

/** Cuts `4 ft 6 in` into its terms; undefined when a piece of the text fits nowhere. */
const splitTerms = (text: string): Term[] | undefined => {
  const terms: Term[] = [];
  let rest = text.trim();
  while (rest !== '') {
    const match = TERM.exec(rest);
    if (match === null) return undefined;
    terms.push({ number: match[1] ?? '', unit: match[2] ?? '' });
    rest = rest.slice(match[0].length).trimStart();
  }
  return terms.length === 0 ? undefined : terms;
};

/** Several words with the same end: `belt` gives `belts`, `box` gives `boxes`. */
export const plural = (word: string): string => (/(?:s|x|z|ch|sh)$/i.test(word) ? `${word}es` : `${word}s`);

const withoutWord = (text: string, word: string | undefined): string => {
  if (word === undefined || word === '') return text;
  const lower = text.toLowerCase();
  const ends = [plural(word), word].map((end) => end.toLowerCase());
  const hit = ends.find((end) => lower.endsWith(end) && /\d\s*$/.test(lower.slice(0, -end.length)));
  return hit === undefined ? text : text.slice(0, -hit.length);
};

/** Volumes here are always US ones, so `16 US gal` says no more than `16 gal`. */
const withoutExtras = (text: string, form: Form, word: string | undefined): string => {
  if (form === 'volume') return text.replace(/\bu\.?s\.?\s+(?=\p{L})/giu, '');
  return form === 'piece' || form === 'pair' ? withoutWord(text, word) : text;
};

const EXAMPLES: Readonly<Record<Form, string>> = {
  length: '7 3/4 in, 4 ft or 200 mm',
  area: '1.5 sq ft or 300 cm²',
  weight: '380 g or 2 lb 4 oz',
  volume: '0.5 fl oz or 250 ml',
  piece: '3 or 0.25',
  pair: '1 or 0.5',
  worth: '12.50',
};

const notRead = (text: string, form: Form): Outcome<never> =>
  refuse(`“${text.trim()}” is not ${formNames[form]} that can be read. Write it like ${EXAMPLES[form]}.`);

const unitList = (form: Form): string =>
  unitsOf(form)
    .map((unit) => unit.symbol)
    .join(', ');

/** The unit of one term: its own, or the default; inches after feet when none is written. */
const unitOfTerm = (term: Term, before: Unit | undefined, form: Form, fallback: UnitCode): Outcome<Unit> => {
  if (term.unit === '') return ok(before?.code === 'ft' ? unitOf('in') : unitOf(fallback));
  const unit = findUnit(term.unit, form);
  if (unit === undefined) {
    return refuse(`“${term.unit}” is not a unit known here. Use one of: ${unitList(form)}.`);
  }
  if (unit.form === form) return ok(unit);
  return refuse(
    `“${term.unit}” measures ${formNames[unit.form]}; ${formNames[form]} is wanted here (${unitList(form)}).`,
  );
};

const valueOfTerm = (term: Term, unit: Unit, text: string, form: Form): Outcome<Rational> => {
  const reading = readNumber(term.number);
  if ('value' in reading) return ok(times(reading.value, unit.factor));
  return reading.fault === 'zero-denominator'
    ? refuse(`“${term.number}” divides by zero. Write the fraction with a number above zero below the line.`)
    : notRead(text, form);
};

const LIMIT = rational(BigInt(Number.MAX_SAFE_INTEGER));

interface Added {
  readonly value: Rational;
  readonly unit: Unit;
}

const addTerms = (terms: readonly Term[], text: string, form: Form, fallback: UnitCode): Outcome<Added> => {
  let so: Added | undefined;
  for (const term of terms) {
    const unit = unitOfTerm(term, so?.unit, form, fallback);
    if (!unit.ok) return unit;
    if (so !== undefined && compare(unit.value.factor, so.unit.factor) >= 0) return notRead(text, form);
    const value = valueOfTerm(term, unit.value, text, form);
    if (!value.ok) return value;
    so = { value: so === undefined ? value.value : plus(so.value, value.value), unit: unit.value };
  }
  return so === undefined ? notRead(text, form) : ok(so);
};

const readSize = (typed: string, text: string, form: Form, fallback: UnitCode): Outcome<QuantityReading> => {
  const terms = splitTerms(typed);
  if (terms === undefined || (terms.length > 1 && terms[0]?.unit === '')) return notRead(text, form);
  const added = addTerms(terms, text, form, fallback);
  if (!added.ok) return added;
  if (compare(added.value.value, LIMIT) > 0) {
    return refuse(`“${text.trim()}” is more than the books can hold. Check the number and its unit.`);
  }
  return ok({ base: toInteger(added.value.value), unit: added.value.unit.code });
};

const readWorth = (typed: string): Outcome<QuantityReading> => {
  const micro = parseMicro(typed);
  return micro.ok ? ok({ base: micro.value, unit: 'worth' }) : micro;
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * Reads a typed quantity such as `3/16`, `1-1/2`, `7 3/4"`, `4' 6"`, `200mm`, `2 lb 4 oz` or `0.15`.
 * A number without a unit is in `defaultUnit`. What falls between two base units is rounded half away from zero.
 * Refuses division by zero, unknown units, units of another kind, negatives unless allowed, and anything left over.
 */
export const parseQuantity = (
  text: string,
  form: Form,
  defaultUnit: UnitCode,
  options: ReadOptions = {},
): Outcome<QuantityReading> => {
  const trimmed = withoutExtras(text.trim(), form, options.word).trim();
  if (trimmed === '') return refuse(`Enter ${formNames[form]}, for example ${EXAMPLES[form]}.`);
  const negative = /^[-−–]/.test(trimmed);
  if (negative && options.negative !== true) {
    return refuse(`${capital(formNames[form])} cannot be negative here. Enter it without the minus sign.`);
  }
  const body = negative ? trimmed.slice(1).trim() : trimmed;
  const read = form === 'worth' ? readWorth(body) : readSize(body, text, form, defaultUnit);
  if (!read.ok) return read;
  if (read.value.base === 0 && options.zero === false) {
    return refuse(`${capital(formNames[form])} above zero is wanted here.`);
  }
  return negative && read.value.base !== 0 ? ok({ ...read.value, base: -read.value.base }) : read;
};

export interface WriteOptions {
  /**
   * Write inches as a fraction when they lie exactly on this denominator; 64 unless told, 0 for decimals only,
   * which goes for thirds of a piece too.
   */
  readonly fractions?: 0 | 16 | 32 | 64;
  /** What one piece is called, e.g. `belt`. */
  readonly word?: string;
  /** The number without the unit, for a table column that names it. */
  readonly bare?: boolean;
}

/** Nanometres of one sixty-fourth of an inch: a whole number, so typed fractions stay exact. */
const SIXTY_FOURTH = 396_875;

const inchFraction = (size: number, denominator: number): string | undefined => {
  const step = SIXTY_FOURTH * (64 / denominator);
  return size % step === 0 ? mixedFraction(size / step, denominator) : undefined;
};

const decimals = (size: number, unit: Unit): string =>
  groupThousands(
    trimZeros(decimalText(toScaled(over(rational(size), unit.factor), unit.decimals), unit.decimals)),
  );

const worthText = (size: number): string => {
  const text = trimZeros(decimalText(size, 6));
  const [whole = '0', part = ''] = text.split('.');
  return groupThousands(`${whole}.${part.padEnd(2, '0')}`);
};

/** Thirds of a piece, which no decimal says exactly; what is left after taking a third is off by a millionth. */
const thirds = (size: number): string | undefined => {
  const steps = Math.round((size * 3) / 1_000_000);
  return steps % 3 !== 0 && Math.abs(steps * 1_000_000 - size * 3) < 3 ? mixedFraction(steps, 3) : undefined;
};

const numberText = (size: number, unit: Unit, fractions: 0 | 16 | 32 | 64): string => {
  if (unit.form === 'worth') return worthText(size);
  if (fractions !== 0 && (unit.form === 'piece' || unit.form === 'pair')) {
    return thirds(size) ?? decimals(size, unit);
  }
  const fraction = unit.code === 'in' && fractions !== 0 ? inchFraction(size, fractions) : undefined;
  return fraction ?? decimals(size, unit);
};

const unitText = (size: number, unit: Unit, word: string | undefined): string => {
  if (unit.form === 'worth') return '';
  if (unit.form !== 'piece' && unit.form !== 'pair') return unit.symbol;
  const one = word ?? unit.code;
  return size <= 1_000_000 && size > 0 ? one : plural(one);
};

/**
 * Writes a quantity in a unit, zeros at the end dropped: `7 3/4 in`, `200 mm`, `1.5 sq ft`, `3 belts`.
 * Inches that do not lie on a fraction of the rule, and all other units, are decimals; thirds of a piece are fractions.
 * @param base whole number of base units of `form`
 * @throws RangeError when the unit does not measure the form: the books are wrong, not the person
 */
export const formatQuantity = (
  base: number,
  form: Form,
  unit: UnitCode,
  options: WriteOptions = {},
): string => {
  const written = unitOf(unit);
  if (written.form !== form) throw new RangeError(`${unit} does not measure ${formNames[form]}`);
  const size = Math.abs(base);
  const number = numberText(size, written, options.fractions ?? 64);
  const label = options.bare === true ? '' : unitText(size, written, options.word);
  const sign = base < 0 && number !== '0' ? '-' : '';
  return `${sign}${number}${label === '' ? '' : ` ${label}`}`;
};

/**
 * As `formatQuantity` writes it where that reads back as the very same quantity, else in the first unit of the form that
 * does: 210 mm among inches stay `210 mm`, which `8.2677 in` are not. For a field that may be sent as it stands.
 */
export const formatExactly = (
  base: number,
  form: Form,
  unit: UnitCode,
  options: WriteOptions = {},
): string => {
  const word = options.word === undefined ? {} : { word: options.word };
  const own = formatQuantity(base, form, unit, options);
  const exact = [own, ...unitsOf(form).map((other) => formatQuantity(base, form, other.code, options))].find(
    (text) => {
      const read = parseQuantity(text, form, unit, { ...word, negative: true });
      return read.ok && read.value.base === base;
    },
  );
  return exact ?? own;
};

/** Base units of `n` whole units, e.g. `(48, 'in')`; for fixed tables and tests. */
export const toBase = (n: number, unit: UnitCode): number =>
  toInteger(times(rational(n), unitOf(unit).factor));

/** A hundredth of a piece. */
const HUNDREDTH = 10_000;

/** A quantity for a glance, in base units: parts of pieces and pairs to the hundredth, unless that is nothing. */
export const forAGlance = (base: number, form: Form): number => {
  if (form !== 'piece' && form !== 'pair') return base;
  const near = Math.round(base / HUNDREDTH) * HUNDREDTH;
  return near === 0 ? base : near;
};
