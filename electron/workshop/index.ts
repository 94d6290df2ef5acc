/** Every use-case of the house: one per endpoint the core answers. A missing or an extra one does not compile. */
import { archiveHandlers } from './archive/index.ts';
import { askedHandlers } from './asked/index.ts';
import { buildHandlers } from './builds/index.ts';
import { buyingHandlers } from './buying/index.ts';
import { consumableHandlers } from './consumables/index.ts';
import { costHandlers } from './costs/index.ts';
import { cuttingHandlers } from './cutting/index.ts';
import { deskHandlers } from './desk/index.ts';
import { fireHandlers } from './fires/index.ts';
import { gateHandlers } from './gates/index.ts';
import { heatHandlers } from './heats/index.ts';
import { hoursHandlers } from './hours/index.ts';
import { importHandlers } from './imports/index.ts';
import { makingHandlers } from './makings/index.ts';
import { marginHandlers } from './margins/index.ts';
import { moneyHandlers } from './money/index.ts';
import { nextHandlers } from './next/index.ts';
import { rackHandlers } from './rack/index.ts';
import { sealHandlers } from './seals/index.ts';
import { sellingHandlers } from './selling/index.ts';
import { stockHandlers } from './stock/index.ts';
import { stocktakeHandlers } from './stocktake/index.ts';
import { promiseHandlers } from './promises/index.ts';
import { quoteHandlers } from './quotes/index.ts';
import { trialHandlers } from './trials/index.ts';
import { waitHandlers } from './waits/index.ts';
import { buyerHandlers } from './buyers/index.ts';
import { orderHandlers } from './orders/index.ts';
import { billingHandlers } from './billing/index.ts';
import { paperHandlers } from './papers/index.ts';
import { releaseHandlers } from './releases/index.ts';
import { careHandlers } from './care/index.ts';
import { shippingHandlers } from './shipping/index.ts';
import { wayHandlers } from './ways/index.ts';
import { workshopHandlers } from './workshop/index.ts';
import { yearPaperHandlers } from './year-paper/index.ts';
import { preparerHandlers } from './preparer/index.ts';
import { yearHandlers } from './year/index.ts';
import type { Handlers } from './handlers.ts';

/** Every use-case by the call it answers. */
export const handlers = {
  ...workshopHandlers,
  ...sealHandlers,
  ...archiveHandlers,
  ...stockHandlers,
  ...stocktakeHandlers,
  ...buildHandlers,
  ...hoursHandlers,
  ...costHandlers,
  ...sellingHandlers,
  ...marginHandlers,
  ...moneyHandlers,
  ...yearHandlers,
  ...preparerHandlers,
  ...yearPaperHandlers,
  ...importHandlers,
  ...deskHandlers,
  ...rackHandlers,
  ...cuttingHandlers,
  ...makingHandlers,
  ...consumableHandlers,
  ...fireHandlers,
  ...waitHandlers,
  ...gateHandlers,
  ...heatHandlers,
  ...buyingHandlers,
  ...shippingHandlers,
  ...trialHandlers,
  ...promiseHandlers,
  ...quoteHandlers,
  ...wayHandlers,
  ...nextHandlers,
  ...askedHandlers,
  ...careHandlers,
  ...releaseHandlers,
  ...paperHandlers,
  ...billingHandlers,
  ...orderHandlers,
  ...buyerHandlers,
} satisfies Handlers;
