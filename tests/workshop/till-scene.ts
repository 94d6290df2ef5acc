/** What every step of the till is told: the books, the step, the day, and how to send a command. */
import type { CoreEndpointName } from '../../electron/api/contract.ts';
import type { Reply } from '../../electron/api/errors.ts';
import type { Rig } from './rig.ts';

/** One thing a person may do; numbers are taken modulo what there is. */
export interface Step {
  readonly do: string;
  readonly at: number;
  /** Thousandths of what there is, a little more than all of it too. */
  readonly part: number;
  /** Days that pass before it, and days it is dated back. */
  readonly days: number;
  readonly back: number;
  readonly yes: boolean;
  readonly how: number;
}

/** What a till is opened from: books of a stocked workshop with finished knives and rules, in a folder of their own. */
export interface Stocked {
  readonly folder: string;
  readonly buyers: readonly string[];
  readonly places: readonly (string | null)[];
  readonly channels: readonly string[];
  readonly policies: readonly string[];
  readonly modelId: string;
}

export interface Till extends Rig {
  readonly stocked: Stocked;
}

export interface Scene {
  readonly till: Till;
  readonly step: Step;
  /** The day it is dated on. */
  readonly on: string;
  readonly send: (name: CoreEndpointName, input: unknown) => Promise<Reply>;
}

export const nothing: Reply = {
  ok: false,
  fault: { kind: 'missing', message: 'There is nothing to do it to.' },
};

export const pick = <T>(list: readonly T[], at: number): T | undefined => list[at % Math.max(1, list.length)];

export const priceOf = (step: Step) => ({
  priceMinor: 9_990 + step.part * 37,
  shippingMinor: step.yes ? 1_213 : 0,
});
