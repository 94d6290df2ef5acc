/**
 * The contract: every endpoint of the application, once.
 * The renderer's client, the preload's allow-list, Electron IPC, `POST /rpc` and the core's handler table derive from it;
 * a missing or an extra endpoint is a compile error.
 */
import { archiveEndpoints } from './archive.ts';
import { askedEndpoints } from './asked.ts';
import { buildEndpoints } from './builds.ts';
import { buyingEndpoints } from './buying.ts';
import { consumableEndpoints } from './consumables.ts';
import { costEndpoints } from './costs.ts';
import { cuttingEndpoints } from './cutting.ts';
import { deskEndpoints } from './desk.ts';
import type { InputOf, OutputOf, ParsedOf } from './endpoint.ts';
import { fireEndpoints } from './fires.ts';
import { gateEndpoints } from './gates.ts';
import { heatEndpoints } from './heats.ts';
import { hostEndpoints } from './host.ts';
import { hoursEndpoints } from './hours.ts';
import { importEndpoints } from './imports.ts';
import { makingEndpoints } from './makings.ts';
import { marginEndpoints } from './margins.ts';
import { moneyEndpoints } from './money.ts';
import { nextEndpoints } from './next.ts';
import { rackEndpoints } from './rack.ts';
import { sealEndpoints } from './seals.ts';
import { sellingEndpoints } from './selling.ts';
import { stockEndpoints } from './stock.ts';
import { stocktakeEndpoints } from './stocktakes.ts';
import { promiseEndpoints } from './promises.ts';
import { quoteEndpoints } from './quotes.ts';
import { trialEndpoints } from './trials.ts';
import { waitEndpoints } from './waits.ts';
import { buyerEndpoints } from './buyers.ts';
import { orderEndpoints } from './orders.ts';
import { billingEndpoints } from './billing.ts';
import { paperEndpoints } from './papers.ts';
import { releaseEndpoints } from './releases.ts';
import { careEndpoints } from './care.ts';
import { shippingEndpoints } from './shipping.ts';
import { yearPaperEndpoints } from './year-paper.ts';
import { preparerEndpoints } from './preparer.ts';
import { wayEndpoints } from './ways.ts';
import { workshopEndpoints } from './workshop.ts';
import { yearEndpoints } from './year.ts';

/** Answered by the workshop core. */
export const coreEndpoints = {
  ...workshopEndpoints,
  ...sealEndpoints,
  ...archiveEndpoints,
  ...stockEndpoints,
  ...stocktakeEndpoints,
  ...buildEndpoints,
  ...hoursEndpoints,
  ...costEndpoints,
  ...sellingEndpoints,
  ...marginEndpoints,
  ...moneyEndpoints,
  ...yearEndpoints,
  ...preparerEndpoints,
  ...yearPaperEndpoints,
  ...importEndpoints,
  ...deskEndpoints,
  ...rackEndpoints,
  ...cuttingEndpoints,
  ...makingEndpoints,
  ...consumableEndpoints,
  ...fireEndpoints,
  ...waitEndpoints,
  ...gateEndpoints,
  ...heatEndpoints,
  ...buyingEndpoints,
  ...shippingEndpoints,
  ...trialEndpoints,
  ...promiseEndpoints,
  ...quoteEndpoints,
  ...wayEndpoints,
  ...nextEndpoints,
  ...askedEndpoints,
  ...careEndpoints,
  ...releaseEndpoints,
  ...paperEndpoints,
  ...billingEndpoints,
  ...orderEndpoints,
  ...buyerEndpoints,
} as const;

/** Every call there is: answered by the core, or by the host itself. */
export const endpoints = { ...coreEndpoints, ...hostEndpoints } as const;

export type Endpoints = typeof endpoints;
export type EndpointName = keyof Endpoints;
export type CoreEndpointName = keyof typeof coreEndpoints;
export type HostEndpointName = keyof typeof hostEndpoints;

/** What a caller may pass to an endpoint. */
export type Input<N extends EndpointName> = InputOf<Endpoints[N]>;
/** What its handler receives after parsing. */
export type Parsed<N extends EndpointName> = ParsedOf<Endpoints[N]>;
/** What it answers. */
export type Output<N extends EndpointName> = OutputOf<Endpoints[N]>;
