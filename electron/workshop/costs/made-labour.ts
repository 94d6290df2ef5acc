/** Hours that came along in material made here: shown apart on the knife's sheet, never among its own. */
import type { Working } from '../../api/costs.ts';
import { minutesText } from '../../domain/durations.ts';
import type { ReadDb } from '../../storage/db.ts';
import { makingTagOf } from '../../storage/queries/lots.ts';
import { makingsInKnife } from '../../storage/queries/makings.ts';
import { labourOfMaking } from '../makings/labour.ts';

/** What one making gave the knife. */
export interface MadeLabour {
  readonly minutes: number;
  readonly valueMicro: number;
  readonly working: Working;
}

/** One entry for each making whose goods are in the knife and carry hours, in the order they were begun. */
export const madeLabourOf = (db: ReadDb, buildId: string): MadeLabour[] =>
  makingsInKnife(db, buildId).flatMap((making) => {
    const all = labourOfMaking(db, making.id);
    const own = all.taken.filter(({ taking }) => taking.build_id === buildId);
    const minutes = own.reduce((so, part) => so + part.minutes, 0);
    const valueMicro = own.reduce((so, part) => so + part.valueMicro, 0);
    if (minutes === 0) return [];
    const working: Working = {
      on: making.ended_on ?? '',
      label: `${making.title} (${makingTagOf(making.number)})`,
      how: `${minutes} min of ${minutesText(all.minutes)} at the rates of their days`,
      exactMicro: valueMicro,
      rung: null,
      source: { kind: 'making', id: making.id },
    };
    return [{ minutes, valueMicro, working }];
  });
