/** Collects from the books everything the sheet of one knife is reckoned from. */
import { missing } from '../../api/errors.ts';
import {
  buildCostSheet,
  type CostSheet as Reckoned,
  type SaleAmounts,
  type StageWork,
} from '../../domain/cost-sheet.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  chargesOf,
  drawsOf,
  knifeHead,
  listPriceOn,
  liveSaleOf,
  type LiveSaleRecord,
  workOf,
  type WorkRecord,
} from '../../storage/queries/costs.ts';
import { houseOf } from './house.ts';
import { type HourRate, hourRates, rateOn } from './hour-rates.ts';
import { byUse, type ByUse } from './lines.ts';
import { type MadeLabour, madeLabourOf } from './made-labour.ts';
import { standingOf } from './net.ts';
import { type Entry, placeCharge, placeDraw } from './working.ts';

export interface Gathered {
  readonly knife: NonNullable<ReturnType<typeof knifeHead>>;
  readonly currency: string;
  readonly decimals: number;
  readonly uses: ByUse<Entry>;
  readonly works: readonly WorkRecord[];
  readonly rates: readonly HourRate[];
  readonly made: readonly MadeLabour[];
  readonly sale: LiveSaleRecord | undefined;
  readonly askedMinor: number | null;
  readonly reckoned: Reckoned;
}

const byDate = (a: Entry, b: Entry): number =>
  a.working.on < b.working.on ? -1 : a.working.on > b.working.on ? 1 : 0;

/** Sessions by stage, in the order of the bench. */
function stageWork(works: readonly WorkRecord[], rates: readonly HourRate[]): StageWork[] {
  const stages = new Map<string, { code: string; name: string; entries: StageWork['entries'][number][] }>();
  for (const work of works) {
    const stage = stages.get(work.code) ?? { code: work.code, name: work.name, entries: [] };
    stages.set(work.code, stage);
    stage.entries.push({
      minutes: work.minutes,
      guessed: work.source === 'guess',
      rateMicro: rateOn(rates, 'labour', work)?.per_hour_micro ?? 0,
      overheadRateMicro: rateOn(rates, 'overhead', work)?.per_hour_micro ?? 0,
    });
  }
  return [...stages.values()];
}

/** Selling amounts without tax in them. */
function saleAmounts(sale: LiveSaleRecord): SaleAmounts {
  const { priceMinor, shippingMinor } = standingOf(sale);
  return { priceMinor, shippingMinor, postageMinor: sale.postage_paid_minor, feeMinor: sale.fee_minor };
}

/** @throws FaultError when the knife is not in the books */
export function gather(db: ReadDb, buildId: string, today: string): Gathered {
  const { currency, decimals } = houseOf(db);
  const knife = knifeHead(db, buildId);
  if (!knife) throw missing('This knife is not in the books.');
  const placed = [
    ...drawsOf(db, buildId).map((draw) => placeDraw(draw, currency)),
    ...chargesOf(db, buildId).map(placeCharge),
  ];
  const uses = byUse(placed.sort((a, b) => byDate(a.entry, b.entry)));
  const works = workOf(db, buildId);
  const rates = hourRates(db);
  const sale = liveSaleOf(db, buildId);
  const made = madeLabourOf(db, buildId);
  const reckoned = buildCostSheet({
    decimals,
    materials: [...uses.materials].map(([label, entries]) => ({ label, entries })),
    consumables: uses.consumable,
    energy: uses.energy,
    packaging: uses.packaging,
    stages: stageWork(works, rates),
    madeLabour: made,
    ...(sale === undefined ? {} : { sale: saleAmounts(sale) }),
  });
  const askedMinor = sale === undefined ? (listPriceOn(db, knife.model_id, today) ?? null) : null;
  return { knife, currency, decimals, uses, works, rates, made, sale, askedMinor, reckoned };
}
