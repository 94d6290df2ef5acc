/** What work on a knife is usually asked for after its sale. Common practice, no source. */
import { addMonths } from './calendar.ts';

/** Months after the sale in which the first sharpening is usually free, unless the maker says otherwise. */
export const USUAL_FREE_MONTHS = 12;

/** What is known of the knife when it comes in. */
export interface KnownKnife {
  /** Day it was sold; null for a knife of another hand or one not sold. */
  readonly soldOn: string | null;
  readonly receivedOn: string;
  /** Free sharpenings it had since that day. */
  readonly freeBefore: number;
}

/** Why it is proposed free: the first sharpening within some months, a warranty claim; null where it is paid for. */
export type FreeReason = 'firstYear' | 'warranty' | null;

/**
 * Whether a service is proposed free. The maker decides each time.
 * @param freeMonths months after the sale in which the first sharpening is free; none at zero
 */
export function freeReason(kind: string, knife: KnownKnife, freeMonths = USUAL_FREE_MONTHS): FreeReason {
  if (knife.soldOn === null) return null;
  if (kind === 'warranty') return 'warranty';
  if (kind !== 'sharpening' || knife.freeBefore > 0) return null;
  const within = knife.receivedOn >= knife.soldOn && knife.receivedOn < addMonths(knife.soldOn, freeMonths);
  return within ? 'firstYear' : null;
}
