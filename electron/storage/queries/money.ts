/** Reading and writing mileage, assets, income that is on no invoice, and what was settled about them. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type {
  AssetsTable,
  IncomesTable,
  MileageRatesTable,
  MileageTable,
  MoneySettingsTable,
} from '../schema-money.ts';
import type { Span } from './expenses.ts';

/** What trips of a span of days come to, taken-back rows already off. Minor units. */
export const mileageTotal = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('mileage')
      .where('on_date', '>=', from)
      .where('on_date', '<=', to)
      .select(({ fn }) => fn.coalesce(fn.sum<number>('amount_minor'), sql<number>`0`).as('minor')),
  )?.minor ?? 0;

/** The day of the first trip up to a day; null without one. */
export const firstTrip = (db: ReadDb, to: string): string | null =>
  db.one(
    db.q
      .selectFrom('mileage')
      .where('on_date', '<=', to)
      .select(({ fn }) => fn.min<string | null>('on_date').as('day')),
  )?.day ?? null;

const trips = (db: ReadDb) =>
  db.q
    .selectFrom('mileage as m')
    .leftJoin('mileage as r', 'r.reverses_id', 'm.id')
    .selectAll('m')
    .select('r.id as reversed_by_id');

/** Trips of a span of days, the latest first. */
export const mileageRows = (db: ReadDb, { from, to }: Span) =>
  db.all(
    trips(db)
      .where('m.on_date', '>=', from)
      .where('m.on_date', '<=', to)
      .orderBy('m.on_date', 'desc')
      .orderBy('m.seq', 'desc'),
  );
export type MileageRow = ReturnType<typeof mileageRows>[number];

/** One trip. */
export const mileageRow = (db: ReadDb, id: string): MileageRow | undefined =>
  db.one(trips(db).where('m.id', '=', id));

export const insertMileage = (db: WriteDb, row: Insertable<MileageTable>): number =>
  db.run(db.q.insertInto('mileage').values(row));

/** What a trip comes to at another rate. */
export const restateMileage = (db: WriteDb, id: string, amountMinor: number): number =>
  db.run(db.q.updateTable('mileage').set({ amount_minor: amountMinor }).where('id', '=', id));

/** Rates, the latest first. */
export const mileageRates = (db: ReadDb): readonly MileageRatesTable[] =>
  db.all(db.q.selectFrom('mileage_rates').selectAll().orderBy('from_on', 'desc'));

/** Writes a rate, in the place of one that begins the same day. */
export const putMileageRate = (db: WriteDb, { from_on, ...row }: MileageRatesTable): number =>
  db.run(
    db.q
      .insertInto('mileage_rates')
      .values({ from_on, ...row })
      .onConflict((clash) => clash.column('from_on').doUpdateSet(row)),
  );

/** Assets by number. */
export const assetRows = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('assets as a')
      .selectAll('a')
      .select(
        sql<number>`(select count(*) from attachments f
          where f.owner_kind = 'asset' and f.owner_id = a.id and f.removed_at is null)`.as('files'),
      )
      .orderBy('a.number'),
  );
export type AssetRow = ReturnType<typeof assetRows>[number];

export const insertAsset = (db: WriteDb, row: Insertable<AssetsTable>): number =>
  db.run(db.q.insertInto('assets').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateAsset = (
  db: WriteDb,
  id: string,
  row: Partial<Omit<Insertable<AssetsTable>, 'id' | 'number'>>,
): number => db.run(db.q.updateTable('assets').set(row).where('id', '=', id));

/** The number after the highest. */
export const nextAssetNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('assets').select(({ fn }) => fn.max<number | null>('number').as('top')))?.top ??
    0) + 1;

/** Which day counts: the one it was earned (earned view), or the one the money came (cash view). */
export type IncomeDay = 'earned_on' | 'received_on';

/**
 * Income on no invoice in a span of days by kind, taken-back rows already off: before the platform's fee, and the fee,
 * which is a cost of its own. Cash view: what is still awaited has no day and is not counted.
 */
export const incomeByKind = (db: ReadDb, { from, to }: Span, day: IncomeDay = 'earned_on') =>
  db.all(
    db.q
      .selectFrom('incomes')
      .where(day, '>=', from)
      .where(day, '<=', to)
      .select('kind')
      .select(({ fn }) => [
        fn.sum<number>('gross_minor').as('gross_minor'),
        fn.sum<number>('fee_minor').as('fee_minor'),
        fn.countAll<number>().as('n'),
      ])
      .groupBy('kind')
      .orderBy('kind'),
  );

/** The same by month (`2024-07`), for charts. */
export const incomeByMonth = (db: ReadDb, { from, to }: Span, day: IncomeDay = 'earned_on') =>
  db.all(
    db.q
      .selectFrom('incomes')
      .where(day, '>=', from)
      .where(day, '<=', to)
      .select([sql<string>`substr(${sql.ref(day)}, 1, 7)`.as('month'), 'kind'])
      .select(({ fn }) => [
        fn.sum<number>('gross_minor').as('gross_minor'),
        fn.sum<number>('fee_minor').as('fee_minor'),
      ])
      .groupBy(['month', 'kind'])
      .orderBy('month'),
  );

const income = (db: ReadDb) =>
  db.q
    .selectFrom('incomes as i')
    .leftJoin('incomes as r', 'r.reverses_id', 'i.id')
    .selectAll('i')
    .select('r.id as reversed_by_id')
    .select(
      sql<number>`(select count(*) from attachments f
        where f.owner_kind = 'income' and f.owner_id = i.id and f.removed_at is null)`.as('files'),
    );

/** Income on no invoice earned in a span of days, the latest first. */
export const incomeRows = (db: ReadDb, { from, to }: Span) =>
  db.all(
    income(db)
      .where('i.earned_on', '>=', from)
      .where('i.earned_on', '<=', to)
      .orderBy('i.earned_on', 'desc')
      .orderBy('i.seq', 'desc'),
  );
export type IncomeRow = ReturnType<typeof incomeRows>[number];

/** One entry. */
export const incomeRow = (db: ReadDb, id: string): IncomeRow | undefined =>
  db.one(income(db).where('i.id', '=', id));

/** Months of supporters that are booked and stand. */
export const supporterMonthsBooked = (db: ReadDb): readonly IncomeRow[] =>
  db.all(
    income(db)
      .where('i.kind', '=', 'supporters')
      .where('i.reverses_id', 'is', null)
      .where('r.id', 'is', null),
  );

export const insertIncome = (db: WriteDb, row: Insertable<IncomesTable>): number =>
  db.run(db.q.insertInto('incomes').values(row));

/** Says when awaited money came. */
export const incomeReceived = (db: WriteDb, id: string, on: string): number =>
  db.run(db.q.updateTable('incomes').set({ received_on: on }).where('id', '=', id));

/** What was settled once, if anything. */
export const moneySettings = (db: ReadDb): MoneySettingsTable | undefined =>
  db.one(db.q.selectFrom('money_settings').selectAll().where('id', '=', 1));

export const putMoneySettings = (db: WriteDb, row: Omit<MoneySettingsTable, 'id'>): number =>
  db.run(
    db.q
      .insertInto('money_settings')
      .values({ id: 1, ...row })
      .onConflict((clash) => clash.column('id').doUpdateSet(row)),
  );
