/**
 * The few small shapes the hosts read before the workshop is open. Checked by hand, so that a start does not wait for
 * the schema library; everything of the contract is checked with its schema, in the core.
 */

/** A value as an object with exactly these keys, or nothing. Keys it inherits do not count. */
export const withKeys = <K extends string>(
  value: unknown,
  keys: readonly K[],
): Readonly<Record<K, unknown>> | undefined => {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return undefined;
  const own = Object.keys(value);
  const exact = own.length === keys.length && keys.every((key) => Object.hasOwn(value, key));
  return exact ? (value as Readonly<Record<K, unknown>>) : undefined;
};

/** A value as text that fits a pattern, or nothing. */
export const textLike = (value: unknown, pattern: RegExp): string | undefined =>
  typeof value === 'string' && pattern.test(value) ? value : undefined;
