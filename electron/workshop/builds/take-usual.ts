/** Use-case: take a model's usual parts for a knife and book its usual flat costs, all or nothing. */
import type { Parsed } from '../../api/contract.ts';
import { FaultError, missing, refused } from '../../api/errors.ts';
import type { Use } from '../../api/stock.ts';
import { sum } from '../../domain/integers.ts';
import { effectiveRung } from '../../domain/ladder.ts';
import { chargeRows } from '../../storage/queries/builds.ts';
import { modelFlatRows, type ModelPartRow, modelPartRows } from '../../storage/queries/models.ts';
import { measureOf, measureWords } from '../consumables/measure.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { drawForBuild } from '../stock/draw.ts';
import { drawShare } from '../stock/share.ts';
import { needWorkshop } from '../workshop/need.ts';
import { postCharge } from './charges.ts';
import { demandOpenFor, needBuild, type NeededBuild, touchBuild } from './touch.ts';

type TakeInput = Parsed<'builds.takeUsual'>;
type WantedPart = TakeInput['parts'][number];

/** How much of a usual part is taken, and the rung it then stands on; null for none that comes by itself. */
interface Usual {
  readonly qty: number;
  readonly rung: 2 | 3 | 4 | null;
  readonly reason: string;
}

/**
 * The usual amount; or the measured average of the last knives, which falls back to the usual amount while they are too
 * few; or nothing, where a knife's share comes with the openings. An amount named by the person is taken as it is.
 */
function usualOf(ctx: CommandContext, part: ModelPartRow, given: number | undefined): Usual | null {
  if (part.use_as !== 'consumable') return { qty: given ?? part.qty, rung: null, reason: '' };
  const rung = effectiveRung(part.consumed_by, part.rung);
  if (given !== undefined) return { qty: given, rung: 3, reason: '' };
  if (rung === 3) return null;
  if (rung === 2) return { qty: part.qty, rung, reason: '' };
  const measured = measureOf(ctx.db, part.model_id, part.item_id);
  const reason = measureWords(part, measured);
  return measured?.enough === true
    ? { qty: measured.qty, rung, reason }
    : { qty: part.qty, rung: 2, reason: `${reason} The usual amount instead.` };
}

function takePart(
  ctx: CommandContext,
  build: NeededBuild,
  part: ModelPartRow,
  wanted: WantedPart,
  on: string,
): number {
  const use = part.use_as as Use;
  demandOpenFor(build, use);
  const usual = usualOf(ctx, part, wanted.qty);
  if (usual === null) return 0;
  const order = {
    ...usual,
    buildId: build.id,
    itemId: part.item_id,
    lotId: wanted.lotId,
    use,
    stageCode: part.stage_code,
    on,
    partLabel: part.label,
  };
  const booked =
    part.per_bar === null ? drawForBuild(ctx, order) : drawShare(ctx, { ...order, perBar: part.per_bar });
  return booked.valueMicro;
}

/** Says which of the parts it was about, by name and by field. */
function naming<T>(label: string, field: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof FaultError)) throw error;
    const { kind, message } = error.fault;
    throw new FaultError({ kind, message: `${label}: ${message}`, field });
  }
}

function takeParts(ctx: CommandContext, build: NeededBuild, input: TakeInput): number[] {
  const parts = new Map(modelPartRows(ctx.db, build.model_id).map((row) => [row.id, row]));
  return input.parts.map((wanted, at) => {
    const part = parts.get(wanted.partId);
    if (part === undefined) throw missing('This part is not on the model any more. Reload the knife.');
    return naming(part.label, `parts.${at}`, () => takePart(ctx, build, part, wanted, input.on));
  });
}

function bookFlats(ctx: CommandContext, build: NeededBuild, input: TakeInput): number[] {
  const flats = new Map(modelFlatRows(ctx.db, build.model_id).map((row) => [row.id, row]));
  const booked = new Set(
    chargeRows(ctx.db, build.id)
      .filter((row) => row.reversed_by_id === null)
      .map((row) => row.flat_id),
  );
  return input.flatIds.map((flatId) => {
    const flat = flats.get(flatId);
    if (flat === undefined) throw missing('This usual cost is not on the model any more. Reload the knife.');
    if (booked.has(flatId))
      throw refused(`${flat.label} is booked for ${build.serial} already. Leave it out.`, 'flatIds');
    booked.add(flatId);
    const use = flat.use_as as Use;
    demandOpenFor(build, use);
    postCharge(ctx, {
      buildId: build.id,
      on: input.on,
      label: flat.label,
      use,
      amountMicro: flat.amount_micro,
      rung: 2,
      flatId,
    });
    return flat.amount_micro;
  });
}

/** Takes the parts and books the flat costs named; when one cannot be had, nothing is taken. */
export const takeUsual: HandlerFor<'builds.takeUsual'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    demandCome(ctx.clock.today(), input.on);
    const build = needBuild(ctx.db, input.id);
    const values = [...takeParts(ctx, build, input), ...bookFlats(ctx, build, input)];
    if (values.length > 0) touchBuild(ctx.db, build.id, input.on);
    return { valueMicro: sum(values) };
  },
};
