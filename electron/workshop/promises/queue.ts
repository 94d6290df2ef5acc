/** The queue as it will be worked off: what each knife still needs, and in which order they come. */
import { guessFigures } from '../../domain/beta-guess.ts';
import { sumOf } from '../../domain/integers.ts';
import { likelyShare, USUALLY_FINISHED } from '../../domain/ways-on.ts';
import type { QueuedKnife } from '../../domain/promise.ts';
import type { ThreePoints } from '../../domain/triangular.ts';
import { usualWaits } from '../../domain/waits.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelRow, modelStageRows } from '../../storage/queries/models.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { openKnives, ordersWithoutKnife } from '../../storage/queries/promises.ts';
import { ownEndings } from '../../storage/queries/ways.ts';
import { type StageAhead, stagesLeft } from '../ways/hours.ts';

const MINUTES_OF_DAY = 24 * 60;

/** One place in the queue with who it is for. */
export interface Queued extends QueuedKnife {
  readonly kind: 'knife' | 'order' | 'new';
  readonly buildId: string | null;
  readonly serial: string | null;
  readonly orderId: string | null;
  readonly orderTag: string | null;
  readonly buyerName: string | null;
  readonly modelName: string;
  readonly promisedOn: string | null;
}

export interface Asked {
  readonly firstOrderId?: string | undefined;
  readonly lostBuildId?: string | undefined;
  readonly newModelId?: string | undefined;
  /** Minutes of the new one where its model's usual ones do not tell them. */
  readonly newMinutes?: number | undefined;
  /** Minutes the new one takes beyond those. */
  readonly newExtraMinutes?: number | undefined;
  /** A guess of all its minutes; they are drawn from it and not from the pace of the own past. */
  readonly newGuess?: ThreePoints | undefined;
  /** An order that is about to be agreed, with the day it will be promised for. */
  readonly agreeing?: { readonly orderId: string; readonly promisedOn: string | null } | undefined;
}

/** Days the usual waits of some stages take together, put up to whole ones. */
function waitDaysOf(codes: readonly string[]): number {
  const minutes = sumOf(
    usualWaits.filter((wait) => wait.after.some((code) => codes.includes(code))),
    (wait) => wait.minutes,
  );
  return Math.ceil(minutes / MINUTES_OF_DAY);
}

/** Usual minutes of a model's stages; the pace of the own past comes on top when the queue is run. */
const usualStages = (db: ReadDb, modelId: string | null): StageAhead[] =>
  modelId === null
    ? []
    : modelStageRows(db, modelId).map(({ code, name, minutes }) => ({
        code,
        name,
        minutes,
        low: minutes,
        high: minutes,
        from: 0,
      }));

const minutesOf = (stages: readonly StageAhead[]): number => sumOf(stages, (stage) => stage.minutes);

/** What a knife needs: the stages left, and a whole one anew should it be lost. */
function needs(whole: readonly StageAhead[], left: readonly StageAhead[], loss: number) {
  const all = minutesOf(whole);
  const minutes = minutesOf(left);
  return {
    minutes,
    minutesAnew: all,
    // What is behind a knife cannot be lost at again.
    loss: all === 0 ? 0 : loss * (minutes / all),
    waitDays: waitDaysOf(left.map((stage) => stage.code)),
  };
}

/** Chance that a knife begun is lost, from the own endings. */
export function lossOf(db: ReadDb): { readonly share: number; readonly how: string } {
  const own = ownEndings(db);
  const lost = own.ended - own.finished;
  return {
    share: 1 - likelyShare(own.finished, own.ended, USUALLY_FINISHED),
    how: `${String(lost)} of ${String(own.ended)} own knives ${lost === 1 ? 'was' : 'were'} lost; 1 lost of 20 is supposed beside them (common practice)`,
  };
}

function knivesOf(db: ReadDb, loss: number, asked: Asked): Queued[] {
  return openKnives(db, asked.agreeing?.orderId).map((row) => {
    const whole = usualStages(db, row.model_id);
    const lost = row.id === asked.lostBuildId;
    return {
      id: row.id,
      kind: 'knife',
      buildId: row.id,
      serial: row.serial,
      orderId: row.order_id,
      orderTag: row.order_number === null ? null : orderTagOf(row.order_number),
      buyerName: row.buyer_name,
      modelName: row.model_name,
      promisedOn: row.promised_on,
      ...needs(whole, lost ? whole : stagesLeft(db, row.id, whole), loss),
    };
  });
}

const unbegunOf = (db: ReadDb, loss: number, asked: Asked): Queued[] =>
  ordersWithoutKnife(db, asked.agreeing?.orderId).map((row) => {
    const whole = usualStages(db, row.model_id);
    return {
      id: row.id,
      kind: 'order',
      buildId: null,
      serial: null,
      orderId: row.id,
      orderTag: orderTagOf(row.number),
      buyerName: row.buyer_name,
      modelName: row.model_name ?? '',
      promisedOn: row.promised_on,
      ...needs(whole, whole, loss),
    };
  });

/** As many figures as stand for a guess when the queue is run. */
const GUESSES = 100;

/** Paces of a guess against the minutes it comes to. */
const pacesOf = (guess: ThreePoints | undefined, minutes: number): Pick<QueuedKnife, 'paces'> =>
  guess === undefined ? {} : { paces: guessFigures(guess, GUESSES).map((figure) => figure / minutes) };

function newOne(db: ReadDb, loss: number, asked: Asked): Queued[] {
  const { newModelId, newMinutes, newExtraMinutes = 0 } = asked;
  const model = newModelId === undefined ? undefined : modelRow(db, newModelId);
  if (model === undefined) return [];
  const whole = usualStages(db, model.id);
  const usual = needs(whole, whole, loss);
  const minutes = (newMinutes ?? usual.minutes) + newExtraMinutes;
  return [
    {
      id: 'new',
      kind: 'new',
      buildId: null,
      serial: null,
      orderId: null,
      orderTag: null,
      buyerName: null,
      modelName: model.name,
      promisedOn: null,
      ...usual,
      loss: minutes === 0 ? 0 : loss,
      minutes,
      minutesAnew: minutes,
      ...pacesOf(asked.newGuess, minutes),
    },
  ];
}

/** Taken first, then what is promised by its day, then knives in hand, then orders without a promise; a new one last. */
const rank = (one: Queued, first: string | undefined): number => {
  if (first !== undefined && one.orderId === first) return 0;
  if (one.promisedOn !== null) return 1;
  if (one.kind === 'knife') return 2;
  return one.kind === 'order' ? 3 : 4;
};

/** The queue in the order it is worked off. */
export function queueOf(db: ReadDb, asked: Asked): Queued[] {
  const loss = lossOf(db).share;
  const { agreeing } = asked;
  const all = [...knivesOf(db, loss, asked), ...unbegunOf(db, loss, asked), ...newOne(db, loss, asked)];
  return all
    .map((one) => (agreeing?.orderId === one.orderId ? { ...one, promisedOn: agreeing.promisedOn } : one))
    .map((one, at) => ({ one, at, rank: rank(one, asked.firstOrderId) }))
    .sort(
      (a, b) =>
        a.rank - b.rank || (a.one.promisedOn ?? '').localeCompare(b.one.promisedOn ?? '') || a.at - b.at,
    )
    .map(({ one }) => one);
}
