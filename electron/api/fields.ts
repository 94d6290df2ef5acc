/** Building blocks of input schemas. Messages are sentences a maker can act on. */
import { z } from 'zod';

const SAFE = Number.MAX_SAFE_INTEGER;

/** Identifier of something in the books. */
export const id = z.string().min(1, 'Choose one.').max(64);
/** One line of text; may be empty. */
export const shortText = z.string().trim().max(200, 'Keep this under 200 characters.');
/** One line that must say something. */
export const requiredText = shortText.min(1, 'This cannot be empty.');
/** Text of several lines; may be empty. */
export const longText = z.string().trim().max(8000, 'Keep this under 8,000 characters.');
/** A day, `YYYY-MM-DD`. */
export const isoDate = z.iso.date('Write the date as year-month-day, for example 2024-07-06.');
/** An instant, UTC. */
export const isoInstant = z.iso.datetime('Write the time as an ISO 8601 UTC instant.');
/** A selling amount in the minor unit, zero or more. */
export const minorPositive = z
  .int('Write an amount of money.')
  .min(0, 'An amount here cannot be below zero.')
  .max(1e13);
/** Whole number of millionths of the currency unit. */
export const microPositive = z
  .int('Write an amount of money.')
  .min(0, 'A cost cannot be below zero.')
  .max(SAFE);
/** Quantity in the base unit of its form; see `domain/units.ts`. */
export const quantity = z
  .int('Write a quantity, for example 48 in or 1/2.')
  .min(1, 'A quantity must be more than zero.')
  .max(SAFE);
/** Length of a blade, nanometres. Longer than two metres is millimetres read as inches. */
export const blade = quantity.max(
  2_000_000_000,
  'A blade is not longer than 2 m. Write its unit with it, for example 210 mm or 8 1/4 in.',
);
/** A quantity in base units, zero or more. */
export const quantityOrZero = z
  .int('Write a quantity, for example 48 in or 1/2.')
  .min(0, 'A quantity cannot be below zero.')
  .max(SAFE);
/** Rate in parts per million: 6.5 % is 65 000. */
export const ratePpm = z
  .int('Write a rate in percent.')
  .min(0, 'A rate cannot be below zero.')
  .max(1_000_000, 'A rate cannot be above 100 %.');
/** A length of time in whole minutes. */
export const minutes = z
  .int('Write a time, for example 1 h 30.')
  .min(1, 'A session needs at least one minute.')
  .max(24 * 60, 'One session cannot be longer than a day.');
/** Which part of a long list is wanted. */
export const page = {
  limit: z.int().min(1).max(20_000).default(200),
  offset: z.int().min(0).default(0),
};

/** A slice of a longer list, with how many there are in all. */
export interface Page<T> {
  readonly rows: readonly T[];
  readonly total: number;
}
