/** Waits in the trade's words, with the caution that belongs to each. */
import type { Wait, WaitKind } from '../../../electron/api/waits.ts';
import { count, duration } from '../../lib/format.ts';

export const waitWords: Readonly<Record<WaitKind, string>> = {
  kiln: 'Kiln',
  temper: 'Temper',
  anneal: 'Anneal',
  cold: 'Cold treatment',
  glue: 'Glue cures',
  etch: 'Etch',
  oilCoat: 'Oil coat dries',
  leather: 'Leather dries',
  pickle: 'Pickle',
  other: 'Something else',
};

type Named = Pick<Wait, 'kind' | 'label'>;

/** What it is called: its own label, else the word for its kind. */
export const waitName = (wait: Named): string => (wait.label === '' ? waitWords[wait.kind] : wait.label);

/** What lies in it: serials, a making, or nothing. */
export const waitsOn = (wait: Pick<Wait, 'builds' | 'makingTitle'>): string =>
  wait.makingTitle ?? wait.builds.map((build) => build.serial).join(', ');

/** `Epoxy cures on W01, W02`. */
export const waitTitle = (wait: Wait): string => {
  const on = waitsOn(wait);
  return on === '' ? waitName(wait) : `${waitName(wait)} · ${on}`;
};

const dayMinutes = 24 * 60;

/** A length of time as one says it: from two days on in days and hours, from ten on in days. */
export const longSpan = (minutes: number): string => {
  const days = Math.floor(minutes / dayMinutes);
  if (days < 2) return duration(minutes);
  const hours = Math.floor((minutes % dayMinutes) / 60);
  return days < 10 && hours > 0 ? `${count(days, 'day')} ${String(hours)} h` : count(days, 'day');
};

/** How it stands, e.g. `3 h 20 min left` or `over for 12 min`. */
export const standing = (wait: Wait): string => {
  if (wait.minutesLeft > 0) return `${longSpan(wait.minutesLeft)} left`;
  return wait.minutesLeft > -1 ? 'over just now' : `over for ${longSpan(-wait.minutesLeft)}`;
};

const sheet = 'Follow the maker’s sheet and your local code.';
const hot = `Unattended is not unwatched: clear what can burn, keep an extinguisher and an alarm near, and never leave a burning forge. ${sheet}`;
const acid = `Acids: a lid that is not tight, good air, gloves and eye protection; out of reach of children and animals. ${sheet}`;

/** The usual caution of a kind. Common practice, no source; each defers to safety sheet, local code and licensed practice. */
export const waitCaution: Readonly<Partial<Record<WaitKind, string>>> = {
  kiln: hot,
  temper: hot,
  anneal: hot,
  cold: `Cold burns, and dry ice or nitrogen drives out the air: gloves, eye protection, open doors, never in a tight box. ${sheet}`,
  glue: `The glue’s own sheet says how long it cures and how warm it must be; epoxy harms the skin. ${sheet}`,
  etch: acid,
  pickle: acid,
  oilCoat: `Rags with drying oil can catch fire by themselves: lay them flat outdoors or under water in a closed tin. ${sheet}`,
};
