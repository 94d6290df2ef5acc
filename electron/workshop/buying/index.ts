/** Use-cases of the buying list: which one answers which call. */
import type { buyingEndpoints } from '../../api/buying.ts';
import type { Handlers } from '../handlers.ts';
import { list } from './list.ts';
import { drop, order, orders, receive } from './orders.ts';

export const buyingHandlers: Pick<Handlers, keyof typeof buyingEndpoints> = {
  'buying.list': list,
  'buying.orders': orders,
  'buying.order': order,
  'buying.drop': drop,
  'buying.receive': receive,
};
