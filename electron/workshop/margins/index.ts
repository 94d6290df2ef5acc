/** Use-cases of "where the money went". */
import type { KnifeMargin, marginEndpoints, MarginPeriod } from '../../api/margins.ts';
import { invalid } from '../../api/errors.ts';
import { monthsBetween } from '../../domain/calendar.ts';
import { perHour } from '../../domain/earnings.ts';
import { sumOf } from '../../domain/integers.ts';
import {
  directOf,
  leftOf,
  type MarginReport,
  marginReport,
  type SoldKnife,
  takenBack,
} from '../../domain/margin.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  feesBesideKnives,
  keptDepositsByOrder,
  serviceIncome,
} from '../../storage/queries/income-beside-knives.ts';
import { listSales, type SaleRecord } from '../../storage/queries/selling.ts';
import { type DirectCost, directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';
import { standingOf } from '../costs/net.ts';
import type { Handlers } from '../handlers.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;
/** Longer periods show only months with sales, or the chart would be all gaps. */
const MONTHS_SHOWN = 120;

const soldKnife = (sale: SaleRecord, direct: DirectCost | undefined): SoldKnife => {
  const standing = standingOf(sale);
  const knife: SoldKnife = {
    modelCode: sale.model_code,
    modelName: sale.model_name,
    on: sale.on_date,
    postageMinor: sale.postage_paid_minor,
    feeMinor: sale.fee_minor,
    ...standing,
    materialsMinor: direct?.materialsMinor ?? 0,
    consumablesMinor: direct?.consumablesMinor ?? 0,
    energyMinor: direct?.energyMinor ?? 0,
    packagingMinor: direct?.packagingMinor ?? 0,
    minutes: sale.minutes,
  };
  return sale.taken_back_on === null ? knife : takenBack(knife, sale.kept_minor);
};

function knifeMargin(sale: SaleRecord, knife: SoldKnife): KnifeMargin {
  const { taxMinor: _, ...figures } = knife;
  const contributionMinor = leftOf(knife);
  return {
    saleId: sale.id,
    buildId: sale.build_id,
    serial: sale.serial,
    title: sale.title,
    channelName: sale.channel_name,
    buyerName: sale.buyer_name,
    ...figures,
    takenBack: knife.takenBack === true,
    directMinor: directOf(knife),
    contributionMinor,
    perHourMinor: perHour(contributionMinor, knife.minutes),
  };
}

/** Every month of the period, those without a sale at zero. */
function monthSeries(report: MarginReport, from: string, to: string): MarginPeriod['months'] {
  const days = monthsBetween(from, to);
  if (days.length > MONTHS_SHOWN) return report.months;
  const known = new Map(report.months.map((month) => [month.month, month]));
  return days.map((day) => {
    const month = day.slice(0, 7);
    return known.get(month) ?? { month, count: 0, salesMinor: 0, contributionMinor: 0 };
  });
}

/** Income without a knife, and its fees. */
const besideKnives = (db: ReadDb, from: string, to: string) => ({
  keptDepositsMinor: sumOf(keptDepositsByOrder(db, from, to), (kept) => kept.netMinor),
  serviceMinor: sumOf(serviceIncome(db, from, to), (invoice) => invoice.netMinor),
  besideFeesMinor: sumOf(feesBesideKnives(db, from, to), (fee) => fee.feeMinor),
});

/** Knives sold in a period, oldest first, with where their money went; those taken back with what they cost all the same. */
function marginPeriod(db: ReadDb, from: string, to: string): MarginPeriod {
  if (from > to) throw invalid('The period ends before it begins. Change one of the dates.', 'to');
  const { currency, decimals } = houseOf(db);
  const sales = listSales(db, { from, to }, EVERY, 0)
    .reverse()
    .filter(({ taken_back_on, postage_paid_minor, fee_minor, kept_minor }) => {
      return taken_back_on === null || postage_paid_minor + fee_minor + kept_minor > 0;
    });
  const costs = directCosts(
    db,
    sales.map((sale) => sale.build_id),
    decimals,
  );
  const sold = sales.map((sale) => ({ sale, knife: soldKnife(sale, costs.get(sale.build_id)) }));
  const report = marginReport(sold.map(({ knife }) => knife));
  return {
    from,
    to,
    currency,
    decimals,
    knives: sold.map(({ sale, knife }) => knifeMargin(sale, knife)),
    models: report.models,
    total: report.total,
    went: report.went,
    ...besideKnives(db, from, to),
    months: monthSeries(report, from, to),
  };
}

/** Which use-case answers which call. */
export const marginHandlers: Pick<Handlers, keyof typeof marginEndpoints> = {
  'margins.period': (ctx, input) => marginPeriod(ctx.db, input.from, input.to),
};
