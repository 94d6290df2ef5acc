/** Reading for the bench: what was done today and lately, what waits, how far a young workshop is. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { ownOfSale } from './selling.ts';

/** Minutes worked from one day to another, both included. */
export const minutesBetween = (db: ReadDb, from: string, to: string): number =>
  db.one(
    db.q
      .selectFrom('sessions')
      .select(({ fn }) => fn.coalesce(fn.sum<number>('minutes'), sql<number>`0`).as('n'))
      .where('current', '=', 1)
      .where('cancelled', '=', 0)
      .where('on_date', '>=', from)
      .where('on_date', '<=', to),
  )?.n ?? 0;

/** Sales that still stand and have no invoice, oldest first. */
export const salesWithoutInvoice = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('sales')
      .innerJoin('builds', 'builds.id', 'sales.build_id')
      .innerJoin('buyers', 'buyers.id', 'sales.buyer_id')
      .leftJoin('invoices', (join) =>
        join.onRef('invoices.sale_id', '=', 'sales.id').on('invoices.kind', 'in', ownOfSale),
      )
      .select(['sales.id as saleId', 'builds.serial', 'buyers.name as buyerName', 'sales.on_date as on'])
      .where('sales.taken_back_on', 'is', null)
      .where('invoices.id', 'is', null)
      .orderBy('sales.on_date')
      .limit(50),
  );

/** The last sessions on open knives: which stage, which knife, newest first. */
export const lateWork = (db: ReadDb, limit: number) =>
  db.all(
    db.q
      .selectFrom(
        db.q
          .selectFrom('sessions')
          .select(['id', 'stage_code', 'on_date', 'recorded_at'])
          .where('current', '=', 1)
          .where('cancelled', '=', 0)
          .where('stage_code', 'is not', null)
          .orderBy('on_date', 'desc')
          .orderBy('id', 'desc')
          .limit(limit)
          .as('s'),
      )
      .innerJoin('stages', 'stages.code', 's.stage_code')
      .innerJoin('session_shares', 'session_shares.session_id', 's.id')
      .innerJoin('builds', 'builds.id', 'session_shares.build_id')
      .select(['stages.code as stageCode', 'stages.name as stageName', 'builds.id', 'builds.serial'])
      .where('builds.state', 'in', ['planned', 'inWork'])
      .orderBy('s.on_date', 'desc')
      .orderBy('s.recorded_at', 'desc')
      .orderBy('builds.number'),
  );

/** Which first steps of a workshop are behind it; each 0 or 1. */
export const stepsDone = (db: ReadDb) =>
  db.one(
    db.q.selectNoFrom(({ exists, selectFrom }) => [
      exists(selectFrom('items').select('id')).as('items'),
      exists(selectFrom('purchases').select('id')).as('purchase'),
      exists(selectFrom('models').select('id')).as('model'),
      exists(selectFrom('builds').select('id')).as('build'),
      exists(selectFrom('sessions').select('id')).as('hours'),
      exists(selectFrom('sales').select('id')).as('sale'),
    ]),
  );
