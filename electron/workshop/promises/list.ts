/** Use-case: the days of every order and open knife. */
import { missing, refused } from '../../api/errors.ts';
import type { PromiseRow, Promises } from '../../api/promises.ts';
import { addDays, dayOfWeek } from '../../domain/calendar.ts';
import { forecast, type KnifeForecast, MOST_DAYS, RUNS } from '../../domain/promise.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelRow } from '../../storage/queries/models.ts';
import { orderRecord } from '../../storage/queries/orders.ts';
import { closedRows, weekSetting } from '../../storage/queries/promises.ts';
import { flowOf } from './flow.ts';
import { lastWeeks, paces, paceShown, pacesToRun, promisesKept, WEEKS } from './past.ts';
import { type Asked, lossOf, type Queued, queueOf } from './queue.ts';

const PPM = 1_000_000;
const FRIDAY = 5;
const DAYS_OF_WEEK = 7;
/** Kept fixed: the same books name the same days until something in them changes. */
const SEED = 2024;

/** The day itself on a Friday, else the next one. */
const nextFriday = (on: string): string =>
  addDays(on, (FRIDAY - dayOfWeek(on) + DAYS_OF_WEEK) % DAYS_OF_WEEK);

function stateOf(promisedOn: string | null, days: KnifeForecast): PromiseRow['state'] {
  if (promisedOn === null) return 'notPromised';
  if (days.half > promisedOn) return 'late';
  return days.likely > promisedOn ? 'atRisk' : 'safe';
}

const toRow = (one: Queued, days: KnifeForecast): PromiseRow => ({
  key: one.id,
  kind: one.kind,
  buildId: one.buildId,
  serial: one.serial,
  orderId: one.orderId,
  orderTag: one.orderTag,
  buyerName: one.buyerName,
  modelName: one.modelName,
  minutes: one.minutes,
  waitDays: one.waitDays,
  promisedOn: one.promisedOn,
  halfOn: days.half,
  likelyOn: days.likely,
  sayOn: nextFriday(days.likely),
  state: stateOf(one.promisedOn, days),
});

/** What the hours a week are taken from, where it is not ten weeks of the own past. */
function weeksAssumed(weeks: readonly number[], weekMinutes: number | null): string[] {
  if (weekMinutes !== null) return ['The hours a week are the ones you wrote, not the last ten weeks.'];
  if (weeks.length === WEEKS || weeks.length === 0) return [];
  const only = weeks.length === 1 ? 'Only one whole week is' : `Only ${String(weeks.length)} whole weeks are`;
  return [`${only} in the books so far.`];
}

interface Known {
  readonly weeks: readonly number[];
  readonly weekMinutes: number | null;
  readonly knives: number;
  /** Something may take longer than is looked ahead. */
  readonly beyond: boolean;
}

function assumedOf(queue: readonly Queued[], { weeks, weekMinutes, knives, beyond }: Known): string[] {
  return [
    ...(beyond ? ['A day five years from now stands for later: it is no day to promise.'] : []),
    ...weeksAssumed(weeks, weekMinutes),
    ...(knives === 0
      ? [
          'No own knife is finished yet: each is supposed to take 80 to 160 % of the model’s usual minutes, most likely just those (common practice, no source).',
        ]
      : []),
    ...(queue.some((one) => one.minutes === 0)
      ? ['A knife without stages left, or of a model without usual minutes, takes no bench time here.']
      : []),
    'Waits for kiln, glue and oil are the usual ones (common practice, no source).',
  ];
}

/** @throws FaultError saying why an order has no place in the queue */
function demandQueued(db: ReadDb, orderId: string, queue: readonly Queued[]): void {
  if (queue.some((one) => one.orderId === orderId)) return;
  const order = orderRecord(db, orderId);
  if (order?.state === 'agreed' && order.build_state === 'finished')
    throw refused(
      `${order.serial ?? 'Its knife'} is finished already and waits for nothing. Choose another order.`,
    );
  throw missing('This order is not open any more. Choose another.');
}

/** @throws FaultError for a model, knife or order that is not in the books */
function demandKnown(db: ReadDb, asked: Asked, queue: readonly Queued[]): void {
  if (asked.newModelId !== undefined && modelRow(db, asked.newModelId) === undefined)
    throw missing('This model is not in the books any more. Choose another.');
  if (asked.firstOrderId !== undefined) demandQueued(db, asked.firstOrderId, queue);
  if (asked.lostBuildId !== undefined && !queue.some((one) => one.buildId === asked.lostBuildId))
    throw missing('This knife is not open any more. Choose another.');
}

/** Names a likely day for every open order and knife. */
export function promisesOf(db: ReadDb, asked: Asked, today: string): Promises {
  const queue = queueOf(db, asked);
  demandKnown(db, asked, queue);
  const own = paces(db);
  const weeks = lastWeeks(db, today);
  const weekMinutes = weekSetting(db);
  const closed = closedRows(db, today).map(({ id, from_on: from, until_on: until, note }) => ({
    id,
    from,
    until,
    note,
  }));
  const past = { weeks: weekMinutes === null ? weeks : [weekMinutes], paces: pacesToRun(own) };
  const found = forecast(queue, past, { today, closed, seed: SEED });
  const loss = lossOf(db);
  const days = new Map(found.ok ? found.value.map((one) => [one.id, one]) : []);
  const last = addDays(today, MOST_DAYS);
  const beyond = [...days.values()].some((one) => one.likely >= last);
  return {
    rows: queue.flatMap((one) => {
      const named = days.get(one.id);
      return named === undefined ? [] : [toRow(one, named)];
    }),
    weeks,
    weekMinutes,
    pace: paceShown(own),
    lossPpm: Math.round(loss.share * PPM),
    lossHow: loss.how,
    closed,
    seed: SEED,
    runs: RUNS,
    kept: promisesKept(db, today),
    flow: flowOf(db, queue.filter((one) => one.kind !== 'new').length, today),
    assumed: assumedOf(queue, { weeks, weekMinutes, knives: own.length, beyond }),
    refusal: found.ok ? '' : found.message,
  };
}

/**
 * The day by which half of the runs have a new knife done that is made before all others; undefined where no day can be
 * named. Nobody can promise an earlier one.
 */
export function earliestFor(
  db: ReadDb,
  asked: Pick<Asked, 'newModelId' | 'newMinutes' | 'newExtraMinutes' | 'newGuess'>,
  today: string,
): string | undefined {
  const alone = queueOf(db, asked).filter((one) => one.kind === 'new');
  const weekMinutes = weekSetting(db);
  const past = {
    weeks: weekMinutes === null ? lastWeeks(db, today) : [weekMinutes],
    paces: pacesToRun(paces(db)),
  };
  const closed = closedRows(db, today).map(({ from_on: from, until_on: until }) => ({ from, until }));
  const found = forecast(alone, past, { today, closed, seed: SEED });
  return found.ok ? found.value[0]?.half : undefined;
}
