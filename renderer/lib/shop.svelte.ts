/** What every screen needs to know: which workshop is open, its money and units, and the way to call it. */
import type { EndpointName, Input, Output } from '../../electron/api/contract.ts';
import type { HostInfo } from '../../electron/api/host.ts';
import type { Workshop, WorkshopState } from '../../electron/api/workshop.ts';
import { refused } from '../../electron/api/errors.ts';
import type { ApiClient } from './client.ts';
import type { Transport } from './transport.ts';
import { unsaved } from './unsaved.svelte.ts';

class Shop {
  state = $state.raw<WorkshopState>();
  host = $state.raw<HostInfo>();
  /** Grows whenever the books have changed, so that what is shown is asked for again. */
  version = $state(0);
  /** A sentence while the program or its disk does not answer. */
  stopped = $state<string>();
  /** True while other books are open than those something was written for on this page; nothing is asked or sent then. */
  held = $state(false);
  /** Set while the person is asked what becomes of what was written. */
  asking = $state(false);
  #client: ApiClient | undefined;
  /** True while this page itself opens other books. */
  #moving = false;

  get workshop(): Workshop | undefined {
    return this.state?.workshop ?? undefined;
  }
  get currency(): string {
    return this.workshop?.currency ?? 'USD';
  }
  get decimals(): number {
    return this.state?.decimals ?? 2;
  }
  /** The workshop's day as ISO text. */
  get today(): string {
    return this.state?.today ?? '2024-01-01';
  }
  get isInch(): boolean {
    return (this.workshop?.lengthHabit ?? 'inch') === 'inch';
  }
  get isOunce(): boolean {
    return (this.workshop?.weightHabit ?? 'oz') === 'oz';
  }

  connect(client: ApiClient): void {
    this.#client = client;
    client.onSeq((_seq, { otherBooks }) => {
      if (this.held) return;
      if (otherBooks && !this.#moving && unsaved.any()) void this.#follow();
      else this.version += 1;
    });
  }

  /** Calls an endpoint; throws a `FaultError`. */
  call<N extends EndpointName>(name: N, input: Input<N>): Promise<Output<N>> {
    if (this.#client === undefined) throw new Error('The page is not connected yet.');
    if (this.held && !this.#moving) throw refused('Other books were opened in another tab.');
    return this.#client.call(name, input);
  }

  /** Asks anew which workshop is open and how it is set up. */
  async load(): Promise<void> {
    if (this.held && !this.#moving) return;
    const [state, host] = await Promise.all([this.call('workshop.state', {}), this.call('host.info', {})]);
    const isOther = this.host !== undefined && this.host.folder !== host.folder;
    if (isOther && !this.#moving && unsaved.any()) {
      this.held = true;
      this.asking = true;
      return;
    }
    this.state = state;
    this.host = host;
  }

  /** Goes where another tab has gone, unless that would take what was written here along. */
  async #follow(): Promise<void> {
    await this.load().catch(() => undefined);
    if (!this.held) this.version += 1;
  }

  /**
   * Changes to the demo workshop or back; everything shown is asked for anew.
   * @returns false when the person would rather finish what is written here
   */
  async change(to: 'host.openDemo' | 'host.openOwn'): Promise<boolean> {
    if (!(await unsaved.mayGo())) return false;
    this.#moving = true;
    try {
      await this.call(to, {});
      await this.anew();
    } finally {
      this.#moving = false;
    }
    return true;
  }

  /** Asks for everything that is shown once more, after other books were opened. */
  async anew(): Promise<void> {
    await this.load();
    this.version += 1;
  }

  /** Opens the books again that were open when it was written; it stays as it is. */
  async backToHeld(): Promise<void> {
    this.#moving = true;
    try {
      await this.call(this.host?.demo === true ? 'host.openDemo' : 'host.openOwn', {});
      this.held = false;
      this.asking = false;
      await this.anew();
    } finally {
      this.#moving = false;
    }
  }

  /** Throws away what was written, and shows the books that are open now. */
  async letHeldGo(): Promise<void> {
    unsaved.forget();
    this.held = false;
    this.asking = false;
    await this.anew();
  }

  /** True, and asked once more, where what was written belongs to books that are not open now. */
  stopsAtHeld(): boolean {
    if (this.held) this.asking = true;
    return this.held;
  }
}

export const shop = new Shop();

/** Notices when the program behind the page no longer answers, and when it does again. */
export const watched = (transport: Transport): Transport => ({
  async invoke(endpoint, input) {
    const reply = await transport.invoke(endpoint, input);
    if (reply.ok) shop.stopped = undefined;
    else if (reply.fault.kind === 'storage' || reply.fault.kind === 'forbidden')
      shop.stopped = reply.fault.message;
    return reply;
  },
});
