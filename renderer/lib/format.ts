/** Figures, dates and words as the open workshop writes them. */
import { dayParts, isDay } from '../../electron/domain/calendar.ts';
import { minutesText } from '../../electron/domain/durations.ts';
import { formatMicro, formatMinor, microToMinor } from '../../electron/domain/money.ts';
import { forAGlance, formatQuantity } from '../../electron/domain/quantity.ts';
import { isUnitCode, unitOf } from '../../electron/domain/units.ts';
import type { Form, UnitCode } from '../../electron/domain/units.ts';
import { shop } from './shop.svelte.ts';

/** Whatever has a form, a unit and a word for one piece: items, lots, movements, usual parts. */
export interface Measured {
  readonly form: Form;
  readonly unit: string;
  readonly pieceWord?: string;
}

/** A selling amount with the currency's sign. */
export const money = (minor: number): string => formatMinor(minor, shop.currency, { symbol: true });

/** A cost, rounded once to the currency's minor unit. */
export const cost = (micro: number): string => money(microToMinor(micro, shop.decimals));

/** A cost to four decimals, for the working behind a figure. */
export const exactCost = (micro: number): string => formatMicro(micro, shop.currency, 4, { symbol: true });

const fallbackUnit: Readonly<Record<Form, UnitCode>> = {
  length: 'in',
  area: 'sqin',
  weight: 'g',
  volume: 'ml',
  piece: 'piece',
  pair: 'pair',
  worth: 'worth',
};

/** The unit an item is shown in; a sensible one of its form when the books name none that fits. */
export const unitFor = (thing: Measured): UnitCode =>
  isUnitCode(thing.unit) && unitOf(thing.unit).form === thing.form ? thing.unit : fallbackUnit[thing.form];

/** A quantity with its unit, e.g. `7 3/4 in` or `3 belts`. */
export const qty = (base: number, thing: Measured): string => {
  if (thing.form === 'worth') return exactCost(base);
  const word = thing.pieceWord ?? '';
  return formatQuantity(base, thing.form, unitFor(thing), word === '' ? {} : { word });
};

/** A quantity for a glance: parts of a piece to the hundredth, e.g. `3.3 belts`; all else as `qty` writes it. */
export const qtyAbout = (base: number, thing: Measured): string => qty(forAGlance(base, thing.form), thing);

/** A length in the workshop's habit: inches as fractions, or millimetres. */
export const length = (nm: number): string => formatQuantity(nm, 'length', shop.isInch ? 'in' : 'mm');

/** A length of time, e.g. `6 h 50 min`. */
export const duration = (minutes: number): string => minutesText(minutes);

/** What a stopped clock says. */
export const stoppedText = (booked: { readonly minutes: number } | null): string =>
  booked === null
    ? 'Stopped. Less than a minute had run, so nothing is booked.'
    : `Stopped. ${duration(booked.minutes)} booked.`;

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** A day for reading, e.g. `6 Jul 2024`. */
export const day = (iso: string): string => {
  if (!isDay(iso)) return iso;
  const parts = dayParts(iso);
  return `${String(parts.day)} ${months[parts.month - 1] ?? ''} ${String(parts.year)}`;
};

/** A month for reading, from one of its days or from `2025-03`: `Mar 2025`. */
export const month = (iso: string): string => {
  const [year = '', at = ''] = iso.split('-');
  return `${months[Number(at) - 1] ?? ''} ${year}`.trim();
};

/** A sentence of the books with its days as a person writes them: `from 26 Aug 2026 to 26 Nov 2026`. */
export const daysIn = (sentence: string): string =>
  sentence.replace(/\b\d{4}-\d{2}-\d{2}\b/g, (iso) => (isDay(iso) ? day(iso) : iso));

const two = (value: number): string => String(value).padStart(2, '0');

/** An instant as a day and a time of this machine, e.g. `6 Jul 2024, 14:05`. */
export const instant = (iso: string): string => {
  const at = new Date(iso);
  if (Number.isNaN(at.getTime())) return iso;
  const date = `${String(at.getFullYear())}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${day(date)}, ${two(at.getHours())}:${two(at.getMinutes())}`;
};

/** Parts per million as percent, zeros at the end dropped: `6.5 %`. */
export const percent = (ppm: number, digits = 4): string =>
  `${String(Number((ppm / 10_000).toFixed(digits)))} %`;

/** A whole number with commas: `10,000`. The browser's own way would read its table of languages for every one. */
export const whole = (n: number): string => String(n).replace(/\B(?=(?:\d{3})+$)/g, ',');

/** A count with its word: `1 knife`, `3 knives`. */
export const count = (n: number, one: string, several = `${one}s`): string =>
  `${whole(n)} ${n === 1 ? one : several}`;

/** Bytes for reading. */
export const bytes = (n: number): string =>
  n < 1024 * 1024 ? `${String(Math.max(1, Math.round(n / 1024)))} KB` : `${(n / 1024 / 1024).toFixed(1)} MB`;
