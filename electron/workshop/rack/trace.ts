/** Use-case: where a lot went and came from, and what a knife was made of. */
import { invalid, missing } from '../../api/errors.ts';
import type { Trace, TraceStep } from '../../api/rack.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lotRow, makingTagOf, tagOf } from '../../storage/queries/lots.ts';
import * as links from '../../storage/queries/trace.ts';
import type { HandlerFor } from '../handlers.ts';
import { describer } from '../stock/views.ts';

type Step = Omit<TraceStep, 'depth' | 'parent'>;

/** A step and what hangs on it, looked up when its turn comes. */
interface Branch {
  readonly step: Step;
  readonly next: () => readonly Branch[];
}

/** Written down in drawing order; what stands above on the same path is not followed again. */
function drawn(start: Branch): readonly TraceStep[] {
  const steps: TraceStep[] = [];
  const walk = (branch: Branch, parent: number | null, path: readonly string[]): void => {
    if (path.includes(branch.step.id)) return;
    const at = steps.length;
    steps.push({ ...branch.step, depth: path.length, parent });
    for (const next of branch.next()) walk(next, at, [...path, branch.step.id]);
  };
  walk(start, null, []);
  return steps;
}

/** How much went along a link. */
interface Amount {
  readonly qty: number;
  readonly value_micro: number;
}

const none = (): readonly Branch[] => [];

/** A lot as a step; without an amount it says what came in. */
function lotStep(db: ReadDb, id: string, amount?: Amount) {
  const lot = lotRow(db, id);
  if (lot === undefined) throw missing('This lot does not exist any more. Go back to the rack.');
  const qty = amount === undefined ? lot.qty_received : Math.abs(amount.qty);
  const valueMicro = amount === undefined ? lot.value_received_micro : Math.abs(amount.value_micro);
  const step: Step = {
    kind: 'lot',
    id,
    tag: tagOf(lot.number),
    title: lot.item_name,
    on: lot.received_on,
    amount: describer(lot)(qty),
    valueMicro,
  };
  return { lot, step };
}

const knifeBranch = (
  lot: Parameters<typeof describer>[0],
  knife: ReturnType<typeof links.knivesFromLot>[number],
): Branch => ({
  step: {
    kind: 'build',
    id: knife.id,
    tag: knife.serial,
    title: knife.title,
    on: knife.on_date,
    amount: describer(lot)(-knife.qty),
    valueMicro: 0 - knife.value_micro,
  },
  next: none,
});

const makingForward = (
  db: ReadDb,
  lot: Parameters<typeof describer>[0],
  making: ReturnType<typeof links.makingsFromLot>[number],
): Branch => ({
  step: {
    kind: 'making',
    id: making.id,
    tag: makingTagOf(making.number),
    title: making.title,
    on: making.on_date,
    amount: describer(lot)(-making.qty),
    valueMicro: 0 - making.value_micro,
  },
  next: () => links.lotsOfMaking(db, making.id).map((id) => lotForward(db, id)),
});

function lotForward(db: ReadDb, id: string): Branch {
  const { lot, step } = lotStep(db, id);
  return {
    step,
    next: () => [
      ...links.offcutsOf(db, id).map((offcut) => lotForward(db, offcut)),
      ...links.makingsFromLot(db, id).map((making) => makingForward(db, lot, making)),
      ...links.knivesFromLot(db, id).map((knife) => knifeBranch(lot, knife)),
    ],
  };
}

function purchaseBack(db: ReadDb, lineId: string, valueMicro: number): readonly Branch[] {
  const purchase = links.purchaseHeadOfLine(db, lineId);
  if (purchase === undefined) return [];
  const { id, on_date, reference, supplier_name } = purchase;
  const step = { kind: 'purchase' as const, id, tag: reference, title: supplier_name, on: on_date };
  return [{ step: { ...step, amount: '', valueMicro }, next: none }];
}

function makingBack(db: ReadDb, id: string, valueMicro: number): readonly Branch[] {
  const making = links.makingHead(db, id);
  if (making === undefined) return [];
  const on = making.ended_on ?? making.started_on;
  const step = { kind: 'making' as const, id, tag: makingTagOf(making.number), title: making.title, on };
  return [
    {
      step: { ...step, amount: '', valueMicro },
      next: () => links.lotsIntoMaking(db, id).map((input) => lotBack(db, input.id, input)),
    },
  ];
}

function lotBack(db: ReadDb, id: string, amount?: Amount): Branch {
  const { lot, step } = lotStep(db, id, amount);
  return {
    step,
    next: () => {
      if (lot.parent_id !== null) return [lotBack(db, lot.parent_id, toAmount(lot))];
      if (lot.making_id !== null) return makingBack(db, lot.making_id, lot.value_received_micro);
      if (lot.purchase_line_id === null) return [];
      return purchaseBack(db, lot.purchase_line_id, lot.value_received_micro);
    },
  };
}

/** What an offcut took out of the piece it was cut from. */
const toAmount = (lot: { readonly qty_received: number; readonly value_received_micro: number }): Amount => ({
  qty: lot.qty_received,
  value_micro: lot.value_received_micro,
});

function knifeTrace(db: ReadDb, id: string): Trace {
  const knife = links.knifeHead(db, id);
  if (knife === undefined) throw missing('This knife does not exist any more. Go back to the list.');
  const step: Step = {
    kind: 'build',
    id,
    tag: knife.serial,
    title: knife.title,
    on: knife.started_on ?? knife.planned_on,
    amount: '',
    valueMicro: knife.cost_micro,
  };
  const back = drawn({
    step,
    next: () => links.lotsInKnife(db, id).map((lot) => lotBack(db, lot.id, lot)),
  });
  return { forward: drawn({ step, next: none }), back };
}

/** The chain both ways: what came out of a lot and what it came from, or what a knife is made of. */
export const trace: HandlerFor<'rack.trace'> = (ctx, { lotId, buildId }) => {
  if (lotId !== undefined && buildId === undefined) {
    return { forward: drawn(lotForward(ctx.db, lotId)), back: drawn(lotBack(ctx.db, lotId)) };
  }
  if (buildId !== undefined && lotId === undefined) return knifeTrace(ctx.db, buildId);
  throw invalid('Name one lot or one knife.', 'lotId');
};
