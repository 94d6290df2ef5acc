/** Every failure leaves the core as a plain value with a sentence for a person. */
import { type Fault, FaultError, type Reply } from '../api/errors.ts';
import { TooLarge } from '../domain/integers.ts';
import { closedDayIn } from '../storage/seal/guard.ts';
import { asTrouble } from '../storage/trouble.ts';
import { closedSentence } from './closed/sentence.ts';

const OURS =
  'Something went wrong inside Knifewright; nothing was changed. Try again, and restart the program if it happens once more.';

const TOO_LARGE = 'A figure in this is more than the books can hold. Check the amounts and quantities.';

/** Where a mistake of ours is noted for whoever mends it. */
export type Log = (line: string) => void;

/** Turns whatever was thrown into a fault; what is nobody's fault but ours is logged. */
export function toFault(error: unknown, where: string, log: Log): Fault {
  if (error instanceof FaultError) return error.fault;
  if (error instanceof TooLarge) return { kind: 'invalid', message: TOO_LARGE };
  const closed = closedDayIn(error);
  if (closed !== undefined) return { kind: 'refused', message: closedSentence(closed) };
  const trouble = asTrouble(error);
  if (trouble) return { kind: 'storage', message: trouble.message };
  log(`${where}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
  return { kind: 'internal', message: OURS };
}

/** A reply that carries a fault. */
export const failed = (fault: Fault): Reply => ({ ok: false, fault });
