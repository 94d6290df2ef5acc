/** Lines of a year beside the same lines of the year before. */

export interface Line {
  readonly key: string;
  readonly label: string;
  readonly unit: 'money' | 'minutes' | 'count' | 'perHour';
  readonly value: number | null;
  readonly opens: boolean;
  readonly note?: string;
}

/** A line with its like of the year before. */
interface SideBySide extends Line {
  readonly before: number | null;
}

/** One line and its like. @param before null: there is no year before */
export const beside = (now: Line, before: Line | null): SideBySide => ({
  ...now,
  before: before === null ? null : before.value,
});

/** Lines in their order; one that only the year before had stands at the end at zero, one that it had not had zero then. */
export function besides(now: readonly Line[], before: readonly Line[] | null): readonly SideBySide[] {
  if (before === null) return now.map((line) => ({ ...line, before: null }));
  const then = new Map(before.map((line) => [line.key, line]));
  const keys = new Set(now.map((line) => line.key));
  const gone = before.filter((line) => !keys.has(line.key));
  return [
    ...now.map((line) => ({ ...line, before: then.has(line.key) ? (then.get(line.key)?.value ?? null) : 0 })),
    ...gone.map((line) => ({ ...line, value: 0, before: line.value })),
  ];
}

/** Sum of lines; a value that cannot be told counts as nothing. */
export const sumLines = (lines: readonly Line[]): number =>
  lines.reduce((so, line) => so + (line.value ?? 0), 0);

/** Change in parts per million of the year before; null without one, or from nothing. */
export const changePpm = (value: number | null, before: number | null): number | null =>
  value === null || before === null || before === 0
    ? null
    : Math.round(((value - before) / Math.abs(before)) * 1_000_000);
