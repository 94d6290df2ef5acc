/** Use-cases of oil, gas and current: which one answers which call. */
import type { fireEndpoints } from '../../api/fires.ts';
import type { Handlers } from '../handlers.ts';
import { changeOil, noteBath, pour } from './bath-events.ts';
import { baths, saveBath } from './baths.ts';
import { burns, takeBack } from './burns.ts';
import { current } from './current.ts';
import { gas } from './gas.ts';
import { fires, saveFire, setTariff, tariffs } from './ovens.ts';
import { quench, reverseEvent } from './quench.ts';

export const fireHandlers: Pick<Handlers, keyof typeof fireEndpoints> = {
  'baths.list': baths,
  'baths.save': saveBath,
  'baths.pour': pour,
  'baths.quench': quench,
  'baths.note': noteBath,
  'baths.change': changeOil,
  'baths.reverse': reverseEvent,
  'fires.list': fires,
  'fires.save': saveFire,
  'fires.tariffs': tariffs,
  'fires.setTariff': setTariff,
  'fires.gas': gas,
  'fires.current': current,
  'fires.burns': burns,
  'fires.takeBack': takeBack,
};
