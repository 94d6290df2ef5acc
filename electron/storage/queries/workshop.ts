/** Reading who we are: details, rates, tax places, channels, stages, and the journal. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { contains } from './like.ts';

/** The workshop's details, or undefined before it is set up. */
export const workshopRow = (db: ReadDb) =>
  db.one(db.q.selectFrom('workshop').selectAll().where('id', '=', 1));

/** Labour and overhead rates, newest first within each kind. */
export const rateRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('rates').selectAll().orderBy('kind').orderBy('from_date', 'desc'));

/** Tax places, those in use first. */
export const taxPlaceRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('tax_places').selectAll().orderBy('archived').orderBy('name').orderBy('id'));

/** One tax place. */
export const taxPlaceRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('tax_places').selectAll().where('id', '=', id));

/** Sales channels, those in use first. */
export const channelRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('channels').selectAll().orderBy('archived').orderBy('name'));

/** Stages in the order of work. */
export const stageRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('stages').selectAll().orderBy('position').orderBy('code'));

/** One stage. */
export const stageRow = (db: ReadDb, code: string) =>
  db.one(db.q.selectFrom('stages').selectAll().where('code', '=', code));

/** True once an amount in the workshop's currency stands in the books: from then on the currency is fixed. */
export function holdsMoney(db: ReadDb): boolean {
  const found = db.one(
    db.q.selectNoFrom(({ exists, selectFrom, or }) =>
      or([
        exists(selectFrom('purchases').select('id')),
        exists(selectFrom('charges').select('id')),
        exists(selectFrom('sales').select('id')),
        exists(selectFrom('model_prices').select('model_id')),
        exists(selectFrom('model_flats').select('id')),
        exists(selectFrom('model_options').select('id')),
        exists(selectFrom('deposit_policies').select('id').where('least_minor', '>', 0)),
        exists(selectFrom('orders').select('id').where('price_minor', 'is not', null)),
      ]).as('found'),
    ),
  );
  return Number(found?.found ?? 0) === 1;
}

/** What to look for in the journal. */
export interface HistoryFilter {
  readonly text: string;
  /** Commands whose words contain the text. */
  readonly commands: readonly string[];
  /** Things whose names contain the text; an entry that names one of them is found too. */
  readonly ids: readonly string[];
  readonly limit: number;
  readonly beforeSeq?: number | undefined;
}

/** Journal entries, newest first, and how many match in all. */
export function historyPage(db: ReadDb, filter: HistoryFilter) {
  const matching = () => {
    const base = db.q.selectFrom('journal');
    if (filter.text === '') return base;
    return base.where((eb) =>
      eb.or([
        contains(eb.ref('body'), filter.text),
        ...filter.ids.map((id) => contains(eb.ref('body'), JSON.stringify(id))),
        ...(filter.commands.length > 0 ? [eb('command', 'in', filter.commands)] : []),
      ]),
    );
  };
  const total = db.one(matching().select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;
  const page = matching()
    .select(['seq', 'at', 'command', 'body', 'hash'])
    .orderBy('seq', 'desc')
    .limit(filter.limit);
  const rows = db.all(filter.beforeSeq === undefined ? page : page.where('seq', '<', filter.beforeSeq));
  return { rows, total };
}

/** Numbers the next thing in a table that counts its rows. */
export const nextCount = (db: ReadDb, table: 'lots' | 'builds'): number =>
  (db.one(db.q.selectFrom(table).select(sql<number | null>`max(number)`.as('top')))?.top ?? 0) + 1;
