/** Every use-case of the house: one per endpoint the core answers. A missing or an extra one does not compile. */
import { buildHandlers } from './builds/index.ts';
import { costHandlers } from './costs/index.ts';
import { deskHandlers } from './desk/index.ts';
import type { Handlers } from './handlers.ts';
import { hoursHandlers } from './hours/index.ts';
import { importHandlers } from './imports/index.ts';
import { marginHandlers } from './margins/index.ts';
import { sellingHandlers } from './selling/index.ts';
import { stockHandlers } from './stock/index.ts';
import { workshopHandlers } from './workshop/index.ts';

/** Every use-case by the call it answers. */
export const handlers = {
  ...workshopHandlers,
  ...stockHandlers,
  ...buildHandlers,
  ...hoursHandlers,
  ...costHandlers,
  ...sellingHandlers,
  ...marginHandlers,
  ...importHandlers,
  ...deskHandlers,
} satisfies Handlers;
