/** One spelling per value, so that the same command always has the same hash. */

/**
 * JSON with sorted keys and without members that are undefined.
 * @throws TypeError for what JSON cannot say exactly: NaN, infinities, big integers, functions
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new TypeError(`${value} has no place in the journal`);
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map((each) => canonicalJson(each ?? null)).join(',')}]`;
  if (typeof value !== 'object') throw new TypeError(`A ${typeof value} has no place in the journal`);
  const members = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, member]) => `${JSON.stringify(key)}:${canonicalJson(member)}`);
  return `{${members.join(',')}}`;
}
