/** A maker at the desk: asks the workshop through its contract, and stops at the first refusal. */
import type { CoreEndpointName, Input, Output } from '../api/contract.ts';
import { FaultError } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';

export type Ask = <N extends CoreEndpointName>(endpoint: N, input: Input<N>) => Promise<Output<N>>;

/** @throws FaultError naming the endpoint when the workshop refuses */
export const askThrough =
  (port: WorkshopPort): Ask =>
  async <N extends CoreEndpointName>(endpoint: N, input: Input<N>): Promise<Output<N>> => {
    const reply = await port.call(endpoint, input);
    if (!reply.ok) throw new FaultError({ ...reply.fault, message: `${endpoint}: ${reply.fault.message}` });
    return reply.value as Output<N>;
  };
