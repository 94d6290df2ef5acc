/** What work on a knife is usually asked for after its sale. Common practice, no source. */
import { addMonths } from './calendar.ts';

/** Months after the sale in which the first sharpening is usually free. */
const FREE_MONTHS = 12;

/** What is known of the knife when it comes in. */
export interface KnownKnife {
  /** Day it was sold; null for a knife of another hand or one not sold. */
  readonly soldOn: string | null;
  readonly receivedOn: string;
  /** Free sharpenings it had since that day. */
  readonly freeBefore: number;
}

/** Why it is proposed free: the first sharpening within a year, a warranty claim; null where it is paid for. */
export type FreeReason = 'firstYear' | 'warranty' | null;

/** Whether a service is proposed free. The maker decides each time. */
export function freeReason(kind: string, knife: KnownKnife): FreeReason {
  if (knife.soldOn === null) return null;
  if (kind === 'warranty') return 'warranty';
  if (kind !== 'sharpening' || knife.freeBefore > 0) return null;
  const within = knife.receivedOn >= knife.soldOn && knife.receivedOn < addMonths(knife.soldOn, FREE_MONTHS);
  return within ? 'firstYear' : null;
}
