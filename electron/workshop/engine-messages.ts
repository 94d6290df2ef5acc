/** What travels between a host and the thread the core runs in. */
import type { Fault, Reply } from '../api/errors.ts';

/** How the core is to be opened. */
export interface EngineOptions {
  /** The workshop folder. */
  readonly folder: string;
  /** Make a new workshop when the folder has none yet. */
  readonly create: boolean;
  /** As a person would call this program, e.g. "Knifewright in the browser". */
  readonly holderName: string;
  /** `desktop`, `loopback`, … */
  readonly hostKind?: string;
  readonly demo?: boolean;
  /** Name of a safety copy to go back to before opening; the present books are kept beside the copies. */
  readonly goBackTo?: string;
  /** UTC ISO instant the demo's clock stands at when it opens. */
  readonly demoAsOf?: string;
}

export type ToEngine =
  | { readonly what: 'call'; readonly id: number; readonly endpoint: string; readonly input: unknown }
  | { readonly what: 'close' };

export type FromEngine =
  | { readonly what: 'opened' }
  | { readonly what: 'refused'; readonly fault: Fault }
  | { readonly what: 'reply'; readonly id: number; readonly reply: Reply }
  | { readonly what: 'closed' };
