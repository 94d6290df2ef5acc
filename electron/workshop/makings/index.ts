/** Use-cases of makings: which one answers which call. */
import type { makingEndpoints } from '../../api/makings.ts';
import { makingCount, makingPage } from '../../storage/queries/makings.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor, Handlers } from '../handlers.ts';
import { makingDetail } from './detail.ts';
import { finish, reopen, scrap } from './end.ts';
import { failures } from './failures.ts';
import { makingPaper } from './paper.ts';
import { makingRows } from './rows.ts';
import { charge, giveBack, reverseCharge, take } from './take.ts';
import { dropStep, start, step, update } from './work.ts';

const list: HandlerFor<'makings.list'> = (ctx, input) => ({
  rows: makingRows(ctx.db, makingPage(ctx.db, input)),
  total: makingCount(ctx.db, input),
});

const sheetPdf: HandlerFor<'makings.sheetPdf'> = async (ctx, { id }) => {
  const making = makingDetail(ctx.db, id);
  const { shop, currency } = houseOf(ctx.db);
  const house = { name: shop.name, paper: shop.paper, madeAt: ctx.clock.now(), currency };
  const ounces = shop.weight_habit === 'oz';
  const paper = makingPaper(making, { ...house, ounces, today: ctx.clock.today() });
  return pdfOut(`Making ${making.tag}`, await ctx.renderer.making(paper));
};

/** Which use-case answers which call. */
export const makingHandlers: Pick<Handlers, keyof typeof makingEndpoints> = {
  'makings.list': list,
  'makings.get': (ctx, { id }) => makingDetail(ctx.db, id),
  'makings.start': start,
  'makings.update': update,
  'makings.step': step,
  'makings.dropStep': dropStep,
  'makings.take': take,
  'makings.giveBack': giveBack,
  'makings.charge': charge,
  'makings.reverseCharge': reverseCharge,
  'makings.finish': finish,
  'makings.scrap': scrap,
  'makings.reopen': reopen,
  'makings.failures': failures,
  'makings.sheetPdf': sheetPdf,
};
