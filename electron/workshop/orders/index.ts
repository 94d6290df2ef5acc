/** Use-cases of the order book: wishes, offers, pre-orders, deposits, the waiting list. */
import type { orderEndpoints } from '../../api/orders.ts';
import { countOrders, listOrders, orderOfBuild } from '../../storage/queries/orders.ts';
import type { Handlers } from '../handlers.ts';
import type { PlannedPaper } from '../selling/issue.ts';
import { agree, prepareAgree, type PreparedAgreement } from './agree.ts';
import { cancel, prepareCancel, type PreparedCancel } from './cancel.ts';
import { change, offer } from './change.ts';
import { deliver, prepareDeliver, type PreparedDelivery } from './deliver.ts';
import { invoiceDeposit, prepareFurtherDeposit } from './deposit.ts';
import { orderDetail } from './detail.ts';
import { link, unlink } from './link.ts';
import { bookHead } from './head.ts';
import { offerPdf } from './offer-paper.ts';
import { policies, savePolicy } from './policies.ts';
import { needOrder, toOrderRow } from './rows.ts';
import { ask, close, contacted, move, stepBack } from './waiting.ts';

/** Which use-case answers which call. */
export const orderHandlers: Pick<Handlers, keyof typeof orderEndpoints> = {
  'orders.policies': policies,
  'orders.savePolicy': { run: (ctx, input) => savePolicy(ctx, input) },
  'orders.head': (ctx) => bookHead(ctx.db, ctx.clock.today()),
  'orders.list': (ctx, { limit, offset, ...asked }) => {
    const today = ctx.clock.today();
    const filter = { ...asked, today };
    return {
      rows: listOrders(ctx.db, filter, limit, offset).map((record) => toOrderRow(record, today)),
      total: countOrders(ctx.db, filter),
    };
  },
  'orders.get': (ctx, { id }) => orderDetail(ctx.db, id, ctx.clock.today()),
  'orders.ofBuild': (ctx, { buildId }) => {
    const found = orderOfBuild(ctx.db, buildId);
    return { order: found === undefined ? null : toOrderRow(needOrder(ctx.db, found.id), ctx.clock.today()) };
  },
  'orders.ask': { run: (ctx, input) => ask(ctx, input) },
  'orders.move': { run: (ctx, input) => move(ctx, input) },
  'orders.contacted': { run: (ctx, input) => contacted(ctx, input) },
  'orders.offer': { run: (ctx, input) => offer(ctx, input) },
  'orders.offerPdf': (ctx, input) => offerPdf(ctx, input),
  'orders.change': { run: (ctx, input) => change(ctx, input) },
  'orders.agree': {
    prepare: (ctx, input) => prepareAgree(ctx, input),
    run: (ctx, input, prepared: PreparedAgreement) => agree(ctx, input, prepared),
  },
  'orders.invoiceDeposit': {
    prepare: (ctx, input) => prepareFurtherDeposit(ctx, input),
    run: (ctx, input, prepared: PlannedPaper) => invoiceDeposit(ctx, input, prepared),
  },
  'orders.deliver': {
    prepare: (ctx, input) => prepareDeliver(ctx, input),
    run: (ctx, input, prepared: PreparedDelivery) => deliver(ctx, input, prepared),
  },
  'orders.cancel': {
    prepare: (ctx, input) => prepareCancel(ctx, input),
    run: (ctx, input, prepared: PreparedCancel) => cancel(ctx, input, prepared),
  },
  'orders.close': { run: (ctx, input) => close(ctx, input) },
  'orders.stepBack': { run: (ctx, input) => stepBack(ctx, input) },
  'orders.link': { run: (ctx, input) => link(ctx, input) },
  'orders.unlink': { run: (ctx, input) => unlink(ctx, input) },
};
