/** The Workshop area's use-cases. */
import type { workshopEndpoints } from '../../api/workshop.ts';
import { copyNow, listCopies } from '../copies.ts';
import type { Handlers } from '../handlers.ts';
import { channels, saveChannel } from './channels.ts';
import { setUp, state, update } from './details.ts';
import { history } from './history.ts';
import { rates, setRate } from './rates.ts';
import { saveStage, stages } from './stages.ts';
import { saveTaxPlace, taxPlaces } from './tax-places.ts';

/** Which use-case answers which call. */
export const workshopHandlers: Pick<Handlers, keyof typeof workshopEndpoints> = {
  'workshop.state': state,
  'workshop.setUp': setUp,
  'workshop.update': update,
  'workshop.rates': rates,
  'workshop.setRate': setRate,
  'workshop.taxPlaces': taxPlaces,
  'workshop.saveTaxPlace': saveTaxPlace,
  'workshop.channels': channels,
  'workshop.saveChannel': saveChannel,
  'workshop.stages': stages,
  'workshop.saveStage': saveStage,
  'workshop.copies': listCopies,
  'workshop.copyNow': copyNow,
  'workshop.history': history,
};
