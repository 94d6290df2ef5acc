/** The hours of makings: what they are worth at the rates of their days, and which taking carries how much of them. */
import { mulDiv, roundHalfAwayBig, toSafe } from '../../domain/integers.ts';
import { minutesByLot, minutesByTaking } from '../../domain/making-labour.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  makingInputs,
  makingOfLot,
  makingOutputs,
  makingRow,
  makingSessions,
  type MakingSession,
  takingsOf,
  type TakingRecord,
} from '../../storage/queries/makings.ts';
import { hourRates, rateOn } from '../costs/hour-rates.ts';

/** Time and what it is worth. */
export interface Labour {
  readonly minutes: number;
  readonly valueMicro: number;
}

/** A taking with its part of the hours. */
export interface CarriedTaking extends Labour {
  readonly taking: TakingRecord;
}

/** Hours of one making and where they went. */
export interface MakingLabour extends Labour {
  /** Of them, hours that came along in goods made here. */
  readonly inherited: Labour;
  /** Minutes of each lot that came out, in their order. */
  readonly byLot: readonly number[];
  readonly taken: readonly CarriedTaking[];
}

function ownLabour(db: ReadDb, makingId: string): Labour {
  const rates = hourRates(db);
  const rateOf = (session: MakingSession): number => rateOn(rates, 'labour', session)?.per_hour_micro ?? 0;
  const sessions = makingSessions(db, makingId);
  const sixtieths = sessions.reduce((so, one) => so + BigInt(one.minutes) * BigInt(rateOf(one)), 0n);
  return {
    minutes: sessions.reduce((so, one) => so + one.minutes, 0),
    valueMicro: toSafe(roundHalfAwayBig(sixtieths, 60n)),
  };
}

/** Hours in goods that were themselves made here. A making can only take of one that ended before it, so this ends. */
function inheritedLabour(db: ReadDb, makingId: string): Labour {
  const sources = new Set(makingInputs(db, makingId).flatMap((input) => makingOfLot(db, input.lot_id) ?? []));
  const parts = [...sources]
    .flatMap((source) => labourOfMaking(db, source).taken)
    .filter((one) => one.taking.kind === 'intoMaking' && one.taking.making_id === makingId);
  return {
    minutes: parts.reduce((so, part) => so + part.minutes, 0),
    valueMicro: parts.reduce((so, part) => so + part.valueMicro, 0),
  };
}

/** All hours of a making, by lot and by taking. */
export function labourOfMaking(db: ReadDb, makingId: string): MakingLabour {
  const own = ownLabour(db, makingId);
  const inherited = inheritedLabour(db, makingId);
  const minutes = own.minutes + inherited.minutes;
  const valueMicro = own.valueMicro + inherited.valueMicro;
  const over = makingRow(db, makingId)?.labour_over === 'taken' ? 'taken' : 'all';
  const takings = takingsOf(db, makingId);
  const lots = makingOutputs(db, makingId).map((output) => ({
    share: output.share,
    qty: output.qty_received,
    taken: takings.filter((taking) => taking.root_id === output.lot_id),
  }));
  const parts = minutesByTaking(minutes, lots, over);
  const taken = lots.flatMap((lot, at) =>
    lot.taken.map((taking, which) => {
      const carried = parts[at]?.[which] ?? 0;
      return {
        taking,
        minutes: carried,
        valueMicro: minutes === 0 ? 0 : mulDiv(valueMicro, carried, minutes),
      };
    }),
  );
  const byLot =
    over === 'all'
      ? minutesByLot(minutes, lots)
      : parts.map((each) => each.reduce((so, part) => so + part, 0));
  return { minutes, valueMicro, inherited, byLot, taken };
}
