/** First look in words, and its instants as a person types them. */
import type { LogWhat, ReleaseKnife, ReleaseRule } from '../../../electron/api/releases.ts';
import type { ReleasePhase } from '../../../electron/domain/releases.ts';

export const phaseWords: Readonly<Record<ReleasePhase, string>> = {
  draft: 'Draft',
  set: 'Set, not shown yet',
  shown: 'Preview is out',
  early: 'Early window open',
  draw: 'By the draw',
  public: 'Open to all',
  over: 'Over',
  dropped: 'Dropped',
};

export const ruleWords: Readonly<Record<ReleaseRule, string>> = {
  first: 'Who asks first buys',
  lot: 'By lot',
};

export const knifeStateWords: Readonly<Record<ReleaseKnife['state'], string>> = {
  free: 'Free',
  held: 'Held',
  offered: 'Offered',
  sold: 'Sold',
  withdrawn: 'Withdrawn',
  gone: 'Not for sale any more',
};

export const logWords: Readonly<Record<LogWhat, string>> = {
  set: 'Release set',
  changed: 'Changed',
  backToDraft: 'Back to a draft',
  told: 'Early group told',
  withdrawn: 'Knife withdrawn',
  held: 'Held',
  offered: 'Offered',
  lapsed: 'Ran out',
  declined: 'Declined',
  freed: 'Freed',
  sold: 'Sold',
  broughtBack: 'Came back',
  entered: 'Name in the hat',
  entryWithdrawn: 'Name taken out',
  drawn: 'Drawn',
  passedOver: 'Passed over',
  ended: 'Release ended',
  dropped: 'Release dropped',
};

const two = (value: number): string => String(value).padStart(2, '0');

/** A day and a time as typed: minutes after midnight, undefined while nothing is written. */
export interface Typed {
  day: string;
  minutes: number | undefined;
}

/** The instant of a local day and time; an empty text while one of them is missing. */
export const instantOf = ({ day, minutes }: Typed): string => {
  if (day === '' || minutes === undefined) return '';
  const at = new Date(`${day}T${two(Math.floor(minutes / 60))}:${two(minutes % 60)}:00`);
  return Number.isNaN(at.getTime()) ? '' : at.toISOString();
};

/** The local day and time of an instant. */
export const typedOf = (instant: string): Typed => {
  const at = new Date(instant);
  return {
    day: `${String(at.getFullYear())}-${two(at.getMonth() + 1)}-${two(at.getDate())}`,
    minutes: at.getHours() * 60 + at.getMinutes(),
  };
};

const HOUR = 60;
const DAY = 24 * HOUR;

/** Minutes for a glance: `12 min`, `3 h`, `2 d 4 h`. */
export const spanText = (minutes: number): string => {
  if (minutes < HOUR) return `${String(minutes)} min`;
  const days = Math.floor(minutes / DAY);
  const hours = Math.floor((minutes % DAY) / HOUR);
  if (days === 0) return `${String(hours)} h${minutes % HOUR === 0 ? '' : ` ${String(minutes % HOUR)} min`}`;
  return `${String(days)} d${hours === 0 ? '' : ` ${String(hours)} h`}`;
};
