/**
 * Units a workshop writes, each with its exact size in the base unit of its form.
 * Sources of the factors: international yard and pound agreement of 1959 (inch = 25.4 mm, pound = 0.45359237 kg);
 * US gallon = 231 cubic inches = 3.785411784 l. Base units: nanometre, square micrometre, nanogram, nanolitre,
 * millionth of a piece or pair, millionth of the currency unit (`worth`: an assortment drawn by value).
 */
import { rational } from './rational.ts';
import type { Rational } from './rational.ts';

/** How a stock item is measured. */
export type Form = 'length' | 'area' | 'weight' | 'volume' | 'piece' | 'pair' | 'worth';

export type UnitCode =
  | 'in'
  | 'ft'
  | 'yd'
  | 'mm'
  | 'cm'
  | 'm'
  | 'sqin'
  | 'sqft'
  | 'mm2'
  | 'cm2'
  | 'm2'
  | 'g'
  | 'kg'
  | 'oz'
  | 'lb'
  | 'ml'
  | 'l'
  | 'floz'
  | 'pt'
  | 'qt'
  | 'gal'
  | 'piece'
  | 'pair'
  | 'worth';

export interface Unit {
  readonly code: UnitCode;
  readonly form: Form;
  /** As written after a number. */
  readonly symbol: string;
  /** In a sentence or a choice list. */
  readonly name: string;
  /** Size in base units. */
  readonly factor: Rational;
  /** Decimals shown at most. */
  readonly decimals: number;
  /** Other ways people type it, lower case. */
  readonly aliases: readonly string[];
}

type Row = readonly [UnitCode, Form, string, string, Rational, number, string];

const whole = (n: number): Rational => rational(n);

const ROWS: readonly Row[] = [
  ['in', 'length', 'in', 'inches', whole(25_400_000), 4, `inch inches " ″ ” ''`],
  ['ft', 'length', 'ft', 'feet', whole(304_800_000), 4, "foot feet ' ′ ’"],
  ['yd', 'length', 'yd', 'yards', whole(914_400_000), 4, 'yard yards yds'],
  ['mm', 'length', 'mm', 'millimetres', whole(1_000_000), 3, 'millimetre millimetres millimeter millimeters'],
  [
    'cm',
    'length',
    'cm',
    'centimetres',
    whole(10_000_000),
    3,
    'centimetre centimetres centimeter centimeters',
  ],
  ['m', 'length', 'm', 'metres', whole(1_000_000_000), 4, 'metre metres meter meters'],
  ['sqin', 'area', 'sq in', 'square inches', whole(645_160_000), 4, 'sqin in2 in² square_inch square_inches'],
  ['sqft', 'area', 'sq ft', 'square feet', whole(92_903_040_000), 4, 'sqft ft2 ft² square_foot square_feet'],
  ['mm2', 'area', 'mm²', 'square millimetres', whole(1_000_000), 2, 'mm2 sq_mm'],
  ['cm2', 'area', 'cm²', 'square centimetres', whole(100_000_000), 3, 'cm2 sq_cm'],
  ['m2', 'area', 'm²', 'square metres', whole(1_000_000_000_000), 4, 'm2 sq_m'],
  ['g', 'weight', 'g', 'grams', whole(1_000_000_000), 3, 'gram grams gramme grammes'],
  ['kg', 'weight', 'kg', 'kilograms', whole(1_000_000_000_000), 4, 'kilo kilos kilogram kilograms'],
  ['oz', 'weight', 'oz', 'ounces', whole(28_349_523_125), 4, 'ounce ounces'],
  ['lb', 'weight', 'lb', 'pounds', whole(453_592_370_000), 4, 'lbs pound pounds'],
  ['ml', 'volume', 'ml', 'millilitres', whole(1_000_000), 3, 'millilitre millilitres milliliter milliliters'],
  ['l', 'volume', 'l', 'litres', whole(1_000_000_000), 4, 'litre litres liter liters'],
  [
    'floz',
    'volume',
    'fl oz',
    'US fluid ounces',
    rational(473_176_473n, 16n),
    4,
    'floz fluid_ounce fluid_ounces oz ounce ounces',
  ],
  ['pt', 'volume', 'pt', 'US pints', whole(473_176_473), 4, 'pint pints'],
  ['qt', 'volume', 'qt', 'US quarts', whole(946_352_946), 4, 'quart quarts'],
  ['gal', 'volume', 'gal', 'US gallons', whole(3_785_411_784), 4, 'gallon gallons gals'],
  ['piece', 'piece', 'pc', 'pieces', whole(1_000_000), 4, 'pcs piece pieces'],
  ['pair', 'pair', 'pair', 'pairs', whole(1_000_000), 4, 'pairs pr prs'],
  ['worth', 'worth', 'worth', 'worth in money', whole(1_000_000), 6, ''],
];

const toUnit = ([code, form, symbol, name, factor, decimals, aliases]: Row): Unit => ({
  code,
  form,
  symbol,
  name,
  factor,
  decimals,
  aliases: aliases
    .split(' ')
    .filter((alias) => alias !== '')
    .map((alias) => alias.replaceAll('_', ' ')),
});

/** Every unit, smallest first inside each form's system. */
export const units: readonly Unit[] = ROWS.map(toUnit);

const byCode = new Map<string, Unit>(units.map((unit) => [unit.code, unit]));

/** The unit of a code. @throws RangeError for a code that is not in the table */
export const unitOf = (code: UnitCode): Unit => {
  const unit = byCode.get(code);
  if (unit === undefined) throw new RangeError(`Unknown unit ${code}`);
  return unit;
};

/** Whether a text from outside is a unit code. */
export const isUnitCode = (code: string): code is UnitCode => byCode.has(code);

/** Units in which a form can be written. */
export const unitsOf = (form: Form): readonly Unit[] => units.filter((unit) => unit.form === form);

/** All forms, in the order of a choice list. */
export const forms: readonly Form[] = ['length', 'area', 'weight', 'volume', 'piece', 'pair', 'worth'];

/** What a person calls the form, in a sentence: "a length", "a weight". */
export const formNames: Readonly<Record<Form, string>> = {
  length: 'a length',
  area: 'an area',
  weight: 'a weight',
  volume: 'a volume',
  piece: 'a number of pieces',
  pair: 'a number of pairs',
  worth: 'an amount of money',
};

/** Whether a typed word names the unit. */
const named = (unit: Unit, word: string): boolean =>
  unit.symbol.toLowerCase() === word || unit.code === word || unit.aliases.includes(word);

/** Finds the unit a person typed, looking in the wanted form first: "oz" is weight unless a volume is asked for. */
export const findUnit = (typed: string, form: Form): Unit | undefined => {
  const word = typed
    .trim()
    .toLowerCase()
    .replace(/[.\s]+/g, ' ')
    .trim();
  const hits = units.filter((unit) => named(unit, word));
  return hits.find((unit) => unit.form === form) ?? hits[0];
};
