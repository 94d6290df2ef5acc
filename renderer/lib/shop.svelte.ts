/** What every screen needs to know: which workshop is open, its money and units, and the way to call it. */
import type { EndpointName, Input, Output } from '../../electron/api/contract.ts';
import type { HostInfo } from '../../electron/api/host.ts';
import type { Workshop, WorkshopState } from '../../electron/api/workshop.ts';
import type { ApiClient } from './client.ts';
import type { Transport } from './transport.ts';

class Shop {
  state = $state.raw<WorkshopState>();
  host = $state.raw<HostInfo>();
  /** Grows whenever the books have changed, so that what is shown is asked for again. */
  version = $state(0);
  /** A sentence while the program or its disk does not answer. */
  stopped = $state<string>();
  #client: ApiClient | undefined;

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
    client.onSeq(() => {
      this.version += 1;
    });
  }

  /** Calls an endpoint; throws a `FaultError`. */
  call<N extends EndpointName>(name: N, input: Input<N>): Promise<Output<N>> {
    if (this.#client === undefined) throw new Error('The page is not connected yet.');
    return this.#client.call(name, input);
  }

  /** Asks anew which workshop is open and how it is set up. */
  async load(): Promise<void> {
    const [state, host] = await Promise.all([this.call('workshop.state', {}), this.call('host.info', {})]);
    this.state = state;
    this.host = host;
  }

  /** Changes to the demo workshop or back; everything shown is asked for anew. */
  async change(to: 'host.openDemo' | 'host.openOwn'): Promise<void> {
    await this.call(to, {});
    await this.anew();
  }

  /** Asks for everything that is shown once more, after other books were opened. */
  async anew(): Promise<void> {
    await this.load();
    this.version += 1;
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
