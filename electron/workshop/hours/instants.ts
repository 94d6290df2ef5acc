/** Arithmetic with instants, which are UTC ISO text. */

/** Milliseconds from one instant to another; negative when the machine's clock was set back. */
export const millisecondsBetween = (from: string, to: string): number => Date.parse(to) - Date.parse(from);

/** The instant so many minutes later. */
export const minutesLater = (instant: string, minutes: number): string =>
  new Date(Date.parse(instant) + minutes * 60_000).toISOString();

/** Whole minutes, halves up; never below zero. */
export const wholeMinutes = (milliseconds: number): number => Math.max(0, Math.round(milliseconds / 60_000));
