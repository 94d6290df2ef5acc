/** Use-cases: how a making ends, well or badly, and how it comes back to the bench. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { sum } from '../../domain/integers.ts';
import { type CameOut, shareCost, sharesOf } from '../../domain/making-share.ts';
import { lastWeight } from '../../domain/making-steps.ts';
import type { Form } from '../../domain/units.ts';
import { LEAST_WEIGHED } from '../../domain/weighing.ts';
import type { ReadDb } from '../../storage/db.ts';
import { runningClocks } from '../../storage/queries/hours.ts';
import { makingTagOf, tagOf } from '../../storage/queries/lots.ts';
import {
  lastDayOf,
  lotTaken,
  madeMovements,
  makingInputs,
  type MakingRecord,
  makingSteps,
} from '../../storage/queries/makings.ts';
import { valueOrRefuse } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem, type NeededItem } from '../stock/draw.ts';
import { newLot } from '../stock/new-lot.ts';
import { takeBackMovement } from '../stock/take-back.ts';
import { needWorkshop } from '../workshop/need.ts';
import { makingDetail, said } from './detail.ts';
import { needMaking, needOpenMaking } from './need.ts';
import { weigher } from './words.ts';

type Output = Parsed<'makings.finish'>['outputs'][number];

interface Named {
  readonly output: Output;
  readonly item: NeededItem;
}

const cameOut = ({ output, item }: Named): CameOut => ({
  name: item.name,
  form: item.form as Form,
  qty: output.qty,
  share: output.share,
});

/** @throws FaultError when the day lies before something that was done to the making */
function demandAfterAll(db: ReadDb, makingId: string, on: string): void {
  const last = lastDayOf(db, makingId);
  if (last === null || last <= on) return;
  throw invalid(`Something was done to it on ${last}, after ${on}. Write that day or a later one.`, 'on');
}

/** @throws FaultError when more comes out by weight than the last weighing showed, or less than a scale can show */
function demandWeighs(db: ReadDb, making: MakingRecord, outs: readonly CameOut[]): void {
  const write = weigher(needWorkshop(db));
  const weights = outs.flatMap((one) => {
    const ng = one.form === 'weight' ? one.qty : making.share_key === 'weight' ? one.share : undefined;
    return ng === undefined ? [] : [ng];
  });
  const out = sum(weights);
  if (weights.length > 0 && out < LEAST_WEIGHED) {
    throw refused(
      `${write(out)} is less than any scale shows, and too little to carry the cost. Check the weight and its unit.`,
      'outputs',
    );
  }
  const last = lastWeight(makingSteps(db, making.id).map(said));
  if (last === null || out <= last) return;
  throw refused(
    `${write(out)} came out, more than the ${write(last)} of the last weighing. Weigh again, or write less.`,
    'outputs',
  );
}

/** Papers of the material, when all that has any came with the same ones: what is sawn of it needs them too. */
function papersOf(db: ReadDb, makingId: string) {
  const papers = makingInputs(db, makingId)
    .map(({ species, listing, origin, paper_number: paperNumber }) => ({
      species,
      listing,
      origin,
      paperNumber,
    }))
    .filter((one) => Object.values(one).some((text) => text !== ''));
  const [first] = papers;
  const same = papers.every((one) => JSON.stringify(one) === JSON.stringify(first));
  return same && first !== undefined ? first : {};
}

function addOutputs(ctx: CommandContext, making: MakingRecord, named: readonly Named[], on: string): void {
  const shares = valueOrRefuse(
    sharesOf(making.share_key as Parsed<'makings.start'>['shareKey'], named.map(cameOut)),
    'outputs',
  );
  const values = shareCost(making.cost_micro, shares);
  const papers = papersOf(ctx.db, making.id);
  for (const [at, { output, item }] of named.entries()) {
    const lot = newLot(ctx, {
      kind: 'made',
      itemId: item.id,
      on,
      qty: output.qty,
      valueMicro: values[at] ?? 0,
      makingId: making.id,
      heatNumber: output.heatNumber,
      place: output.place,
      note: output.note,
      ...papers,
    });
    const row = { making_id: making.id, position: at + 1, lot_id: lot.id, share: shares[at] ?? 0 };
    ctx.db.run(ctx.db.q.insertInto('making_outputs').values(row));
  }
}

function end(ctx: CommandContext, id: string, state: 'done' | 'scrapped', on: string, reason: string): void {
  const columns = { state, ended_on: on, end_reason: reason };
  ctx.db.run(ctx.db.q.updateTable('makings').set(columns).where('id', '=', id));
}

/** @throws FaultError `refused` while somebody's clock runs on the making: its minutes would be booked after its end */
function demandNoClock(db: ReadDb, making: MakingRecord): void {
  const clock = runningClocks(db).find((each) => each.making_id === making.id);
  if (clock === undefined) return;
  const whose = clock.person_name === null ? 'The clock' : `The clock of ${clock.person_name}`;
  throw refused(
    `${whose} is running on ${makingTagOf(making.number)}. Stop it first, so that its minutes are booked.`,
  );
}

/** Ends a making well: its whole cost goes, to the millionth, into the lots that came out of it. */
export const finish: HandlerFor<'makings.finish'> = {
  run(ctx, { makingId, on, outputs }) {
    const making = needOpenMaking(ctx.db, makingId);
    demandCome(ctx.clock.today(), on);
    demandNoClock(ctx.db, making);
    demandAfterAll(ctx.db, makingId, on);
    const named = outputs.map((output) => ({ output, item: needItem(ctx.db, output.itemId) }));
    demandWeighs(ctx.db, making, named.map(cameOut));
    addOutputs(ctx, making, named, on);
    end(ctx, makingId, 'done', on, '');
    return makingDetail(ctx.db, makingId);
  },
};

/** Ends a making badly: what went into it is lost, with a reason. */
export const scrap: HandlerFor<'makings.scrap'> = {
  run(ctx, { makingId, on, reason }) {
    const making = needOpenMaking(ctx.db, makingId);
    demandCome(ctx.clock.today(), on);
    demandNoClock(ctx.db, making);
    demandAfterAll(ctx.db, makingId, on);
    end(ctx, makingId, 'scrapped', on, reason);
    return makingDetail(ctx.db, makingId);
  },
};

/** Takes what came out off the rack again, exactly as it came. */
function takeOutputsBack(ctx: CommandContext, makingId: string, reason: string): void {
  const made = madeMovements(ctx.db, makingId);
  for (const one of made) {
    const touched = lotTaken(ctx.db, one.lot_id);
    if (touched === undefined) continue;
    throw refused(
      `Some of ${tagOf(one.lot_number)} was used or counted on ${touched.on_date}. Take those movements back first; then the making can be taken up again.`,
    );
  }
  for (const one of made) takeBackMovement(ctx, one.id, reason);
  ctx.db.run(ctx.db.q.deleteFrom('making_outputs').where('making_id', '=', makingId));
}

/** Back to work on it, while nothing of what came out has been taken. */
export const reopen: HandlerFor<'makings.reopen'> = {
  run(ctx, { makingId, reason }) {
    const making = needMaking(ctx.db, makingId);
    if (making.state === 'open') throw refused(`${makingTagOf(making.number)} is still being worked on.`);
    takeOutputsBack(ctx, makingId, reason);
    const columns = { state: 'open', ended_on: null, end_reason: '' };
    ctx.db.run(ctx.db.q.updateTable('makings').set(columns).where('id', '=', makingId));
    return makingDetail(ctx.db, makingId);
  },
};
