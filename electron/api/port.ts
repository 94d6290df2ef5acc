/** The one way into the workshop core, whichever thread or process it runs in. */
import type { Reply } from './errors.ts';

export interface WorkshopPort {
  /** Calls an endpoint of the contract by name. Never rejects: every failure is a `Fault` in the reply. */
  call(endpoint: string, input: unknown): Promise<Reply>;
  /** Finishes what is under way, checkpoints and releases the workshop folder. */
  close(): Promise<void>;
}
