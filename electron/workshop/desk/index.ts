/** The bench, find-anything and pinned files. */
import type { deskEndpoints } from '../../api/desk.ts';
import { fileHandlers } from '../files/index.ts';
import type { Handlers } from '../handlers.ts';
import { today } from './bench.ts';
import { anything } from './find.ts';

/** Which use-case answers which call. */
export const deskHandlers: Pick<Handlers, keyof typeof deskEndpoints> = {
  'bench.today': today,
  'find.anything': anything,
  ...fileHandlers,
};
