/** Use-cases of this area: which one answers which call. */
import type { consumableEndpoints } from '../../api/consumables.ts';
import type { Handlers } from '../handlers.ts';
import { count } from './count.ts';
import { ladder, setRung } from './ladder.ts';
import { life, openings, shelf } from './life.ts';
import { open, peg, share, takeBack } from './open.ts';

export const consumableHandlers: Pick<Handlers, keyof typeof consumableEndpoints> = {
  'consumables.shelf': shelf,
  'consumables.open': open,
  'consumables.share': share,
  'consumables.peg': peg,
  'consumables.takeBack': takeBack,
  'consumables.openings': openings,
  'consumables.life': life,
  'consumables.count': count,
  'consumables.ladder': ladder,
  'consumables.setRung': setRung,
};
