/** Use-case: count a consumable over all its lots, and say whose the difference is. */
import type { Output, Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { type CountChange, countChanges, spreadCount } from '../../domain/consumables.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMicro } from '../../domain/money.ts';
import {
  carriedOfItem,
  itemLastMovedOn,
  lotsToCount,
  minutesInPeriod,
  usedInPeriod,
} from '../../storage/queries/consumables.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import { valueOrRefuse } from '../answers.ts';
import { postCharge } from '../builds/charges.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem, type NeededItem } from '../stock/draw.ts';
import { post } from '../stock/post.ts';
import { describer } from '../stock/views.ts';
import { needWorkshop } from '../workshop/need.ts';

type CountInput = Parsed<'consumables.count'>;
type Charged = Output<'consumables.count'>['builds'][number];
interface Knife {
  readonly id: string;
  readonly serial: string;
  readonly state: string;
}

/** What lies there now is compared with the books as they are now, so nothing may have moved since. */
function demandCountable(ctx: CommandContext, item: NeededItem, { on, from }: CountInput): void {
  demandCome(ctx.clock.today(), on);
  if (from > on)
    throw invalid('The first day of the period must not come after the day of the count.', 'from');
  const last = itemLastMovedOn(ctx.db, item.id);
  if (last === null || last <= on) return;
  throw refused(
    `${item.name} was used on ${last}, after ${on}. Count it as it lies there now, with a day from ${last} on.`,
    'on',
  );
}

function changesOf(
  ctx: CommandContext,
  item: NeededItem,
  { countedQty, on }: CountInput,
): readonly CountChange[] {
  const lots = lotsToCount(ctx.db, item.id);
  const later = lots.find((lot) => lot.received_on > on);
  if (later !== undefined) {
    throw refused(
      `${tagOf(later.number)} came in on ${later.received_on}, after ${on}. Change the date.`,
      'on',
    );
  }
  const pool = {
    priceMicro: sumOf(lots, (lot) => lot.value_left_micro),
    priceQty: sumOf(lots, (lot) => lot.qty_left),
  };
  const averaged = item.costing === 'average' && pool.priceQty > 0;
  const counted = lots.map((lot, order) => ({
    id: lot.id,
    order,
    qtyLeft: lot.qty_left,
    valueLeftMicro: lot.value_left_micro,
    qtyReceived: lot.qty_received,
    ...(averaged ? pool : { priceMicro: lot.value_received_micro, priceQty: lot.qty_received }),
  }));
  return valueOrRefuse(countChanges(counted, countedQty), 'countedQty');
}

/** Sold, scrapped and kept knives take nothing more, here as everywhere: their figures have been given out. */
const isOpen = (knife: Knife): boolean => ['planned', 'inWork', 'finished'].includes(knife.state);

interface Taking {
  readonly knives: readonly (Knife & { readonly usedQty: number; readonly minutes: number })[];
  /** Knives of the period that are closed. */
  readonly closed: readonly string[];
}

function takersOf(ctx: CommandContext, itemId: string, { from, on }: CountInput): Taking {
  const used = usedInPeriod(ctx.db, itemId, from, on).filter((row) => row.qty > 0);
  const open = used.filter(isOpen);
  if (open.length > 0) {
    const closed = used.filter((row) => !isOpen(row)).map((row) => row.serial);
    return { knives: open.map((row) => ({ ...row, usedQty: row.qty, minutes: 0 })), closed };
  }
  const worked = minutesInPeriod(ctx.db, from, on).filter((row) => row.minutes > 0);
  const closed = [...used, ...worked].filter((row) => !isOpen(row)).map((row) => row.serial);
  return {
    knives: worked.filter(isOpen).map((row) => ({ ...row, usedQty: 0 })),
    closed: [...new Set(closed)],
  };
}

interface Counted {
  readonly id: string;
  readonly item: NeededItem;
  readonly differenceQty: number;
  readonly differenceMicro: number;
}

/** @throws FaultError when a knife would be given back more than it carries of the item: it would cost less than nothing */
function demandCarried(
  ctx: CommandContext,
  item: NeededItem,
  parts: readonly { readonly buildId: string; readonly amountMicro: number }[],
): void {
  const back = parts.filter((part) => part.amountMicro < 0);
  const knives = carriedOfItem(
    ctx.db,
    item.id,
    back.map((part) => part.buildId),
  );
  const short = knives.find((knife) =>
    back.some((part) => part.buildId === knife.id && part.amountMicro + knife.value_micro < 0),
  );
  if (short === undefined) return;
  const { currency } = houseOf(ctx.db);
  const worth = formatMicro(short.value_micro, currency, undefined, { symbol: true });
  throw refused(
    `More was found than ${short.serial} carries of ${item.name}, which is ${worth}. Begin the period earlier, or book the difference to overhead.`,
    'settle',
  );
}

/** Charges what was missing to the period's knives, or gives back what was over; the parts add up exactly. */
function settleOnKnives(ctx: CommandContext, input: CountInput, counted: Counted, taking: Taking): Charged[] {
  const { item, id, differenceQty } = counted;
  const serials = new Map(taking.knives.map((knife) => [knife.id, knife.serial]));
  const uses = taking.knives.map(({ id: buildId, usedQty, minutes }) => ({ buildId, usedQty, minutes }));
  const what = `${describer(item)(Math.abs(differenceQty))} ${differenceQty < 0 ? 'missing' : 'found over'}`;
  const parts = spreadCount(0 - counted.differenceMicro, uses);
  demandCarried(ctx, item, parts);
  return parts.map(({ buildId, amountMicro, by }) => {
    const how = `its part of ${what} at the count, by ${by === 'use' ? 'what it used' : 'minutes at the bench'}`;
    const label = `${item.name}, counted`;
    const links = { itemCountId: id, itemId: item.id, how, reason: input.reason };
    postCharge(ctx, { buildId, on: input.on, label, use: 'consumable', amountMicro, rung: 3, ...links });
    return { id: buildId, serial: serials.get(buildId) ?? '', amountMicro };
  });
}

function sentenceOf(
  ctx: CommandContext,
  { item, differenceQty, differenceMicro }: Counted,
  builds: readonly Charged[],
  taking: Taking | null,
): string {
  if (differenceQty === 0) return 'The count agrees with the books.';
  const { currency } = houseOf(ctx.db);
  const worth = formatMicro(Math.abs(differenceMicro), currency, undefined, { symbol: true });
  const what = `${describer(item)(Math.abs(differenceQty))} ${differenceQty < 0 ? 'missing' : 'over'}, worth ${worth}`;
  if (taking === null) return `${what}: booked to overhead.`;
  const where =
    builds.length === 0
      ? 'too little to share'
      : `shared over ${builds.map((build) => build.serial).join(', ')}`;
  const left =
    taking.closed.length === 0
      ? ''
      : ` ${taking.closed.join(', ')} ${taking.closed.length === 1 ? 'is' : 'are'} closed and stay as before.`;
  return `${what}: ${where}.${left}`;
}

function insertCount(ctx: CommandContext, input: CountInput, counted: Counted): void {
  const { itemId, on, countedQty, settle, from, reason } = input;
  const difference = { difference_qty: counted.differenceQty, difference_micro: counted.differenceMicro };
  ctx.db.run(
    ctx.db.q.insertInto('item_counts').values({
      id: counted.id,
      item_id: itemId,
      on_date: on,
      counted_qty: countedQty,
      settled: settle,
      from_date: from,
      reason,
      ...difference,
    }),
  );
}

/** Counts one consumable over all its lots. */
export const count: HandlerFor<'consumables.count'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const item = needItem(ctx.db, input.itemId);
    demandCountable(ctx, item, input);
    const changes = changesOf(ctx, item, input);
    const counted: Counted = {
      id: ctx.newId(),
      item,
      differenceQty: sumOf(changes, (change) => change.qty),
      differenceMicro: sumOf(changes, (change) => change.valueMicro),
    };
    insertCount(ctx, input, counted);
    const { on, reason } = input;
    for (const change of changes) post(ctx.db, { ...change, id: ctx.newId(), on, kind: 'count', reason });
    const onKnives = input.settle === 'builds' && counted.differenceMicro !== 0;
    const taking = onKnives ? takersOf(ctx, item.id, input) : null;
    if (taking?.knives.length === 0) {
      throw refused(
        `No open knife used ${item.name} or was worked on from ${input.from} to ${on}. Begin the period earlier, or book the difference to overhead.`,
        'settle',
      );
    }
    const builds = taking === null ? [] : settleOnKnives(ctx, input, counted, taking);
    const { differenceQty, differenceMicro } = counted;
    return { differenceQty, differenceMicro, builds, sentence: sentenceOf(ctx, counted, builds, taking) };
  },
};
