/** Which lots stand in a knife, however many makings and offcuts lie between. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';

/** A movement that was not put back. */
const stands = sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`;

/**
 * A query that begins with `inside(lot_id)`: lots drawn for the knife as material, what went into the makings they came
 * out of, and what they were cut off, each once.
 */
export const lotsInside = (db: ReadDb, buildId: string) =>
  db.q.withRecursive('inside(lot_id)', (q) =>
    q
      .selectFrom('movements as m')
      .select('m.lot_id')
      .where('m.build_id', '=', buildId)
      .where('m.kind', '=', 'draw')
      .where('m.use_as', '=', 'material')
      .where(stands)
      .union(
        q
          .selectFrom('inside as n')
          .innerJoin('lots as l', 'l.id', 'n.lot_id')
          .innerJoin('movements as m', 'm.making_id', 'l.making_id')
          .select('m.lot_id')
          .where('m.kind', '=', 'intoMaking')
          .where(stands),
      )
      // An offcut has no making of its own: it is a piece of what it was cut off.
      .union(
        q
          .selectFrom('inside as n')
          .innerJoin('lots as l', 'l.id', 'n.lot_id')
          .select(sql<string>`l.parent_id`.as('lot_id'))
          .where('l.parent_id', 'is not', null),
      ),
  );
