/** How figures of the year are written, and how they changed. */
import type { FigureUnit } from '../../../../electron/api/year.ts';
import { changePpm } from '../../../../electron/domain/year-lines.ts';
import { duration, money, whole } from '../../../lib/format.ts';

/** A figure in its unit; a dash where it cannot be told. */
export function written(unit: FigureUnit, value: number | null): string {
  if (value === null) return '–';
  if (unit === 'minutes') return duration(value);
  if (unit === 'count') return whole(value);
  return unit === 'perHour' ? `${money(value)}/h` : money(value);
}

/** E.g. `+12 %`; empty without a year before, or from nothing. */
export function changed(value: number | null, before: number | null): string {
  const ppm = changePpm(value, before);
  if (ppm === null) return '';
  const percent = Math.round(ppm / 10_000);
  return percent === 0 ? 'same' : `${percent > 0 ? '+' : '−'}${whole(Math.abs(percent))} %`;
}

/** A figure somebody wants to see the entries of. */
export interface Opened {
  readonly key: string;
  readonly label: string;
}
