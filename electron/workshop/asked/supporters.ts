/** Use-case: what supporters bring around each release, and what it takes. */
import type { SupportRelease } from '../../api/asked.ts';
import { addDays, addMonths, monthStart } from '../../domain/calendar.ts';
import { perHour } from '../../domain/earnings.ts';
import { sumOf } from '../../domain/integers.ts';
import { supportByMonth } from '../../domain/support.ts';
import type { ReadDb } from '../../storage/db.ts';
import { minutesOfKinds } from '../../storage/queries/asked.ts';
import { releaseRows, releaseTagOf } from '../../storage/queries/releases.ts';
import { listSales } from '../../storage/queries/selling.ts';
import { spanRecords, supporterLevels, supportersOn } from '../../storage/queries/supporters.ts';
import type { Clock } from '../context.ts';
import { offersOf } from '../next/offers.ts';
import { saleRows } from '../selling/sale-rows.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;
/** Time spent on whoever follows the workshop. */
const FOR_THEM = ['content', 'messages'];
/** Before the first release as many months count as lie between two of a usual year of three or four. */
const FIRST_MONTHS = 4;

/** Membership money of whole months, by the heads of each month's last day. */
function membership(
  db: ReadDb,
  from: string,
  to: string,
): { readonly minor: number; readonly months: number } {
  const spans = spanRecords(db).map((row) => ({
    id: row.id,
    levelId: row.level_id,
    from: row.from_on,
    until: row.until_on,
  }));
  const levels = supporterLevels(db, to).map((level) => ({
    id: level.id,
    rank: level.rank,
    perMonthMinor: level.per_month_minor,
  }));
  const months = supportByMonth(spans, levels, { from, to });
  return { minor: sumOf(months, (month) => month.minor), months: months.length };
}

/** Every release that was opened, the latest first. */
export function supportByRelease({
  db,
  clock,
}: {
  readonly db: ReadDb;
  readonly clock: Clock;
}): SupportRelease[] {
  const opened = releaseRows(db)
    .filter((row) => !['draft', 'dropped'].includes(row.state) && row.early_from <= clock.now())
    .toReversed();
  const sales = new Map(saleRows(db, listSales(db, {}, EVERY, 0)).map((sale) => [sale.id, sale]));
  const early = offersOf(db, clock).filter((offer) => offer.early && offer.record.sale_id !== null);
  const work = minutesOfKinds(db, FOR_THEM);
  return opened
    .map((release, at) => {
      const openedOn = clock.localDay(release.early_from);
      const before = opened[at - 1];
      const since =
        before === undefined
          ? monthStart(addMonths(openedOn, 1 - FIRST_MONTHS))
          : monthStart(addMonths(clock.localDay(before.early_from), 1));
      const until = addDays(addMonths(monthStart(openedOn), 1), -1);
      const paid = membership(db, since, until < clock.today() ? until : clock.today());
      const sold = early
        .filter((offer) => offer.record.release_id === release.id)
        .flatMap((offer) => sales.get(offer.record.sale_id ?? '') ?? []);
      const contribution = sumOf(sold, (sale) => sale.contributionMinor);
      const minutes = sumOf(
        work.filter((row) => row.on_date >= since && row.on_date <= until),
        (row) => row.minutes,
      );
      return {
        releaseId: release.id,
        tag: releaseTagOf(release.number),
        title: release.title,
        openedOn,
        supporters: supportersOn(db, openedOn).length,
        soldEarly: sold.length,
        soldEarlyMinor: sumOf(sold, (sale) => sale.priceMinor),
        earlyContributionMinor: contribution,
        membershipMinor: paid.minor,
        months: paid.months,
        minutes,
        perHourMinor: perHour(paid.minor + contribution, minutes),
      };
    })
    .toReversed();
}
