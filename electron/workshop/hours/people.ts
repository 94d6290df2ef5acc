/** Use-cases: people who help, and what their hour costs. The maker is no entry here. */
import type { Person } from '../../api/hours.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { runningClock } from '../../storage/queries/hours.ts';
import {
  peopleRows,
  personNamed,
  personRates,
  personRow,
  savePerson as writePerson,
  savePersonRate,
} from '../../storage/queries/people.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';

/** A person by id. @throws FaultError for an unknown one */
export function needPerson(db: ReadDb, id: string) {
  const person = personRow(db, id);
  if (!person) throw invalid('This person is not in the books. Choose again who worked.', 'personId');
  return person;
}

/** @throws FaultError for somebody unknown or who helps no more */
export function demandHelper(db: ReadDb, id: string): void {
  const person = needPerson(db, id);
  if (person.archived === 1)
    throw refused(`${person.name} no longer helps here. Take the name up again under Workshop, People.`);
}

function toPeople(db: ReadDb, rows: ReturnType<typeof peopleRows>): Person[] {
  const rates = personRates(db);
  return rows.map(({ id, name, note, archived }) => ({
    id,
    name,
    note,
    archived: archived === 1,
    rates: rates
      .filter((rate) => rate.person_id === id)
      .map((rate) => ({ from: rate.from_date, perHourMicro: rate.per_hour_micro })),
  }));
}

function personOf(db: ReadDb, id: string): Person {
  const person = toPeople(db, peopleRows(db, true)).find((each) => each.id === id);
  if (!person) throw missing('This person is not in the books.');
  return person;
}

/** Everybody who helps, with their rates, newest rate first. */
export const people: HandlerFor<'hours.people'> = (ctx, { includeArchived }) =>
  toPeople(ctx.db, peopleRows(ctx.db, includeArchived));

/** Adds a person, or changes one. Hours booked keep their name. */
export const savePerson: HandlerFor<'hours.savePerson'> = {
  run(ctx, { id, name, note, archived }) {
    needWorkshop(ctx.db);
    if (id !== undefined) needPerson(ctx.db, id);
    const bearer = personNamed(ctx.db, name);
    if (bearer && bearer.id !== id)
      throw invalid(`There is a ${name} already. Add a second name to tell them apart.`, 'name');
    if (archived && id !== undefined && runningClock(ctx.db, id))
      throw refused(`The clock of ${name} is running. Stop it first.`);
    const person = { id: id ?? ctx.newId(), name, note, archived: Number(archived) };
    writePerson(ctx.db, person);
    return personOf(ctx.db, person.id);
  },
};

/** Sets what an hour of a person costs from a day on; hours before it keep the rate they had. */
export const setPersonRate: HandlerFor<'hours.setPersonRate'> = {
  run(ctx, { personId, from, perHourMicro }) {
    needWorkshop(ctx.db);
    needPerson(ctx.db, personId);
    savePersonRate(ctx.db, { person_id: personId, from_date: from, per_hour_micro: perHourMicro });
    return personOf(ctx.db, personId);
  },
};
