/** Queries that keep themselves fresh: asked again whenever their input or the books change. */
import { untrack } from 'svelte';
import type { EndpointName, Endpoints, Input, Output } from '../../electron/api/contract.ts';
import { FaultError } from '../../electron/api/errors.ts';
import type { Fault } from '../../electron/api/errors.ts';
import { follow } from './follow.ts';
import { daysIn } from './format.ts';
import { shop } from './shop.svelte.ts';

/** Names of the endpoints that only read. */
export type QueryName = {
  [N in EndpointName]: Endpoints[N]['kind'] extends 'query' ? N : never;
}[EndpointName];

/** Turns whatever was thrown into a fault that can be shown. */
export const faultOf = (thrown: unknown): Fault => {
  if (thrown instanceof FaultError) return { ...thrown.fault, message: daysIn(thrown.fault.message) };
  return { kind: 'internal', message: thrown instanceof Error ? thrown.message : String(thrown) };
};

export interface Live<T> {
  /** The newest answer; the one before it stays while the next is on its way. */
  readonly value: T | undefined;
  readonly fault: Fault | undefined;
  readonly loading: boolean;
  /** Asks again now. */
  again(): void;
}

class LiveQuery<N extends QueryName> implements Live<Output<N>> {
  value = $state.raw<Output<N>>();
  fault = $state.raw<Fault>();
  loading = $state(true);
  #asked = 0;
  #wanted = $state(0);
  readonly #name: N;

  constructor(name: N, input: () => Input<N> | undefined) {
    this.#name = name;
    $effect(() => {
      const now = input();
      follow(shop.version, this.#wanted);
      if (now === undefined) this.loading = false;
      else untrack(() => void this.#ask(now));
    });
  }

  again(): void {
    this.#wanted += 1;
  }

  async #ask(input: Input<N>): Promise<void> {
    const ticket = ++this.#asked;
    this.loading = true;
    try {
      const value = await shop.call(this.#name, input);
      if (ticket !== this.#asked) return;
      this.value = value;
      this.fault = undefined;
    } catch (thrown) {
      if (ticket === this.#asked) this.fault = faultOf(thrown);
    } finally {
      if (ticket === this.#asked) this.loading = false;
    }
  }
}

/**
 * A query for a screen; call it while the component is being set up.
 * @param input read reactively; undefined means "not yet"
 */
export const live = <N extends QueryName>(name: N, input: () => Input<N> | undefined): Live<Output<N>> =>
  new LiveQuery(name, input);
