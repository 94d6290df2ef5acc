/** The table of use-cases, typed by the contract: a missing or an extra one does not compile. */
import type { CoreEndpointName, Endpoints, Output, Parsed } from '../api/contract.ts';
import type { CommandHandler, QueryHandler } from './context.ts';

/** The handler one endpoint of the contract asks for. */
export type HandlerFor<N extends CoreEndpointName> = Endpoints[N]['kind'] extends 'query'
  ? QueryHandler<Parsed<N>, Output<N>>
  : CommandHandler<Parsed<N>, Output<N>>;

/** One handler per endpoint the core answers (all but `host.*`, which the host answers itself). */
export type Handlers = { readonly [N in CoreEndpointName]: HandlerFor<N> };
