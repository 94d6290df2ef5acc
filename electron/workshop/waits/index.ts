/** Use-cases of unattended time: which one answers which call. */
import type { waitEndpoints } from '../../api/waits.ts';
import type { Handlers } from '../handlers.ts';
import { change, done, drop, start } from './change.ts';
import { list } from './list.ts';

/** Which use-case answers which call. */
export const waitHandlers: Pick<Handlers, keyof typeof waitEndpoints> = {
  'waits.list': list,
  'waits.start': start,
  'waits.done': done,
  'waits.change': change,
  'waits.drop': drop,
};
