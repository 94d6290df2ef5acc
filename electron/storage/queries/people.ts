/** Helpers beside the maker, and what their hour costs. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';

/** Everybody who helps, by name. */
export const peopleRows = (db: ReadDb, includeArchived: boolean) => {
  const all = db.q.selectFrom('people').selectAll().orderBy('archived').orderBy('name');
  return db.all(includeArchived ? all : all.where('archived', '=', 0));
};

/** One person. */
export const personRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('people').selectAll().where('id', '=', id));

/** The person who bears a name, whatever its case. */
export const personNamed = (db: ReadDb, name: string) =>
  db.one(
    db.q
      .selectFrom('people')
      .select('id')
      .where(sql<boolean>`lower(name) = ${name.toLowerCase()}`),
  );

/** What an hour of each helper costs, newest first. */
export const personRates = (db: ReadDb) =>
  db.all(db.q.selectFrom('person_rates').selectAll().orderBy('from_date', 'desc'));

/** Adds a person, or changes the one with this id. */
export function savePerson(
  db: WriteDb,
  row: { readonly id: string; readonly name: string; readonly note: string; readonly archived: number },
): void {
  const { id, ...columns } = row;
  db.run(
    db.q
      .insertInto('people')
      .values({ id, ...columns })
      .onConflict((conflict) => conflict.column('id').doUpdateSet(columns)),
  );
}

/** Sets a rate; one that began on the same day is corrected. */
export const savePersonRate = (
  db: WriteDb,
  row: { readonly person_id: string; readonly from_date: string; readonly per_hour_micro: number },
): number =>
  db.run(
    db.q
      .insertInto('person_rates')
      .values(row)
      .onConflict((conflict) =>
        conflict.columns(['person_id', 'from_date']).doUpdateSet({ per_hour_micro: row.per_hour_micro }),
      ),
  );
