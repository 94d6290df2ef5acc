/** Use-cases of First look: which one answers which call. */
import type { releaseEndpoints } from '../../api/releases.ts';
import type { Handlers } from '../handlers.ts';
import { free, hold, ofBuild, running } from './claims.ts';
import { draw, enter, leave, next } from './lot.ts';
import { message } from './message.ts';
import { move, told, withdraw } from './move.ts';
import { previewPage, previewPdf } from './preview.ts';
import { save } from './save.ts';
import { candidates, get, list } from './views.ts';

/** Which use-case answers which call. */
export const releaseHandlers: Pick<Handlers, keyof typeof releaseEndpoints> = {
  'releases.list': list,
  'releases.get': get,
  'releases.candidates': candidates,
  'releases.save': save,
  'releases.move': move,
  'releases.withdraw': withdraw,
  'releases.told': told,
  'releases.hold': hold,
  'releases.free': free,
  'releases.ofBuild': ofBuild,
  'releases.running': running,
  'releases.enter': enter,
  'releases.leave': leave,
  'releases.draw': draw,
  'releases.next': next,
  'releases.message': message,
  'releases.previewPdf': previewPdf,
  'releases.previewPage': previewPage,
};
